// Package carrying is the page on which songs are taken over to recordings that arrived: what became of each recording, both of them with what
// is between, and every cue worst first with both sounds beside each other.
//
// Its one rule: it decides nothing about places; what it shows and what is accepted is one proposal, and the user's words are kept in that.
package carrying
