// Package merged says what two edits of a show come to when they are joined.
//
// Its one rule: what is wrong with the joined show and with neither of the two is
// named, for neither of the two people has seen it.
package merged
