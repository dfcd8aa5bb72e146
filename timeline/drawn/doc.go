// Package drawn takes over what somebody else drew: things of a drawing become
// positions, devices, placed effects, wires and groups of a show.
//
// Its one rule: every thing of a drawing comes to something or is left out with a
// reason, and is told once; what the drawing does not say is not made up, and what
// the show holds already is changed only where that was asked for.
//
// It knows no file. Start with Drawing, and with Taking.Plan.
package drawn
