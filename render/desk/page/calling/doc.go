// Package calling is the view for the calling position: what comes, for how long,
// what is planned up, what was missed, where to go on.
//
// Its one rule: nothing that is done in it changes the show; what is marked by hand
// goes to a log beside it.
//
// Start with New.
package calling
