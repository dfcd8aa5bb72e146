// Package snap draws a time in a song to what stands near it: the grid, the hits that are heard, marks, cues, the playhead.
//
// Its one rule: window and command line ask the same routine, and what it has caught has a name. Who asks says what may catch and how far;
// nothing is moved here.
package snap
