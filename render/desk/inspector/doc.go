// Package inspector is the panel in which the values of what is chosen are shown and changed, and in its place the list of every kind of record.
//
// Its one rule: it decides neither what is chosen nor what holds; the window tells it the one and the model the other.
//
// Start with New, and Draw.
package inspector
