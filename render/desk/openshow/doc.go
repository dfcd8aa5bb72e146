// Package openshow is an open show as the window works on it: the session, which song and night are in view and how they are looked at, and
// what follows from all that, found beside the window.
//
// Its one rule: it changes the show only by its session, draws nothing and asks nobody; what goes on beside ends with it.
//
// Start with Work; View is how one song is looked at.
package openshow
