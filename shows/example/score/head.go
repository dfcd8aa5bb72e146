package score

import (
	"fmt"
	"strings"
)

// headWords reads the lines that are not played: one function a keyword.
var headWords = map[string]func(*chart, []string) error{
	"title":   func(c *chart, w []string) error { c.title = strings.Join(w, " "); return nil },
	"slug":    func(c *chart, w []string) error { c.slug = strings.Join(w, "-"); return nil },
	"key":     readKey,
	"metre":   readMetre,
	"leadin":  func(c *chart, w []string) error { return readMilliseconds(&c.leadIn, w) },
	"tail":    func(c *chart, w []string) error { return readMilliseconds(&c.tail, w) },
	"pickup":  func(c *chart, w []string) error { return readNumber(&c.pickup, w, 1, 12) },
	"gain":    func(c *chart, w []string) error { return readNumber(&c.gain, w, -30, 30) },
	"tempo":   readTempo,
	"mix":     readMix,
	"pattern": readPattern,
	"part":    readPart,
	"chords":  readChords,
}

func wantWords(w []string, n int, form string) error {
	if len(w) != n {
		return fmt.Errorf("want %q, got %q", form, strings.Join(w, " "))
	}
	return nil
}

func readNumber(to *int, w []string, low, high int) error {
	err := wantWords(w, 1, "NUMBER")
	if err == nil {
		*to, err = number(w[0], low, high)
	}
	return err
}

func readMilliseconds(to *Tick, w []string) error {
	var ms int
	err := readNumber(&ms, w, 0, 20000)
	*to = Tick(ms) * Second / 1000
	return err
}

func readKey(c *chart, w []string) error {
	err := wantWords(w, 2, "NOTE major|minor")
	if err == nil {
		c.key, err = parseScale(w[0], w[1])
		c.keyName = w[0] + " " + w[1]
	}
	return err
}

// needMetre guards what is counted in bars.
func needMetre(c *chart) error {
	if c.metre.Beats == 0 {
		return fmt.Errorf("the metre must stand before tempo, patterns and parts")
	}
	return nil
}

func readMetre(c *chart, w []string) error {
	if c.metre.Beats != 0 {
		return fmt.Errorf("the metre is written twice")
	}
	err := wantWords(w, 1, "4/4|6/8")
	if err == nil {
		c.metre, err = parseMetre(w[0])
	}
	return err
}

// readTempo reads "tempo BAR.BEAT PULSES-PER-MINUTE".
func readTempo(c *chart, w []string) error {
	if err := wantWords(w, 2, "BAR.BEAT TEMPO"); err != nil {
		return err
	}
	if err := needMetre(c); err != nil {
		return err
	}
	barText, beatText, _ := strings.Cut(w[0], ".")
	bar, err := number(barText, 1, 1000)
	if err != nil {
		return err
	}
	beat, err := number(beatText, 1, c.metre.Beats)
	if err != nil {
		return err
	}
	tempo, err := number(w[1], 20, 400)
	if err != nil {
		return err
	}
	step := (bar-1)*c.metre.stepsPerBar() + (beat-1)*c.metre.stepsPerBeat()
	if n := len(c.bends); n > 0 && c.bends[n-1].step >= step {
		return fmt.Errorf("tempo at %s does not come after the one before it", w[0])
	}
	c.bends = append(c.bends, bend{step: step, tempo: tempo})
	return nil
}

// readMix reads "mix INSTRUMENT level -3 pan 0 room 10 echo 0 duck 40".
func readMix(c *chart, w []string) error {
	if len(w) == 0 || len(w)%2 == 0 {
		return fmt.Errorf("want an instrument and pairs of name and number")
	}
	if _, ok := instruments[w[0]]; !ok {
		return fmt.Errorf("instrument %q is not known", w[0])
	}
	var s strip
	fields := map[string]*int{"level": &s.level, "pan": &s.pan, "room": &s.room, "echo": &s.echo, "duck": &s.duck}
	for i := 1; i < len(w); i += 2 {
		field, ok := fields[w[i]]
		if !ok {
			return fmt.Errorf("mix has no setting %q", w[i])
		}
		n, err := number(w[i+1], -100, 100)
		if err != nil {
			return err
		}
		*field = n
	}
	c.mix[w[0]] = s
	return nil
}

func readPattern(c *chart, w []string) error {
	if err := wantWords(w, 2, "NAME STEPS"); err != nil {
		return err
	}
	if err := needMetre(c); err != nil {
		return err
	}
	if len(w[1]) != c.metre.stepsPerBar() {
		return fmt.Errorf("pattern %s has %d steps, a bar has %d", w[0], len(w[1]), c.metre.stepsPerBar())
	}
	if _, twice := c.patterns[w[0]]; twice {
		return fmt.Errorf("pattern %s is written twice", w[0])
	}
	c.patterns[w[0]] = w[1]
	return nil
}

func readPart(c *chart, w []string) error {
	if len(w) < 2 {
		return fmt.Errorf("want NAME BARS")
	}
	if err := needMetre(c); err != nil {
		return err
	}
	bars, err := number(w[len(w)-1], 1, 64)
	if err != nil {
		return err
	}
	c.parts = append(c.parts, part{name: strings.Join(w[:len(w)-1], " "), bars: bars})
	return nil
}

// readChords reads one word a bar; words joined by commas share the bar.
func readChords(c *chart, w []string) error {
	if len(c.parts) == 0 {
		return fmt.Errorf("chords stand outside a part")
	}
	p := &c.parts[len(c.parts)-1]
	for _, bar := range w {
		names := strings.Split(bar, ",")
		if len(names) == 1 {
			names = append(names, names[0])
		}
		if len(names) != chordsPerBar {
			return fmt.Errorf("%q: a bar holds one chord or two", bar)
		}
		for _, n := range names {
			ch, err := parseChord(n)
			if err != nil {
				return err
			}
			p.chords = append(p.chords, ch)
		}
	}
	return nil
}
