// Package course says how an effect goes in time: its lead, and how it rises,
// holds and falls after its hit. Its one rule: it answers for a moment that is
// asked for, knows no clock, and says where a figure is its family's.
package course
