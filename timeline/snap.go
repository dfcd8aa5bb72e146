package timeline

// Snap returns the place nearest in time to t among the starts of bars and the
// multiples of div beats counted from them; of two equally near, the later.
// A div that is not positive leaves only the starts of bars.
func (m *BeatMap) Snap(t Time, div Rat) BarBeat {
	if m.Empty() {
		return BarBeat{Bar: 1}
	}
	bar := m.barAt(t)
	best := BarBeat{Bar: bar}
	consider := func(p BarBeat) {
		if m.distance(p, t) <= m.distance(best, t) {
			best = p
		}
	}
	if div.num > 0 {
		end := NewRat(int64(m.MetreAt(bar).Num), 1)
		k := m.stretchAt(t).steps(t, bar, div)
		for n := max(0, k-1); n <= k+1; n++ {
			if beat := div.Mul(NewRat(n, 1)); beat.Cmp(end) < 0 {
				consider(BarBeat{bar, beat})
			}
		}
	}
	consider(BarBeat{Bar: bar + 1})
	return best
}

// barAt returns the bar that holds t: the last that starts at or before it.
func (m *BeatMap) barAt(t Time) int {
	bar := m.Locate(t).Bar
	if m.BarStart(bar) > t {
		bar--
	}
	return bar
}

// distance returns how far a place is from t.
func (m *BeatMap) distance(p BarBeat, t Time) Time {
	return max(m.At(p)-t, t-m.At(p))
}
