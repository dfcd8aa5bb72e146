// Package fromfile reads the files that forms of the window name: drawings of others, and pictures that lie under stage plans.
//
// Its one rule: a file is read once for as long as it is the same, however often a form asks while somebody types; nothing is written but a
// picture that a venue was given.
package fromfile
