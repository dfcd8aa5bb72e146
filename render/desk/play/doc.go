// Package play lets one song at a time be heard, and knows at every moment what of it is.
//
// Its one rule: it knows recordings and devices, and no show: which song, and from where, it is told.
//
// Start with Player; Sound is a recording as it is read beside.
package play
