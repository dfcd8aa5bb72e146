// Package session is an open show without a window: the current snapshot, its
// history, the journal that outlives a crash, and the work on recordings that
// goes on beside.
//
// Its one rule: whatever an edit has done is in the journal on disk within a
// second, and the next Open of the folder brings it back as unsaved edits that
// can still be undone.
package session
