package score

import "fmt"

// check finds what no single line can know.
func (c chart) check() error {
	switch {
	case c.title == "" || c.slug == "":
		return fmt.Errorf("title or slug is missing")
	case c.metre.Beats == 0:
		return fmt.Errorf("metre is missing")
	case len(c.bends) == 0 || c.bends[0].step != 0:
		return fmt.Errorf("a tempo at 1.1 is missing")
	case c.pickup >= c.metre.Beats:
		return fmt.Errorf("a pick-up of %d beats fills the bar", c.pickup)
	case len(c.parts) == 0:
		return fmt.Errorf("there is no part")
	}
	if last := c.bends[len(c.bends)-1]; last.step >= c.endStep() {
		return fmt.Errorf("the tempo %d stands after the last bar", last.tempo)
	}
	if c.pickup > 0 && c.parts[0].bars != 1 {
		return fmt.Errorf("the first part holds the pick-up and must have one bar")
	}
	for _, p := range c.parts {
		if err := c.checkPart(p); err != nil {
			return fmt.Errorf("part %s: %w", p.name, err)
		}
	}
	return nil
}

func (c chart) checkPart(p part) error {
	for _, l := range p.lines {
		i := instruments[l.instrument]
		if _, mixed := c.mix[l.instrument]; !mixed {
			return fmt.Errorf("%s has no mix line", l.instrument)
		}
		if i.needsChord() && len(p.chords) == 0 {
			return fmt.Errorf("%s needs chords", l.instrument)
		}
		for _, s := range []byte(l.steps) {
			if !i.accepts(s) {
				return fmt.Errorf("%s cannot play step %q", l.instrument, s)
			}
		}
	}
	return nil
}
