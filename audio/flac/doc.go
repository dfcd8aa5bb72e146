// Package flac decodes FLAC (RFC 9639).
//
// Its one rule: bytes in, samples out, each of them as it was encoded or
// silent: a block whose checksum is wrong gives as much silence, so that what
// follows keeps its time.
package flac
