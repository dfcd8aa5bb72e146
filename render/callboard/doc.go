// Package callboard draws what the calling position reads, in letters that grow
// with the height of the picture.
//
// Its one rule: it shows what its moment says and nothing of its own, nothing in it
// blinks, and by night hardly any of it is bright.
package callboard
