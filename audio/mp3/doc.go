// Package mp3 decodes MPEG audio layer III.
//
// Its one rule: bytes in, samples out, of which the first is the first that the
// musician exported. Bytes that are no frame are passed over and warned of; no
// file is too damaged to end.
package mp3
