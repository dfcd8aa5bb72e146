package timeline

// Busiest is the largest number of hits (sorted times) in any window of the
// given length, both ends of the window included, and the first hit of the
// earliest such window.
func Busiest(hits []Time, window Time) (count int, from Time) {
	start := 0
	for i, t := range hits {
		for t-hits[start] > window {
			start++
		}
		if n := i - start + 1; n > count {
			count, from = n, hits[start]
		}
	}
	return count, from
}

// LongestGap is the longest time between neighbouring hits (sorted times), and
// the hit before it. With fewer than two hits it is 0.
func LongestGap(hits []Time) (gap, after Time) {
	for i := 1; i < len(hits); i++ {
		if d := hits[i] - hits[i-1]; d > gap {
			gap, after = d, hits[i-1]
		}
	}
	return gap, after
}

// LongestGap is the longest time between hits of the song that follow each other,
// and the hit before it: that of Hits. All commands of a cue have its hit, and
// counting it several times opens no gap.
func (p *SongPlan) LongestGap() (gap, after Time) {
	hits := make([]Time, 0, len(p.Commands))
	for i := range p.Commands {
		if c := &p.Commands[i]; !c.Unit.Dark() {
			hits = append(hits, c.Hit)
		}
	}
	sortTimes(hits)
	return LongestGap(hits)
}

// MostOpen is the largest number of outputs open at once, from exact command
// to exact end (the end excluded), and the first time it is reached.
func (p *SongPlan) MostOpen() (count int, at Time) {
	ends := make([]Time, len(p.Commands))
	for i := range p.Commands {
		ends[i] = p.Commands[i].End()
	}
	sortTimes(ends)
	closed := 0
	for i := range p.Commands {
		for closed < len(ends) && ends[closed] <= p.Commands[i].At {
			closed++
		}
		if n := i + 1 - closed; n > count {
			count, at = n, p.Commands[i].At
		}
	}
	return count, at
}

// OnGrid counts the hits (sorted times) that lie within tolerance of a
// multiple of div beats.
func OnGrid(hits []Time, beats *BeatMap, div Rat, tolerance Time) int {
	n := 0
	for _, t := range hits {
		if d := beats.At(beats.Snap(t, div)) - t; d <= tolerance && -d <= tolerance {
			n++
		}
	}
	return n
}

// Standing is an output or window that stays open over an instant: what must
// be closed by hand if timecode stops there.
type Standing struct {
	Command *Command // or nil
	Window  *Window  // or nil
}

// StandsOpen lists what is open at a song time: commands whose closing is
// still to come (not those of igniters, which close by themselves) and windows.
func (p *SongPlan) StandsOpen(at Time) []Standing {
	var open []Standing
	for i := range p.Commands {
		c := &p.Commands[i]
		if c.At > at {
			break
		}
		if at < c.End() && c.Article.Control != IgniterControl {
			open = append(open, Standing{Command: c})
		}
	}
	for i := range p.Windows {
		w := &p.Windows[i]
		if w.Up <= at && (!w.Closes() || at < w.Down) {
			open = append(open, Standing{Window: w})
		}
	}
	return open
}
