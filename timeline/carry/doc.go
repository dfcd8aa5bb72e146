// Package carry takes what was programmed to one recording of a song over to
// another one, by a map that says where the stretches of the old are in the new.
// Its one rule: everything that stood on the old recording is placed on the new
// one or set aside, and counted once; nothing vanishes, and nothing is called sure
// that the map does not prove.
package carry
