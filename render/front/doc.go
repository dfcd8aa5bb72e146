// Package front draws the stage as it is seen from the audience, or from above, in
// metres to scale, at a moment of a song: what stands, how high, what comes next,
// who is marked where.
//
// Its one rule: a picture is a function of plan and time alone; in a second nothing
// that one unit shows comes and goes more than three times in all, and no place
// flashes more than three times.
//
// Start with New and Drawer.
package front
