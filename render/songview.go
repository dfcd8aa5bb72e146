package render

import (
	"image"

	"emberbeat/timeline"
)

// Column sums up the sound under one column of a picture. Its fields are those of the peaks that the audio room makes.
type Column struct {
	Min, Max       int16  // lowest and highest sample, full scale 32767
	RMS            uint16 // root of the mean square, full scale 32768
	Low, Mid, High uint8  // level of three bands in quarter decibels, 255 full scale, 0 silence
}

// Peaks gives the sound of a song.
type Peaks interface {
	// Columns fills out with the sound of len(out) equal parts of the time from..to, counted from the start of the song's audio. What
	// lies outside the sound is the zero Column.
	Columns(from, to timeline.Time, out []Column)
}

// Instant is a song time that may be missing.
type Instant struct {
	At timeline.Time
	On bool
}

// Span is a stretch of song time; it is missing when it is empty.
type Span struct{ From, To timeline.Time }

// Snap is what a drag has caught.
type Snap struct {
	Instant
	Name string
}

// SongView says which part of which song is shown, where and how. Drawing reads it and keeps nothing of it.
type SongView struct {
	Data  *SongData
	Area  image.Rectangle // in device pixels
	Show  Span            // song time at the left and right end of the time axis; empty = the whole song
	Peaks Peaks           // nil = there is no sound to draw
	Quiet string          // why Peaks is nil, as in "audio file is missing"
	Marks *Marks          // nil = not checked

	LaneHeight int // logical pixels, 0 = LaneHeight, or with Fit what is free
	Scroll     int // device pixels by which the lanes are moved up
	Focus      timeline.ID
	Armed      timeline.ID          // lane that taps go to, "" = the one in focus
	Hidden     map[timeline.ID]bool // lanes that the stage leaves out
	Only       map[timeline.ID]bool // lanes that it shows alone, where there are any
	Gain       int                  // dB by which the waveform is drawn larger
	Selected   map[timeline.ID]bool // cues
	Dragged    map[timeline.ID]bool // cues that follow the pointer: they are drawn in any crowd
	Loop       Span

	Window timeline.Time // length of the density window, 0 = ten seconds
	Limit  int           // hits in Window that should not be exceeded, 0 = none given

	Transport int        // logical height left free at the top for the transport
	Strip     bool       // the whole song above the part shown
	Beats     *BeatStrip // the grid is put right; nil = it is not
	Fit       bool       // as a page of the window: no title, rows share the free height, lanes have switches
	Under     int        // device pixels at the foot of the area that something else lies over, with Fit: rows keep their places for it
	List      bool       // findings as a list below, and the legend, instead of one line
	Foot      string

	Playhead Instant // where editing stands
	Heard    Instant // where playback is
	Hover    Instant // where the pointer is
	Snap     Snap
	Hits     *HeardHits // what is snapped to of what is heard; nil = nothing of it
}

// Sizes that a SongView falls back on.
const (
	LaneHeight    = 36
	MinLaneHeight = 20
	DensityWindow = 10 * timeline.Second
)

func (v *SongView) laneHeight() int {
	if v.LaneHeight == 0 {
		return LaneHeight
	}
	return max(v.LaneHeight, MinLaneHeight)
}

func (v *SongView) window() timeline.Time {
	if v.Window <= 0 {
		return DensityWindow
	}
	return v.Window
}

// shown gives the part of the song on the time axis, never empty.
func (v *SongView) shown() Span {
	if v.Show.To > v.Show.From {
		return v.Show
	}
	return v.Data.Whole()
}
