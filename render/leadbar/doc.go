// Package leadbar draws one cue to scale in time: its command, lead and spread, hit, how long it is open, recovery, and the next use of its unit.
//
// Its one rule: what stands in the bar is where its time is; only words give way.
//
// Start with Bar.
package leadbar
