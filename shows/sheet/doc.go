// Package sheet writes what leaves the program: cue lists, listings, findings
// and whatever else is handed to a crew, an authority or another program.
//
// Its one rule: a sheet says what the Plan says. It computes no time, picks no
// order of its own and asks no clock; the same show and night always give the
// same bytes.
//
// One file holds one sheet. Start with NewCueList, or with Records for the
// records of a show as they stand.
package sheet
