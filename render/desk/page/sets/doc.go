// Package sets is the page of running orders: the songs of a set in order, and what a change of it does to the findings.
//
// Its one rule: it changes the order and what is said of entries; what a set then plays is the plan's to say.
//
// Start with New.
package sets
