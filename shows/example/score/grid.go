package score

// Start gives the time of a beat. Bars and beats count from 1; the pick-up
// stands in bar 0, and places outside the song continue its outer tempo.
func (s Song) Start(bar, beat int) Tick {
	return s.chart.tempoMap().at((bar-1)*s.Metre.stepsPerBar() + (beat-1)*s.Metre.stepsPerBeat())
}

// Bars gives the number of whole bars, without the pick-up.
func (s Song) Bars() int { return s.chart.bars() + s.chart.firstBar() - 1 }

// Downbeats gives the first beat of each whole bar.
func (s Song) Downbeats() []Tick {
	return s.every(0, s.Metre.stepsPerBar())
}

// Beats gives every beat of the metre, from the pick-up to the last bar's end:
// quarters in 4/4, eighths in 6/8.
func (s Song) Beats() []Tick {
	return s.every(s.chart.firstStep(), s.Metre.stepsPerBeat())
}

// Pulses gives what a foot taps: quarters in 4/4, dotted quarters in 6/8.
func (s Song) Pulses() []Tick {
	return s.every(s.chart.firstStep(), s.Metre.stepsPerPulse())
}

func (s Song) every(first, stride int) []Tick {
	t := s.chart.tempoMap()
	var list []Tick
	for step := first; step < s.Bars()*s.Metre.stepsPerBar(); step += stride {
		list = append(list, t.at(step))
	}
	return list
}
