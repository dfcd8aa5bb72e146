// Package keymap says which key runs which command.
//
// Its one rule: a key belongs to one command at most; whoever is given it last has
// it, and what the user's file says of a command stands above the table.
//
// Start with Load and Map.Of.
package keymap
