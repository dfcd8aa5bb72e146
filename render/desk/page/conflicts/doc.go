// Package conflicts is the page of what two edits of the show did in two ways, and nobody has decided yet.
//
// Its one rule: no choice is made before it was said what it does to the findings.
package conflicts
