// Package export is what can leave the program from the window: what there is, what is asked for, and how it is written.
//
// Its one rule: a file is written whole or not at all, and holds what the sheets and stripes of the reports make, and nothing else.
//
// Start with Ask; Items lists what it can be about.
package export
