// Package wiring is the page of outputs: what hangs on every output of every bank and head of every device, and what is spare.
//
// Its one rule: it shows wires and asks for wires; whether an output can drive what hangs on it is told by the model and its tables.
//
// Start with New.
package wiring
