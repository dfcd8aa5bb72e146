// Package mvr reads drawings of DIN SPEC 15801 (MVR): what stands where, on which
// layer and in which groups, with the devices and addresses that it names.
//
// Its one rule: a file is material, never an order. It is looked at whole before
// anything of it is unpacked, reading ends on every input, changes no show, and what
// a drawing does not say stays unknown with a reason.
//
// Source of names, units and meanings: the standard's text as its authors publish
// it; what is from memory says so. Start with Read.
package mvr
