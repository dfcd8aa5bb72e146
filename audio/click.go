package audio

import (
	"math"
	"sort"
)

// Click is a tick of a metronome.
type Click struct {
	Frame  int64 // of the song
	Accent bool  // the first beat of a bar
	Cue    bool  // no beat, but a cue
}

// clicker sounds clicks.
type clicker struct {
	plain, accent, cue []float64
	ringing            [6]struct {
		sound []float64 // what is left of it
		wait  int       // frames before it begins
	}
}

// Sounds of clicks: short sines that die away.
const (
	clickHz     = 1000
	accentHz    = 1500
	cueHz       = 2600  // apart from both, so that a tick on a beat is heard beside its click
	clickLength = 0.025 // seconds
)

func newClicker(rate int) clicker {
	return clicker{plain: clickSound(clickHz, rate), accent: clickSound(accentHz, rate), cue: clickSound(cueHz, rate)}
}

// clickSound is one click at full scale.
func clickSound(hz float64, rate int) []float64 {
	list := make([]float64, int(clickLength*float64(rate)))
	for i := range list {
		s := float64(i) / float64(rate)
		list[i] = math.Sin(2*math.Pi*hz*s) * math.Exp(-s*5/clickLength)
	}
	return list
}

// start begins the clicks that fall into the n device frames behind a cursor.
func (c *clicker) start(clicks []Click, at cursor, n int64, r ratio) {
	if len(clicks) == 0 {
		return
	}
	i := sort.Search(len(clicks), func(i int) bool {
		f := clicks[i].Frame
		return f > at.pos || f == at.pos && at.frac == 0
	})
	for ; i < len(clicks); i++ {
		wait := at.until(clicks[i].Frame, r)
		if wait >= n {
			return
		}
		c.add(&clicks[i], int(wait))
	}
}

// add lets a click ring, in the place of the oldest if there are too many.
func (c *clicker) add(k *Click, wait int) {
	oldest := 0
	for i := range c.ringing {
		if len(c.ringing[i].sound) < len(c.ringing[oldest].sound) {
			oldest = i
		}
	}
	sound := c.plain
	switch {
	case k.Cue:
		sound = c.cue
	case k.Accent:
		sound = c.accent
	}
	c.ringing[oldest].sound, c.ringing[oldest].wait = sound, wait
}

// ring adds the clicks that ring.
func (c *clicker) ring(samples [][2]float64, factor float64) {
	for i := range c.ringing {
		k := &c.ringing[i]
		skip := min(k.wait, len(samples))
		k.wait -= skip
		n := min(len(k.sound), len(samples)-skip)
		for j, v := range k.sound[:n] {
			samples[skip+j][0] += v * factor
			samples[skip+j][1] += v * factor
		}
		k.sound = k.sound[n:]
	}
}
