// Package beats is the strip in which the grid of the song in view is put right: what is tried, what comes of it, and the grids that may be
// meant.
//
// Its one rule: nothing is done to the show until it is kept, and then all that was tried is one step. It knows the song page by Host alone.
//
// Start with Strip.
package beats
