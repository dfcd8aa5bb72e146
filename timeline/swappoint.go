package timeline

import "slices"

// SwapPoint is a place in the plan at which a supply must have been swapped:
// the next hit would take it below its reserve.
type SwapPoint struct {
	After  *Level  // last draw before it; nil before the show's first hit
	Hit    int     // number of After's cue among the hits of its song, from 1
	Before Level   // first draw after it, with what would be left without a swap
	LeftKg float64 // in the supply when it is swapped
	Free   Time    // set time from the last draw's command to the next one's
}

// SupplySwaps is how one supply runs through a plan when it is swapped for a
// full one every time its reserve would be touched.
type SupplySwaps struct {
	SupplyPlan
	Points []SwapPoint
	LeftKg float64 // at the end of the plan, in the last one used
	Short  bool    // one hit, or cues whose units come in turn, takes more than a full supply holds above its reserve
}

// SwapPoints finds where each supply must be swapped, in the rig's order. All
// that one cue draws counts as one hit, since nothing is swapped between two
// units of it; cues whose units come in turn, for their leads differ, count as one
// as well. Of songs that are alternatives the one that draws most counts.
// Masses are added in milligrams, so that the order of adding does not matter.
func (p *Plan) SwapPoints() []SupplySwaps {
	var out []SupplySwaps
	for _, sp := range p.Supplies() {
		s := SupplySwaps{SupplyPlan: sp}
		s.walk(p)
		out = append(out, s)
	}
	return out
}

// hitDraw is what one cue draws from a supply, or several whose units come in
// turn.
type hitDraw struct {
	song     int
	mg       int64
	from, to int // its levels
}

// swapWalk is a supply on its way through a plan.
type swapWalk struct {
	*SupplySwaps
	plan          *Plan
	plays         []bool // songs that count
	left, reserve int64
	full          bool  // what is in it could not be bettered: a full one, untouched
	song          int   // up to which what keys draw has been taken off
	last          int   // draw before this one; -1 = none
	holds         int64 // what can be drawn of a full one
}

// walk swaps whenever the next hit would take the supply below its reserve, and
// refills where that is planned. A full one that is still too small is kept:
// there is nothing better to put in. What keys draw is taken off where a song
// starts.
func (s *SupplySwaps) walk(p *Plan) {
	draws, plays := s.draws(p)
	w := &swapWalk{SupplySwaps: s, plan: p, plays: plays, song: -1, last: -1}
	w.holds, _ = s.Supply.usable(s.Supply.Fill * float64(s.Supply.Units))
	w.fill(Stage{nil, milligrams(s.Usable), milligrams(s.Reserve)})
	for i, d := range draws {
		w.to(d.song)
		if w.left-d.mg < w.reserve {
			if w.full {
				s.Short = true
			} else {
				s.Points = append(s.Points, s.point(p, draws, w.last, i, w.left))
				w.left, w.full = w.holds, true
				_, w.reserve = s.Supply.usable(s.Supply.Fill * float64(s.Supply.Units))
				s.Short = s.Short || w.left-d.mg < w.reserve
			}
		}
		w.left -= d.mg
		w.full = false
		w.last = i
	}
	w.to(len(p.Songs) - 1)
	s.LeftKg = kilos(w.left)
}

// fill starts anew with what a stage holds, less what keys may draw at any time.
func (w *swapWalk) fill(st Stage) {
	w.left, w.reserve = st.Usable-w.run.anyTime, st.Reserve
	w.full = st.Usable >= w.holds && w.run.anyTime == 0
}

// to goes on to a song: refills on the way, and what keys draw in each.
func (w *swapWalk) to(song int) {
	for w.song < song {
		w.song++
		if f := w.run.Stage(w.song).Refill; f != nil && f.Song == w.song-1 {
			w.fill(w.run.Stage(w.song))
		}
		if w.plays[w.song] {
			w.left -= w.run.byHand[w.song]
			w.full = w.full && w.run.byHand[w.song] == 0
		}
	}
}

func (s *SupplySwaps) point(p *Plan, draws []hitDraw, last, next int, left int64) SwapPoint {
	pt := SwapPoint{Before: s.Levels[draws[next].from], LeftKg: kilos(left)}
	pt.Before.LeftKg = kilos(left - draws[next].mg)
	if last < 0 {
		return pt
	}
	after := s.Levels[draws[last].to-1]
	after.LeftKg = kilos(left)
	pt.After, pt.Hit = &after, p.Songs[after.Song].hitNumber(after.Command.Cue)
	pt.Free = p.Songs[pt.Before.Song].At + pt.Before.At - p.Songs[after.Song].At - after.At
	return pt
}

// draws gathers the levels by cue, leaves out alternatives that draw less than
// another, and keeps the order of first commands.
func (s *SupplySwaps) draws(p *Plan) (all []hitDraw, plays []bool) {
	total := slices.Clone(s.run.byHand)
	last := map[*Cue]int{} // of the song's levels
	for i := 0; i < len(s.Levels); {
		d := hitDraw{song: s.Levels[i].Song, from: i}
		if i == 0 || s.Levels[i-1].Song != d.song {
			clear(last)
			for k := i; k < len(s.Levels) && s.Levels[k].Song == d.song; k++ {
				last[s.Levels[k].Command.Cue] = k
			}
		}
		for end := i; i <= end; i++ {
			d.mg += s.Levels[i].Command.Draw()
			end = max(end, last[s.Levels[i].Command.Cue])
		}
		d.to = i
		total[d.song] += d.mg
		all = append(all, d)
	}
	plays = Worst(p.Choices(), total)
	return slices.DeleteFunc(all, func(d hitDraw) bool { return !plays[d.song] }), plays
}

// hitNumber gives the place of a cue among the hits of its song, from 1, by
// hit time.
func (p *SongPlan) hitNumber(cue *Cue) int {
	n, hit := 1, Time(0)
	for i := range p.Commands {
		if p.Commands[i].Cue == cue {
			hit = p.Commands[i].Hit
			break
		}
	}
	seen := map[*Cue]bool{cue: true}
	for i := range p.Commands {
		if c := &p.Commands[i]; !seen[c.Cue] && c.Hit < hit {
			seen[c.Cue] = true
			n++
		}
	}
	return n
}
