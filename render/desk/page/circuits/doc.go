// Package circuits is the page of igniters and cable on one output: expected ohms, current, margin.
//
// Its one rule: every figure is the model's, and one that is not given is said to be missing; no figure reads as clearance.
//
// Start with New.
package circuits
