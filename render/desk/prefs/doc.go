// Package prefs is what the window remembers of its user.
//
// Its one rule: nothing of it belongs to a show, and losing it costs comfort only.
package prefs
