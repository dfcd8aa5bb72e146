package timeline

// Snap returns the place nearest in time to t among the starts of bars and the
// multiples of div beats counted from them; of two equally near, the later. A
// div that is not positive, or beyond the bounds of ParseRat, leaves only the
// starts of bars. An empty map gives bar 1.
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
	if div.num > 0 && fits(div) {
		// The step nearest in beats is not always the nearest in time: the
		// tempo may change next to it.
		k := m.stretchAt(t).steps(t, bar, div)
		last := lastStep(m.MetreAt(bar), div)
		for n := max(0, min(k, last)-1); n <= min(k+1, last); n++ {
			consider(BarBeat{bar, div.Mul(NewRat(n, 1))})
		}
	}
	consider(BarBeat{Bar: bar + 1})
	return best
}

// lastStep returns the number of the last step of div beats inside a bar.
func lastStep(metre Metre, div Rat) int64 {
	return (int64(metre.Num)*div.Den() - 1) / div.num
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
