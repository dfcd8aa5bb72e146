package score

import (
	"fmt"
	"strconv"
	"strings"
)

// parse reads a song's text. The error names the line.
//
// A line is a keyword and its words; # starts a comment. The head comes
// first (title, slug, key, metre, leadin, tail, pickup, gain, tempo, mix),
// then patterns, then the parts in playing order:
//
//	pattern NAME STEPS          one bar of sixteenths
//	part NAME BARS              a section; the lines below belong to it
//	chords Am F C,G             a bar each, or two equal halves
//	INSTRUMENT[@DB] PATTERN...  a bar each; NAME*3 repeats, - is a bar's rest
//
// Chords and patterns that are fewer than the bars start over.
func parse(text string) (chart, error) {
	p := parser{chart: chart{patterns: map[string]string{}, mix: map[string]strip{}}}
	for i, raw := range strings.Split(text, "\n") {
		body, _, _ := strings.Cut(raw, "#")
		words := strings.Fields(body)
		if len(words) == 0 {
			continue
		}
		if err := p.line(words); err != nil {
			return chart{}, fmt.Errorf("line %d: %w", i+1, err)
		}
	}
	if err := p.chart.check(); err != nil {
		return chart{}, err
	}
	return p.chart, nil
}

type parser struct{ chart chart }

func (p *parser) line(words []string) error {
	word, rest := words[0], words[1:]
	if read, ok := headWords[word]; ok {
		return read(&p.chart, rest)
	}
	if len(p.chart.parts) == 0 {
		return fmt.Errorf("%q is not a keyword of the head, and no part has begun", word)
	}
	return p.playerLine(&p.chart.parts[len(p.chart.parts)-1], word, rest)
}

func (p *parser) playerLine(to *part, word string, rest []string) error {
	name, db, hasLevel := strings.Cut(word, "@")
	if _, ok := instruments[name]; !ok {
		return fmt.Errorf("instrument %q is not known", name)
	}
	level := 0
	if hasLevel {
		var err error
		if level, err = number(db, -60, 12); err != nil {
			return err
		}
	}
	steps, err := p.chart.spell(rest, to.bars)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	to.lines = append(to.lines, line{instrument: name, level: level, steps: steps})
	return nil
}

// spell joins the named patterns into the steps of a number of bars.
func (c *chart) spell(names []string, bars int) (string, error) {
	list, err := c.bar(names)
	if err != nil {
		return "", err
	}
	if len(list) == 0 || len(list) > bars {
		return "", fmt.Errorf("%d bars are written where the part has %d", len(list), bars)
	}
	var b strings.Builder
	for i := range bars {
		b.WriteString(list[i%len(list)])
	}
	return b.String(), nil
}

// bar looks up patterns with their repeats, one text a bar.
func (c *chart) bar(names []string) ([]string, error) {
	var list []string
	for _, n := range names {
		name, times, repeated := strings.Cut(n, "*")
		count := 1
		if repeated {
			var err error
			if count, err = number(times, 1, 64); err != nil {
				return nil, err
			}
		}
		steps, ok := c.patterns[name]
		if name == "-" {
			steps, ok = strings.Repeat(".", c.metre.stepsPerBar()), true
		}
		if !ok {
			return nil, fmt.Errorf("pattern %q is not known", name)
		}
		for range count {
			list = append(list, steps)
		}
	}
	return list, nil
}

func number(s string, low, high int) (int, error) {
	n, err := strconv.Atoi(s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a whole number", s)
	}
	if n < low || n > high {
		return 0, fmt.Errorf("%d is outside %d..%d", n, low, high)
	}
	return n, nil
}
