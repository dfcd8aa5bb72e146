// Package given tells where a value comes from that holds for a cue or a lane: from itself, its lane, the article, the rig or a swap of the night; and
// what a cue comes to on its units.
//
// Its one rule: the plan says what holds; nothing is planned here a second time.
//
// Start with Of, and UseOf.
package given
