// Package history is the page on which the steps of the session stand in a list: when each was made, what it changed, and where the show was saved.
//
// Its one rule: it walks along the steps that undo and redo walk, and makes none.
//
// Start with New.
package history
