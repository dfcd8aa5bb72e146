// Package letter has the fonts that everything is set in, and says which of them
// has a letter.
//
// Its one rule: window, pictures and pages ask here, so that they set a name alike.
package letter
