// Package together changes many cues of a song by the same: later, longer, stronger.
//
// Its one rule: every cue changes or none does, and each by what it was asked for from what holds for it now.
//
// Start with By and its Edit.
package together

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/given"
)

// By is what cues are changed by; nothing in it changes nothing.
type By struct {
	Later    Step
	Longer   float64 // percent of the open time that holds; negative = shorter
	Stronger float64 // percent of the level that holds; negative = weaker
}

// Step is a way along a song: beats or a time, either of them negative towards the beginning.
type Step struct {
	Beats timeline.Rat
	Time  timeline.Time
}

// None reports whether a step leads nowhere.
func (s Step) None() bool { return s.Beats.Num() == 0 && s.Time == 0 }

// ParseStep reads "1 beat", "-1/2 beat", "0.25 s" or "-40 ms"; nothing at all is no step.
func ParseStep(text string) (Step, error) {
	bad := fmt.Errorf("%q is no way along the song; write beats or a time such as 1 beat, -1/2 beat, 0.25 s or -40 ms", text)
	rest := strings.TrimSpace(strings.ReplaceAll(text, "−", "-"))
	if rest == "" || rest == "0" {
		return Step{}, nil
	}
	negative := strings.HasPrefix(rest, "-")
	rest = strings.TrimSpace(strings.TrimLeft(rest, "+-"))
	sign := int64(1)
	if negative {
		sign = -1
	}
	for _, unit := range [...]string{"beats", "beat"} {
		if number, ok := strings.CutSuffix(rest, unit); ok {
			n, err := timeline.ParseRat(strings.TrimSpace(number))
			if err != nil || n.Num() < 0 {
				return Step{}, bad
			}
			return Step{Beats: timeline.NewRat(sign*n.Num(), n.Den())}, nil
		}
	}
	scale := 1.0
	number, ok := strings.CutSuffix(rest, "ms")
	if ok {
		scale = 1000
	} else if number, ok = strings.CutSuffix(rest, "s"); !ok {
		return Step{}, bad
	}
	x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if err != nil || x < 0 || x/scale > longest || math.IsNaN(x) {
		return Step{}, bad
	}
	t := timeline.Time(math.Round(x/scale*1e4)) * (timeline.Second / 10000)
	return Step{Time: t * timeline.Time(sign)}, nil
}

// longest bounds a step in seconds.
const longest = 24 * 3600

// ParsePercent reads a change in percent; nothing at all is none. It says what would be valid.
func ParsePercent(text string) (float64, error) {
	rest := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(strings.ReplaceAll(text, "−", "-")), "%"))
	if rest == "" {
		return 0, nil
	}
	x, err := strconv.ParseFloat(strings.TrimPrefix(rest, "+"), 64)
	if err != nil || !(x > -100 && x <= 1000) {
		return 0, fmt.Errorf("%q is no change in percent; write a number from -99 to 1000, such as 10 or -25", text)
	}
	return x, nil
}

// None reports whether nothing changes.
func (b By) None() bool { return b.Later.None() && b.Longer == 0 && b.Stronger == 0 }

// Edit gives the edit that changes cues of a song. It is refused where a cue or its lane is locked, where a cue would leave the song at its beginning,
// where units of a cue do not have alike what is to be changed, and where a level would be none.
func (b By) Edit(s *timeline.Show, p *timeline.SongPlan, cues []*timeline.Cue) (timeline.Edit, error) {
	changed := make([]timeline.Record, 0, len(cues))
	commands := given.CommandsOf(p, cues...)
	for _, c := range cues {
		if l := p.Song.Lane(c.Lane); c.Locked || l != nil && l.Locked {
			return nil, fmt.Errorf("the cue at %s is locked; unlock it first", c.At.Beside(p.Song.Beats))
		}
		d := *c
		if err := b.change(s, p, commands, c, &d); err != nil {
			return nil, fmt.Errorf("the cue at %s: %w", c.At.Beside(p.Song.Beats), err)
		}
		changed = append(changed, &d)
	}
	song := p.Song.ID
	return func(d *timeline.Draft) error {
		d.Put(song, changed...)
		return nil
	}, nil
}

// change makes of a cue what it becomes.
func (b By) change(s *timeline.Show, p *timeline.SongPlan, commands *given.Commands, c, d *timeline.Cue) error {
	var err error
	if d.At, err = b.Later.From(c.At, p.Song.Beats); err != nil {
		return err
	}
	if b.Longer == 0 && b.Stronger == 0 {
		return nil
	}
	for _, v := range commands.Of(s, c) {
		switch {
		case v.Field == "open" && b.Longer != 0:
			t, err := held(v, timeline.ParseTime, "an open time")
			if err != nil {
				return err
			}
			d.Open = timeline.Time(math.Round(float64(t) * (1 + b.Longer/100))).RoundTo(timeline.Second / 10000)
		case v.Field == "level" && b.Stronger != 0:
			n, err := held(v, strconv.Atoi, "a level")
			if err != nil {
				return err
			}
			if d.Level = int(math.Round(float64(n) * (1 + b.Stronger/100))); d.Level < 1 || d.Level > 100 {
				return fmt.Errorf("its level would be %d %%; it can be from 1 to 100", d.Level)
			}
		}
	}
	return nil
}

// held reads the value that holds.
func held[T any](v given.Value, parse func(string) (T, error), what string) (none T, err error) {
	switch {
	case v.Several > 0:
		return none, fmt.Errorf("its units have each their own; give it %s of its own first", what)
	case v.Text == "":
		return none, fmt.Errorf("nothing gives it %s; give it one of its own first", what)
	}
	return parse(v.Text)
}

// From gives the moment a step from another. What stands on a beat stays on beats, what stands at a time at a time.
func (s Step) From(m timeline.Moment, beats *timeline.BeatMap) (timeline.Moment, error) {
	if s.None() {
		return m, nil
	}
	if s.Beats.Num() == 0 {
		m = Shifted(m, s.Time, beats)
	} else {
		at, ok := m.In(beats)
		if !ok || beats.Empty() {
			return m, fmt.Errorf("the song has no beat map; write a time such as 0.25 s")
		}
		to := Stepped(beats, beats.Locate(at), s.Beats)
		if m.OnBeat {
			m = timeline.AtBar(to)
		} else {
			m = timeline.AtTime(beats.At(to))
		}
	}
	if at, ok := m.In(beats); ok && at < 0 {
		return m, fmt.Errorf("it would stand before the song begins")
	}
	return m, nil
}

// Shifted gives a moment moved by a time; one on a beat stays on beats.
func Shifted(m timeline.Moment, by timeline.Time, beats *timeline.BeatMap) timeline.Moment {
	at, ok := m.In(beats)
	switch {
	case !ok || by == 0:
		return m
	case m.OnBeat:
		return timeline.AtBar(beats.Locate(at + by))
	}
	return timeline.AtTime(at + by)
}

// Stepped gives a place some beats on, always inside its bar.
func Stepped(beats *timeline.BeatMap, p timeline.BarBeat, by timeline.Rat) timeline.BarBeat {
	p.Beat = p.Beat.Add(by)
	for p.Beat.Num() < 0 {
		p.Bar--
		p.Beat = p.Beat.Add(timeline.NewRat(int64(beats.MetreAt(p.Bar).Num), 1))
	}
	for {
		num := timeline.NewRat(int64(beats.MetreAt(p.Bar).Num), 1)
		if p.Beat.Cmp(num) < 0 {
			return p
		}
		p.Beat = p.Beat.Add(num.Neg())
		p.Bar++
	}
}
