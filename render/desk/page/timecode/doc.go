// Package timecode is the page of the timecode that each song of the show claims, on the tour or the night in view.
//
// Its one rule: it shows where songs stand and changes nothing; a song's start and pre-roll are changed in the inspector, a night's on the
// page of nights.
//
// Start with New.
package timecode
