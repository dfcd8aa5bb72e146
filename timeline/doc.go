// Package timeline is the model of a show: time, timecode and beat maps; the
// stock of effects, the rig, songs with their cues, sets, venues and nights;
// edits, differences and history; and the compiler that turns a show and a
// night into a Plan.
//
// Its one rule: everything in it is a value. A Show never changes once it is
// built; an edit is a function from one Show to the next that clones only what
// it touches. The package reads no file, no clock and no random source, starts
// no goroutine and imports nothing but the standard library; ids are handed in.
//
// Start with Show, then Draft (the one way to change a Show) and Compile (the
// one way to a Plan). Every record's fields stand in one table, see Kinds: the
// show files, the edit command, the inspector and Diff all read that table.
package timeline
