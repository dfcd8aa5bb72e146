// Package course is how an evening runs over its time: how dense the songs are, how supplies empty and where they have to be swapped, what is
// fired once, when arms are up.
//
// Its one rule: it puts what the plan answers onto one line of time; it judges none of it, and knows nothing of how it is drawn.
//
// Start with Maker.
package course
