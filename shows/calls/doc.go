// Package calls is the log of what was marked in the calling view: holds, releases
// and missed cues, a file for each night beside the show.
//
// Its one rule: lines are added and never changed, and nothing in it is part of the
// show.
package calls
