// Package song is the page of a song: its picture, what pointer and keys do there, the set list beside it, the stage, and what is heard.
//
// Its one rule: it knows the frame around it by Host alone, and changes the show only through that, a gesture as one step.
//
// Start with Page.
package song
