// Package ear listens to a recording and says where things happen in it:
// onsets with the instant of their attack, tempo, beats, bars, sections,
// loudness, and how sure it is of each.
//
// Its one rule: what it gives is a suggestion with a stated doubt. It never
// passes a guess off as knowledge, the user's word (Locks) always stands above
// what was heard, and the same file gives the same answer on every machine.
package ear

import (
	"context"

	"emberbeat/audio"
	"emberbeat/timeline"
)

// Version changes whenever the ear may hear something else in the same file:
// what is cached under another version is stale.
const Version = 3

// Options steer an analysis. The zero value listens without any help.
type Options struct {
	// Locks is what the user has said; it is never overruled.
	Locks Locks
	// Progress, if not nil, hears now and then what part of the work is done,
	// 0 to 1. It is called from the goroutine that called Analyse.
	Progress func(done float64)
}

// Locks is what the user knows about a song. Zero fields are not said.
type Locks struct {
	BPM    float64        // beats a minute; a tempo within 4 % of it is refined by ear
	BarOne *timeline.Time // where a bar begins, from the song's start
	Metre  timeline.Metre // e.g. 3/4
	Taps   []timeline.Time
}

// Analysis is what was heard. Times are seconds from the first sample.
type Analysis struct {
	Duration float64 // s
	Rate     int     // samples a second of the recording
	BPM      float64 // of the longest part; 0 where no beat was found
	Steady   bool    // one exact grid carries the whole song
	Metre    timeline.Metre
	Parts    []Part
	// Beats are felt beats: dotted quarters in 6/8, quarters in 3/4.
	Beats     []float64
	Downbeats []float64 // the beats on which a bar begins
	Onsets    []float64
	Hits      []Hit
	Sections  []Section
	Loudness  Loudness
	// Energy is short-term loudness mapped to 0..1, EnergyRate values a second.
	Energy     []float32
	Confidence Confidence
	// Alternatives are other readings of the same pulse, likeliest first.
	Alternatives []Alternative
}

// EnergyRate is the number of Energy values a second.
const EnergyRate = 10

// Part is a stretch with one way of keeping time.
type Part struct {
	From, To float64
	BPM      float64 // felt beats a minute; of a free part the median
	Offset   float64 // of a steady part: the time of one beat
	Steady   bool    // beats are Offset + k·60/BPM exactly
	Doubt    float64 // 0 sure .. 1 no idea
}

// Hit is an onset as a programmer wants it.
type Hit struct {
	At       float64 // s, attack
	Sigma    float64 // s, uncertainty of At
	Strength float64 // 0..1, rank within the song
	Label    Label
	// Probability of each label, in the order of Labels.
	Probability [labelCount]float64
	Band        string // "low", "mid" or "high": where it is strongest
	Accent      bool   // among the strongest, in most bands at once
	Stop        bool   // the sound breaks off shortly after
	AfterRest   bool   // first hit after a silence
}

// Section is a stretch of bars that belong together.
type Section struct {
	From, To float64
	Label    string  // A, B, C…: like stretches share a letter
	Energy   float64 // 0..1, rank of loudness among the sections
}

// Loudness holds the measures of BS.1770 and EBU Tech 3342; NaN-free: silence reads -70.
type Loudness struct {
	Integrated float64 // LUFS
	Range      float64 // LU
	Peak       float64 // dBFS, highest sample
}

// Confidence is how sure the ear is, each 0..1.
type Confidence struct {
	Tempo, Beats, Downbeats float64
}

// Alternative is another way to count the same pulse: what a person who says
// "half as fast" means.
type Alternative struct {
	Name  string // "half", "double", "triple", "two thirds"…
	BPM   float64
	Share float64 // how likely, 0..1
}

// Analyse reads src to its end and says what it heard. It holds features, not
// sound: under half a megabyte a minute. It stops with ctx.Err() soon after ctx
// ends. Any sound gives an Analysis; errors are those of reading. src stays open.
func Analyse(ctx context.Context, src audio.Source, o Options) (*Analysis, error) {
	f, err := listen(ctx, src, o.Progress)
	if err != nil {
		return nil, err
	}
	// What is left takes a thousandth of the song's length. Whoever cancels
	// does not wait for it: it ends by itself.
	done := make(chan *Analysis, 1)
	go func() { done <- understand(f, o) }()
	var a *Analysis
	select {
	case a = <-done:
	case <-ctx.Done():
	}
	if err := ctx.Err(); err != nil { // also where both have come
		return nil, err
	}
	if o.Progress != nil {
		o.Progress(1)
	}
	return a, nil
}
