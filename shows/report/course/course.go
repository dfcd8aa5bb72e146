package course

import (
	"cmp"
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Course is an evening over its time; songs that are alternatives of each other stand one after the other, as in the plan. It does not change, and belongs to one goroutine.
type Course struct {
	Plan     *timeline.Plan
	Songs    []Song   // in the order they are played
	Supplies []Supply // in the order of the rig
	Arms     []Arm    // by name
	Limit    int      // hits in a Window at which the show wants a line drawn
	Singles  int      // units that are fired for good, in all songs

	swaps [][]Swap // by supply; nil until they are asked for
}

// Place is a moment of an evening: a time of one of its songs, or of the gap after it. No length of a song has to be known for it.
type Place struct {
	Song int           // place in the order
	At   timeline.Time // from the start of its audio
}

// Before reports whether a place comes before another.
func (p Place) Before(o Place) bool { return p.Song < o.Song || p.Song == o.Song && p.At < o.At }

// Song is a song's place in an evening.
type Song struct {
	*timeline.PlanSong
	*Density
	Long  timeline.Time // as long as it lasts, and at least to its last hit
	Shots []Shot        // by time
}

// Shot is a hit that uses up what it fires.
type Shot struct {
	At     timeline.Time // from the start of the song's audio
	Family timeline.Family
	Units  int
}

// Maker makes courses and remembers what rests on a song alone: the same songs in another order cost next to nothing. It is not safe for concurrent
// use. The zero value is ready.
type Maker struct {
	songs map[*timeline.SongPlan]*facts
	last  *Course
}

// facts is what a song comes to by itself.
type facts struct {
	density *Density
	shots   []Shot
	singles int
	drawn   []int64  // mg from each supply
	draws   [][]draw // and over the song's time
}

// Of gives the course of a plan; of the same plan the very same again.
func (m *Maker) Of(p *timeline.Plan) *Course {
	if m.last != nil && m.last.Plan == p {
		return m.last
	}
	feeds := timeline.FeedsOf(p.Show.Rig, p.Units)
	kept := make(map[*timeline.SongPlan]*facts, len(p.Songs))
	c := &Course{Plan: p, Songs: make([]Song, len(p.Songs)), Limit: int(rule.HitLimit.Plain(p.Show, nil))}
	of := make([]*facts, len(p.Songs))
	for i := range p.Songs {
		ps := &p.Songs[i]
		f := m.songs[ps.SongPlan]
		if f == nil {
			f = factsOf(ps.SongPlan, feeds)
		}
		kept[ps.SongPlan], of[i] = f, f
		c.Songs[i] = Song{PlanSong: ps, Density: f.density, Long: f.density.long(ps.Duration), Shots: f.shots}
		c.Singles += f.singles
	}
	c.supplies(feeds, of)
	c.arms()
	m.songs, m.last = kept, c
	return c
}

func factsOf(p *timeline.SongPlan, feeds *timeline.Feeds) *facts {
	f := &facts{density: DensityOf(p), drawn: feeds.Drawn(p), draws: drawsOf(p, feeds)}
	at := map[*timeline.Cue]int{}
	for i := range p.Commands {
		c := &p.Commands[i]
		if !c.Article.SingleUse {
			continue
		}
		f.singles++
		k, known := at[c.Cue]
		if !known {
			k = len(f.shots)
			at[c.Cue] = k
			f.shots = append(f.shots, Shot{At: c.Hit, Family: c.Article.Family})
		}
		f.shots[k].Units++
	}
	slices.SortStableFunc(f.shots, func(a, b Shot) int { return cmp.Compare(a.At, b.At) })
	return f
}

// Reading is what an evening comes to at one moment.
type Reading struct {
	Place
	Plays bool      // the song is not over
	Hits  int       // in the Window about the moment, within the song
	Open  int       // outputs
	Fired int       // units, for good, up to here
	Left  []float64 // kg of each supply
	Armed []string  // kinds of devices whose arms are up as planned
}

// At reads an evening at a place, which must be one of its songs.
func (c *Course) At(p Place) Reading {
	r := Reading{Place: p}
	for i := range c.Songs[:p.Song+1] {
		for _, s := range c.Songs[i].Shots {
			if i < p.Song || s.At <= p.At {
				r.Fired += s.Units
			}
		}
	}
	s := &c.Songs[p.Song]
	if r.Plays = p.At < s.Long; r.Plays {
		r.Hits = s.Around(p.At)
	}
	for i := range s.Commands {
		if x := &s.Commands[i]; x.At <= p.At && p.At < x.End() {
			r.Open++
		}
	}
	for i := range c.Supplies {
		r.Left = append(r.Left, c.Supplies[i].LeftAt(p))
	}
	for i := range c.Arms {
		if c.Arms[i].UpAt(p) {
			r.Armed = append(r.Armed, c.Arms[i].Name)
		}
	}
	return r
}
