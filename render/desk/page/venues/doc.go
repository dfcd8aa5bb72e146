// Package venues is the page of places: what is known of one, what is banned there, and which distances its rule set and permit ask for.
//
// Its one rule: it assumes nothing about a place; what is not written down is not given.
//
// Start with New.
package venues
