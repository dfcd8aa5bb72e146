package score

// chart is a song's text, parsed but not yet placed in time.
type chart struct {
	title, slug string
	key         scale
	keyName     string
	metre       Metre
	leadIn      Tick // silence ahead of the first beat
	tail        Tick // sound after the last bar
	pickup      int  // beats that sound ahead of bar 1
	gain        int  // dB into the limiter
	bends       []bend
	patterns    map[string]string
	mix         map[string]strip
	parts       []part
}

// chordsPerBar is how finely harmony can move.
const chordsPerBar = 2

// part is a section of the chart.
type part struct {
	name   string
	bars   int
	chords []chord // chordsPerBar to each bar, fewer than the bars start over
	lines  []line
}

// line is what one instrument plays in a part: one pattern text a bar, joined.
type line struct {
	instrument string
	level      int // dB on top of the mix
	steps      string
}

// strip is a channel of the mix. Levels are in dB, the rest in percent.
type strip struct {
	level, pan, room, echo, duck int
}

func (c chart) bars() int {
	n := 0
	for _, p := range c.parts {
		n += p.bars
	}
	return n
}

// firstStep is where the song's first beat stands: 0 or, with a pick-up, less.
func (c chart) firstStep() int { return -c.pickup * c.metre.stepsPerBeat() }

// firstBar is the bar the parts start in: 1, or 0 with a pick-up.
func (c chart) firstBar() int {
	if c.pickup > 0 {
		return 0
	}
	return 1
}

// endStep is where the last bar ends.
func (c chart) endStep() int { return (c.firstBar() - 1 + c.bars()) * c.metre.stepsPerBar() }

func (c chart) tempoMap() tempoMap {
	return newTempoMap(c.metre, c.bends, c.firstStep(), c.leadIn)
}
