package course

import (
	"sort"

	"emberbeat/timeline"
)

// Supply is how one supply runs through an evening as it is planned: with the refills that surely happen and with no other, in the worst case, as
// rules and load plan count it. Masses are kg, and estimates.
type Supply struct {
	Of      *timeline.Supply
	Name    string
	Full    float64        // the most that it holds, to be drawn, at any time of the evening
	Usable  float64        // at the start
	Used    float64        // over the whole evening
	Left    float64        // at its end; below nothing where more is asked for than there is
	Curve   []Level        // by time: what is left from there on
	Stages  []Stage        // one from the start on, and one from each refill
	Low     *Shortfall     // the first time it falls below its reserve, nil for never
	Empty   *Shortfall     // and below nothing
	Weighed bool           // what it holds was weighed
	Class   timeline.Class // of the first that it feeds; "" = nothing that is known
}

// Level is what a supply holds from a moment on.
type Level struct {
	Place
	Kg float64
}

// Stage is the time from the start, or from a refill, to the next refill.
type Stage struct {
	From    Place
	Reserve float64
	Refill  *timeline.PlannedRefill // that begins it, nil at the start
	Gap     timeline.Time           // from there to the start of the next song: a changeover takes Refill.Needs of it
}

// Swap is a place at which a supply must have been swapped where no refill is planned.
type Swap struct {
	Place               // of the last command before it
	Free  timeline.Time // from that to the next command
	Left  float64
}

// Shortfall is where a supply runs short.
type Shortfall struct {
	Place
	Command *timeline.Command // that there is too little for; nil where keys of the operator's plan alone may take it
	Hit, Of int               // its hit among those of the song, from 1
}

// draw is what a song has taken from a supply up to a time.
type draw struct {
	at timeline.Time
	mg int64
}

// drawStep is how near draws stand that are kept as one point of a curve.
const drawStep = timeline.Second

// drawsOf adds up what a song takes from each supply over its time.
func drawsOf(p *timeline.SongPlan, feeds *timeline.Feeds) [][]draw {
	all := make([][]draw, len(feeds.Supplies))
	for i := range p.Commands {
		c := &p.Commands[i]
		for _, s := range feeds.Of(c.Unit) {
			if !feeds.Supplies[s].Holds(c.Article) {
				continue
			}
			d := draw{c.At, c.Draw()}
			list := all[s]
			n := len(list)
			if n > 0 {
				d.mg += list[n-1].mg
			}
			if n > 1 && c.At-list[n-2].at < drawStep {
				list[n-1] = d
			} else {
				list = append(list, d)
			}
			all[s] = list
		}
	}
	return all
}

// Swaps gives where a supply, by its place, must have been swapped for a full one. They are worked out when they are asked for first, over all that
// the evening draws: the only part of a course that is not worked out song by song.
func (c *Course) Swaps(supply int) []Swap {
	if c.swaps == nil {
		for _, s := range c.Plan.SwapPoints() {
			list := []Swap{}
			for _, pt := range s.Points {
				w := Swap{Left: pt.LeftKg, Free: pt.Free}
				if pt.After != nil {
					w.Place = Place{pt.After.Song, pt.After.At}
				}
				list = append(list, w)
			}
			c.swaps = append(c.swaps, list)
		}
	}
	return c.swaps[supply]
}

// firstOf gives when the first of a song's draws comes, 0 where there is none.
func firstOf(list []draw) timeline.Time {
	if len(list) == 0 {
		return 0
	}
	return list[0].at
}

func kilos(mg int64) float64 { return float64(mg) / 1e6 }

// supplies joins what songs draw with what refills bring.
func (c *Course) supplies(feeds *timeline.Feeds, of []*facts) {
	if len(feeds.Supplies) == 0 {
		return
	}
	for i, s := range feeds.Supplies {
		drawn := make([]int64, len(of))
		for j, f := range of {
			drawn[j] = f.drawn[i]
		}
		run := c.Plan.Run(s, drawn)
		x := Supply{Of: s, Name: c.Plan.Called(s), Used: kilos(run.Used())}
		_, from := c.Plan.FillOf(s)
		x.Weighed, x.Class = from.Weighed, c.classOf(s)
		first := run.Stage(0)
		x.Usable, x.Full = kilos(first.Usable), kilos(first.Usable)
		x.Stages = []Stage{{Reserve: kilos(first.Reserve)}}
		last := first.Refill
		for j := range c.Songs {
			stage := run.Stage(j)
			if stage.Refill != last {
				last = stage.Refill
				after := &c.Songs[stage.Refill.Song]
				at := Place{stage.Refill.Song, after.Long}
				x.Full = max(x.Full, kilos(stage.Usable))
				x.Stages = append(x.Stages, Stage{From: at, Reserve: kilos(stage.Reserve), Refill: stage.Refill, Gap: after.Entry.Gap})
				x.Curve = append(x.Curve, Level{at, kilos(stage.Usable)})
			}
			before := run.Before(j)
			x.Curve = append(x.Curve, Level{Place{j, min(0, firstOf(of[j].draws[i]))}, kilos(before)})
			for _, d := range of[j].draws[i] {
				x.Curve = append(x.Curve, Level{Place{j, d.at}, kilos(before - d.mg)})
			}
			if x.Low == nil && before-drawn[j] < stage.Reserve {
				x.Low = c.short(feeds, i, j, before, stage.Reserve)
			}
			if x.Empty == nil && before-drawn[j] < 0 {
				x.Empty = c.short(feeds, i, j, before, 0)
			}
		}
		_, left := run.End()
		x.Left = kilos(left)
		c.Supplies = append(c.Supplies, x)
	}
}

// classOf gives the class of the first placed effect that a supply feeds.
func (c *Course) classOf(s *timeline.Supply) timeline.Class {
	for _, id := range s.Feeds {
		if u := c.Plan.Units.Of(id); u != nil && u.Article != nil {
			return u.Article.Family.Class()
		}
	}
	return ""
}

// short finds the command of song j that takes a supply below a limit, with so much left before the song.
func (c *Course) short(feeds *timeline.Feeds, supply, j int, left, limit int64) *Shortfall {
	s := &c.Songs[j]
	f := &Shortfall{Place: Place{Song: j}, Of: len(s.Times)}
	if left < limit {
		return f
	}
	for i := range s.Commands {
		x := &s.Commands[i]
		if !feeds.Feed(supply, x) {
			continue
		}
		if left -= x.Draw(); left < limit {
			f.At, f.Command = x.At, x
			f.Hit = 1 + sort.Search(len(s.Times), func(k int) bool { return s.Times[k] >= x.Hit })
			return f
		}
	}
	return nil
}

// LeftAt gives what a supply holds at a place.
func (s *Supply) LeftAt(p Place) float64 {
	n := sort.Search(len(s.Curve), func(i int) bool { return p.Before(s.Curve[i].Place) })
	if n == 0 {
		return s.Usable
	}
	return s.Curve[n-1].Kg
}

// Trouble orders supplies, worst first: one that runs empty, one that falls below its reserve, then by how much of it is left at the end.
func (s *Supply) Trouble() float64 {
	share := 1.0
	if s.Full > 0 {
		share = s.Left / s.Full
	}
	switch {
	case s.Empty != nil:
		return share - 20
	case s.Low != nil:
		return share - 10
	}
	return share
}
