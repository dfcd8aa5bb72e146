// Package stripe makes files that give another program the time: linear timecode
// and ticks as sound, tempo as MIDI.
//
// Its one rule: labels and nothing else. No file holds a command.
package stripe
