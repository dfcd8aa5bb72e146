// Package front draws the stage as it is seen from the audience, in metres to
// scale, at a moment of a song: what stands, how high, what comes next, who is
// marked where.
//
// Its one rule: a picture is a function of plan and time alone, and no place of it
// changes its brightness more than three times a second.
//
// Start with New and Drawer.
package front
