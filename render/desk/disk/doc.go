// Package disk is what a browser of files shows of the computer: folders, and those
// files that are wanted.
//
// Its one rule: it looks and changes nothing.
//
// Start with Disk.
package disk
