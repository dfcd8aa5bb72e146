// Package changed says what becomes another when one show or plan takes the
// place of another.
//
// Its one rule: both are given; nothing is remembered, and what is the same is
// not mentioned.
package changed
