// Package phrases is the page of the figures that were run over groups, of all songs.
//
// Its one rule: it lists what a phrase was made with and makes no cue; phrases are run, taken out and gone to by the commands it names.
//
// Start with New.
package phrases
