// Package stageplan is the page of the stage from above, to scale: positions, audience lines, marks and clear zones are dragged, typed and
// measured there, and needed distances stand beside planned ones.
//
// Its one rule: which distances are needed and whether they are kept is asked of timeline/rule; nothing of it is worked out here.
//
// Start with New.
package stageplan
