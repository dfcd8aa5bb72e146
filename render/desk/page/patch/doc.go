// Package patch is the pages of what commands go to: banks, devices and the slots of universes.
//
// Its one rule: it shows who has which address and asks for addresses; what counts as a clash is told by the model.
//
// Start with New.
package patch
