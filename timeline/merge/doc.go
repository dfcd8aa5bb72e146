// Package merge joins two edits of one show, made apart from each other, with
// the show that both started from.
//
// Its one rule: nothing that either of the two did is dropped without a word. What
// they did to different things is done; what they did to the same thing in two
// ways is a Conflict, whose choices are changes of the merged show. The merged
// show can be stored and opened whatever is still undecided in it.
package merge
