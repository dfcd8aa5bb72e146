// Package slots is the page of the slots of a device type, and of what a show makes of those of its devices.
//
// Its one rule: it shows and asks what addresses mean; who claims which of them is told by the pages of the patch.
//
// Start with New.
package slots
