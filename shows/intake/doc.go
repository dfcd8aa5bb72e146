// Package intake reads what comes from other programs in open standards:
// Standard MIDI Files, Broadcast WAV, linear timecode, GDTF, tables of
// comma-separated values.
//
// Its one rule: a file is material, never an order. Reading allocates nothing
// by a size that a file claims, ends on every input, and changes no show; what
// was found becomes an Edit that can be looked at before it is made.
package intake
