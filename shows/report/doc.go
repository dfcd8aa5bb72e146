// Package report says what a night plays: cue lists and what callers, spotters
// and inspectors read beside them, findings, and records as they stand.
//
// Its one rule: a report says what the Plan says. It computes no time, picks no
// order of its own and asks no clock; the same show and night always give the
// same values, under JSON keys that only grow. How a page looks it does not
// know.
//
// Rooms beside it say what is loaded, what a permit asks, what a night comes to
// and what changed; they share the heads, filters, lines and names of this one.
package report
