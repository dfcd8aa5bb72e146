// Package score holds the songs of the example show as readable text (folder
// songs) and plays them: a small synthesiser turns the text into stereo
// samples, and the same text gives the truth about the song, exact to the
// tick: tempo, bars, sections, drum hits and stops.
//
// Its one rule: everything comes from the text. The same text gives the same
// samples and the same truth on every run; the only noise is a seeded
// generator of our own. Nothing here reads a clock or a file.
//
// Start with Songs for the truth and Render for the sound.
package score
