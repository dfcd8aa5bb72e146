// Package nights is the page of one night: its date, set and venue, and all that is otherwise there than on tour.
//
// Its one rule: it changes nothing but nights; what a night says is listed as its operations word it.
//
// Start with New.
package nights
