// Package ltc writes and reads linear timecode, the sound of SMPTE ST 12-1.
//
// Its one rule: the sound holds timecode and nothing else. A Stripe has labels,
// a level and the places where its runs begin; there is no way to put a cue, a
// command or any other signal into it, and user bits stay zero.
//
// Start with Stripe, which writes, and Reader, which reads.
package ltc
