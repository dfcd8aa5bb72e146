package calling

import (
	"sort"

	"emberbeat/timeline"
)

// Listed is how many cues stand below the next one.
const Listed = 5

// DrainBars is how many bars before its command a cue's bar begins to drain, and
// Drain how long that is in a song without bars.
const (
	DrainBars = 2
	Drain     = 4 * timeline.Second
)

// Moment is what stands on the board at one time. Look fills it and keeps its
// memory.
type Moment struct {
	At     timeline.Time
	Part   int // of the board's
	Bar    int // in it, from 1; 0 without a beat map
	Bars   int // of it
	Next   int // the cue that comes next; -1 = none
	In     timeline.Time
	Drain  float64 // how much of its bar is left, 1 to 0
	After  []int   // cues after it
	Open   []int   // cues that stand open
	Arms   []ArmState
	Left   timeline.Time // of the song
	Coming int           // cues whose command is still to come
	Held   bool
	Since  timeline.Time // start of the hold
	Missed []int         // cues that are marked missed
	Entry  *Entry        // where to go on; nil = with the next song
	Note   *Note         // the next one; nil = none comes
}

// ArmState is what is planned of an arm at a moment.
type ArmState struct {
	Arm  *Arm
	Up   bool
	Span *Span         // in which it is up, or the next one; nil = none comes
	In   timeline.Time // until that ends, or begins
}

// Look fills the moment of a time.
func (b *Board) Look(m *Moment, at timeline.Time, marks *Marks) {
	*m = Moment{At: at, Next: -1, After: m.After[:0], Open: m.Open[:0], Arms: m.Arms[:0], Missed: m.Missed[:0], Left: max(0, b.Song.Duration-at)}
	b.place(m)
	next := sort.Search(len(b.Cues), func(i int) bool { return b.Cues[i].Command >= at })
	m.Coming = len(b.Cues) - next
	for i := range b.Cues {
		c := &b.Cues[i]
		if c.Command <= at && at < max(c.Hit, c.Command)+c.Open {
			m.Open = append(m.Open, i)
		}
		if marks.Missed(c) {
			m.Missed = append(m.Missed, i)
		}
	}
	if m.Held = marks.Held(); m.Held {
		m.Since = marks.Holds[len(marks.Holds)-1].From
	}
	if next < len(b.Cues) {
		m.Next, m.In = next, b.Cues[next].Command-at
		m.Drain = min(1, float64(m.In)/float64(max(b.Drains(b.Cues[next].Command), 1)))
		for i := next + 1; i < len(b.Cues) && len(m.After) < Listed; i++ {
			m.After = append(m.After, i)
		}
	}
	for i := range b.Arms {
		m.Arms = append(m.Arms, b.Arms[i].at(at))
	}
	m.Entry = b.Entry(at)
	for i := range b.Notes {
		if b.Notes[i].At >= at {
			m.Note = &b.Notes[i]
			break
		}
	}
}

// place finds section and bar.
func (b *Board) place(m *Moment) {
	for m.Part+1 < len(b.Parts) && b.Parts[m.Part+1].From <= m.At {
		m.Part++
	}
	beats, p := b.Song.Song.Beats, &b.Parts[m.Part]
	if beats.Empty() || m.At < p.From {
		return
	}
	first := beats.Named(p.From).Bar
	m.Bar = beats.Locate(m.At).Bar - first + 1
	end := beats.Named(p.To)
	if m.Bars = end.Bar - first; !end.Beat.IsZero() {
		m.Bars++
	}
}

// Drains gives how long before a command its bar begins to drain.
func (b *Board) Drains(command timeline.Time) timeline.Time {
	beats := b.Song.Song.Beats
	if beats.Empty() {
		return Drain
	}
	p := beats.Locate(command)
	return command - beats.At(timeline.BarBeat{Bar: p.Bar - DrainBars, Beat: p.Beat})
}

// at gives what is planned of an arm at a time.
func (a *Arm) at(t timeline.Time) ArmState {
	for i := range a.Spans {
		s := &a.Spans[i]
		switch {
		case t < s.Up:
			return ArmState{a, false, s, s.Up - t}
		case s.Open:
			return ArmState{a, true, s, 0}
		case t < s.Down:
			return ArmState{a, true, s, s.Down - t}
		}
	}
	return ArmState{Arm: a}
}

// Entry gives where to go on after a hold at a time: the next marker that is called
// so, else the next section; nil where neither comes.
func (b *Board) Entry(at timeline.Time) *Entry {
	for i := range b.entries {
		if e := &b.entries[i]; e.At > at {
			return e
		}
	}
	return nil
}
