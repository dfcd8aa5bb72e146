// Package calling says what the calling position reads at a moment of a song: where
// it is, what comes, for how long, what is planned up, what was missed, where to go
// on. Its one rule: it is a function of plan, moment and what was marked by hand,
// and knows no clock and no rig.
package calling
