package course

import (
	"slices"
	"sort"

	"emberbeat/timeline"
)

// Window is the length in which hits are counted for density.
const Window = 10 * timeline.Second

// Classes are those that hits are counted by, in the order in which they are stacked.
var Classes = [...]timeline.Class{timeline.Cold, timeline.Hot, timeline.Spark, timeline.Shot, timeline.Paper, timeline.Cloud, timeline.Own}

// Density is how dense the hits of a song are. A cue is one hit however many units it drives, as in SongPlan.Hits.
type Density struct {
	Steps  []Step          // one for each Window from the start of the audio on; a hit before it counts in the first, one after the end in the last
	Times  []timeline.Time // of all hits, in order
	Most   int             // in any Window
	MostAt timeline.Time   // the first hit of the earliest such Window
	Gap    timeline.Time   // longest time between two hits
	Mean   float64         // hits in a Window, over the whole length of the song
}

// Step is the hits of one Window, by the place of their class in Classes.
type Step struct {
	Of  [len(Classes)]int
	All int
}

// DensityOf counts the hits of a song.
func DensityOf(p *timeline.SongPlan) *Density {
	d := &Density{Times: p.Hits()}
	d.Most, d.MostAt = timeline.Busiest(d.Times, Window)
	d.Gap, _ = timeline.LongestGap(d.Times)
	length := d.long(p.Duration)
	if length <= 0 {
		return d
	}
	d.Steps = make([]Step, (length+Window-1)/Window)
	d.Mean = float64(len(d.Times)) * Window.Seconds() / length.Seconds()
	seen := make(map[*timeline.Cue]bool, len(d.Times))
	for i := range p.Commands {
		c := &p.Commands[i]
		if seen[c.Cue] || c.Unit.Dark() {
			continue
		}
		seen[c.Cue] = true
		s := &d.Steps[min(max(int(c.Hit/Window), 0), len(d.Steps)-1)]
		s.Of[max(slices.Index(Classes[:], c.Article.Family.Class()), 0)]++
		s.All++
	}
	return d
}

// long gives how long a song is that lasts so long: at least to its last hit.
func (d *Density) long(lasts timeline.Time) timeline.Time {
	if n := len(d.Times); n > 0 {
		return max(lasts, d.Times[n-1]+1)
	}
	return lasts
}

// Around counts the hits of the Window about a time of the song, both its ends included.
func (d *Density) Around(t timeline.Time) int {
	first := sort.Search(len(d.Times), func(i int) bool { return d.Times[i] >= t-Window/2 })
	return sort.Search(len(d.Times), func(i int) bool { return d.Times[i] > t+Window/2 }) - first
}
