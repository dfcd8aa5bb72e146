// Package bits is what the decoders share: bits out of bytes, a view ahead into
// a file, and words for what is wrong with one.
//
// Its one rule: it knows no format. A number that only one of them needs stands
// with that one.
package bits
