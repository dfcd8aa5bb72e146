// Package grid puts the beat map of a song right where it was heard or typed wrong.
//
// Its one rule: sound never moves. A correction says where beats are and what they are called, and of each cue, before anything is done,
// whether it goes with its beat, and by how much, or keeps its instant, and why.
//
// Start with Correction and Correct; Sits says how well a grid lies on what was heard, Readings which other grids may be meant.
package grid
