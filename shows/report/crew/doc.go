// Package crew says what a crew carries in its hands: the songs of a night with
// what is commanded when, until when it stays open, what is planned up, what was
// found, and which sheets who needs.
//
// Its one rule: it is a function of plan and findings, holds no person and nothing
// of storage, and its times are whole tenths of a millisecond, so that a page that
// only compares them agrees with the calling view.
//
// Start with New.
package crew
