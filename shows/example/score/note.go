package score

// note is one sound to make. Force is 0..1; level is in dB on top of the mix.
type note struct {
	instrument string
	at, length Tick
	keys       []key
	force      float64
	level      int
	seed       uint64 // so that no two noisy sounds are alike, yet all repeat
}

// perform lays the chart out in time. Notes come part by part, line by line.
func perform(c chart) []note {
	var notes []note
	tempo := c.tempoMap()
	step := (c.firstBar() - 1) * c.metre.stepsPerBar()
	for _, p := range c.parts {
		for _, l := range p.lines {
			notes = append(notes, player{c, tempo, p, l, step}.play()...)
		}
		step += p.bars * c.metre.stepsPerBar()
	}
	for i := range notes {
		notes[i].seed = uint64(i)
	}
	return notes
}

// player is one instrument in one part that starts at step.
type player struct {
	chart chart
	tempo tempoMap
	part  part
	line  line
	step  int
}

func (p player) play() []note {
	var notes []note
	steps := p.line.steps
	for i := 0; i < len(steps); i++ {
		if steps[i] == '.' || steps[i] == '-' {
			continue
		}
		end := i + 1
		for end < len(steps) && steps[end] == '-' {
			end++
		}
		notes = append(notes, p.note(i, end))
	}
	return notes
}

func (p player) note(from, to int) note {
	at := p.tempo.at(p.step + from)
	ins := instruments[p.line.instrument]
	mark := p.line.steps[from]
	return note{
		instrument: p.line.instrument,
		at:         at, length: p.tempo.at(p.step+to) - at,
		keys:  ins.keys(mark, p.chart.key, p.chordAt(from)),
		force: ins.force(mark, from%p.chart.metre.stepsPerPulse() == 0),
		level: p.line.level,
	}
}

func (p player) chordAt(step int) chord {
	if len(p.part.chords) == 0 {
		return chord{}
	}
	share := p.chart.metre.stepsPerBar() / chordsPerBar
	return p.part.chords[step/share%len(p.part.chords)]
}
