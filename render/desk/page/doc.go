// Package page is what a page of the book and the shell around it know of each other: what a page is, what it needs of the shell, and the
// words that all pages share.
//
// Its one rule: it holds nothing that only one page needs, and nothing of how the shell does what it is asked for.
//
// Start with Family, which a room below gives for a Host.
package page
