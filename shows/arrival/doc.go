// Package arrival works out what recordings that arrive are to an open show: which
// song each is of, where the stretches of its old recording are in it, and what
// carrying the song over comes to. Its one rule: recordings are known by what is heard
// in them and never by their names, and nothing is done that nobody asked for.
package arrival
