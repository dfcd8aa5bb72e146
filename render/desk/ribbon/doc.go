// Package ribbon is the row above every page of the window: which view is seen, the songs of the running order, and a way to add one.
//
// Its one rule: it knows the frame around it by an interface, and changes nothing but the order of the set.
//
// Start with New.
package ribbon
