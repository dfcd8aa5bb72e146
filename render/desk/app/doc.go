// Package app is the window without its engine: what it holds, what it does on each command, and the scene it shows. It takes keys,
// pointer and files as a widget.Input and gives scenes, so that all of it can be used and tested without a screen.
//
// Its one rule: every change of the show goes through a command of the one table and through the session, as one step that undo takes
// back; what is drawn is derived from the snapshot and the view, and never written to.
//
// Start with App and its Frame.
package app
