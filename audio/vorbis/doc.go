// Package vorbis decodes Vorbis I.
//
// Its one rule: packets in, samples out. What the packets came in, and at what
// time they are heard, it does not know.
package vorbis
