// Package permit says what an authority asks of a night.
//
// Its one rule: what is not known is asked for by name and never filled in.
package permit
