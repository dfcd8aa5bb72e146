package score

import "sort"

func sections(c chart, t tempoMap) []Section {
	bar := c.firstBar()
	var list []Section
	for _, p := range c.parts {
		from := max((bar-1)*c.metre.stepsPerBar(), c.firstStep())
		to := (bar - 1 + p.bars) * c.metre.stepsPerBar()
		list = append(list, Section{p.name, bar, p.bars, t.at(from), t.at(to)})
		bar += p.bars
	}
	return list
}

func hits(notes []note) []Hit {
	var list []Hit
	for _, n := range notes {
		if instruments[n.instrument].drum() {
			list = append(list, Hit{n.at, n.instrument, forceClass(n.force)})
		}
	}
	sort.SliceStable(list, func(i, j int) bool {
		if list[i].At != list[j].At {
			return list[i].At < list[j].At
		}
		return list[i].Drum < list[j].Drum
	})
	return list
}

func forceClass(f float64) int {
	switch {
	case f >= 1:
		return 3
	case f >= 0.7:
		return 2
	}
	return 1
}

// stops finds the rests of a pulse or more between the notes. A drum counts
// as short, whatever its decay: a crash ringing into a stop is part of it.
func stops(notes []note, t tempoMap) []Stop {
	sorted := append([]note(nil), notes...)
	sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].at < sorted[j].at })
	var list []Stop
	var silentFrom Tick
	for i, n := range sorted {
		shortest := t.span(t.metre.stepsPerPulse(), t.tempoAt(silentFrom))
		if i > 0 && n.at-silentFrom >= shortest {
			list = append(list, Stop{silentFrom, n.at})
		}
		silentFrom = max(silentFrom, n.at+n.length)
	}
	return list
}

// tempoAt gives the tempo that holds at a time.
func (t tempoMap) tempoAt(at Tick) int {
	i := sort.Search(len(t.bends), func(i int) bool { return t.bends[i].at > at })
	return t.bends[max(i-1, 0)].tempo
}
