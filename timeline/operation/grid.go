package operation

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/grid"
)

// gridOperations put the beats of a song right.
func gridOperations() []*Operation {
	return []*Operation{
		regrid("double", "Twice as many beats", "counts twice as many beats", "counts twice as many beats", nil, plainly(grid.Double)),
		regrid("half", "Half as many beats", "counts half as many beats", "counts half as many beats", nil, plainly(grid.Half)),
		regrid("three-two", "Three beats for two", "counts three beats where two were", "counts three beats where two were", nil, plainly(grid.ThreeTwo)),
		regrid("two-three", "Two beats for three", "counts two beats where three were", "counts two beats where three were", nil, plainly(grid.TwoThree)),
		shiftGrid(), barOne(), tempoOfGrid(), tapGrid(), moveLine(), splitTempo(), metreOfGrid(), listenAgain(), lockGrid(), confirmGrid(),
	}
}

// Regrid are the arguments of a correction of a song's grid; which of them count
// says the operation.
type Regrid struct {
	By    timeline.Rat
	At    *timeline.Position
	BPM   grid.MilliBPM
	Taps  []timeline.Position
	Bar   int
	Reach grid.Reach
	Metre timeline.Metre
	Cues  grid.Going
	What  []string // locks
	Off   bool
}

func (a *Regrid) start() { a.Reach, a.Cues = grid.All, grid.AsUsual }

// plainly makes the correction of a kind that takes nothing.
func plainly(k grid.Kind) func(At, *timeline.Song, *Regrid) (grid.Correction, error) {
	return func(At, *timeline.Song, *Regrid) (grid.Correction, error) { return grid.Correction{Kind: k}, nil }
}

// regrid is an operation that makes one correction.
func regrid(name, menu, tip, help string, args []Argument, of func(At, *timeline.Song, *Regrid) (grid.Correction, error)) *Operation {
	cues := Argument{Field: field.Choice("cues", "what stands on beats goes with its beats, keeps its sound, or does as usual", func(a *Regrid) *grid.Going { return &a.Cues }, grid.Goings()), Label: "Cues"}
	correct := func(at At, a *Regrid) (*grid.Corrected, error) {
		g := at.Show.Song(at.On.ID)
		if g == nil {
			return nil, fmt.Errorf("the show has no song %q", at.On.ID)
		}
		c, err := of(at, g, a)
		if err != nil {
			return nil, err
		}
		c.Cues = a.Cues
		return grid.Correct(at.Show, g.ID, c)
	}
	o := Operation{Verb: "grid", On: "song", Name: name, Menu: menu, Title: strings.TrimSuffix(menu, "…"), Button: "Correct", Plays: true, Tip: tip, Help: help, Args: append(args, cues)}
	return tells(does(o,
		func(at At, a *Regrid) (timeline.Edit, error) {
			x, err := correct(at, a)
			if err != nil {
				return nil, err
			}
			return x.Edit(), nil
		},
		func(_ *timeline.Show, a *Regrid) string { return "beats: " + saidOf(name, menu, a) }),
		func(at At, a *Regrid) (Outcome, error) {
			x, err := correct(at, a)
			if err != nil {
				return Outcome{}, err
			}
			return regridTold(x), nil
		})
}

// saidOf tells a correction by what it is given.
func saidOf(name, menu string, a *Regrid) string {
	text := strings.ToLower(strings.TrimSuffix(menu, "…"))
	switch name {
	case "shift":
		return (&grid.Correction{Kind: grid.Shift, Beats: a.By}).String()
	case "tempo", "split":
		if a.BPM > 0 {
			text += " " + a.BPM.String()
		}
	case "line":
		text += fmt.Sprintf(" %d", a.Bar)
	case "metre":
		text += " " + a.Metre.String()
	}
	if a.At != nil {
		text += " at " + a.At.String()
	}
	return text
}

// regridTold tells which cues move, and of the others why they stay.
func regridTold(x *grid.Corrected) Outcome {
	out := Outcome{Columns: columns("Cue", "Place", "#Was", "#Is", "#By ms")}
	for i := range x.Moves {
		m := &x.Moves[i]
		if m.Stays != "" {
			continue
		}
		out.Rows = append(out.Rows, []string{string(m.Cue.ID), m.Cue.At.String(), m.Was.Clock(3), m.Is.Clock(3), fmt.Sprintf("%+.1f", 1000*m.By().Seconds())})
	}
	out.Lines = append(out.Lines, x.Moving())
	if text := x.Remaining(); text != "" {
		out.Lines = append(out.Lines, text)
	}
	return out
}

// placeArg is a place of the song: a bar, a time or a timecode.
func placeArg(name, word, label, help, need string) Argument {
	f := optional(name, help, func(a *Regrid) **timeline.Position { return &a.At }, timeline.Position.String, timeline.ParsePosition)
	return Argument{Field: f, Word: word, Label: label, Hint: "17.1, 1:02.5 or 03:01:22:10", Need: need}
}

// timeOf gives the song time of a position.
func timeOf(s *timeline.Show, g *timeline.Song, p timeline.Position) (timeline.Time, error) {
	m, err := s.MomentAt(&g.SongHead, p)
	if err != nil {
		return 0, err
	}
	t, ok := m.In(g.Beats)
	if !ok {
		return 0, fmt.Errorf("%s is a bar, and the song has no beats yet: give a time such as 1:02.5", p)
	}
	return t, nil
}

// here puts the place that was given into a correction.
func here(at At, g *timeline.Song, a *Regrid, c grid.Correction) (grid.Correction, error) {
	if a.At == nil {
		return c, nil
	}
	t, err := timeOf(at.Show, g, *a.At)
	c.At, c.Here = t, true
	return c, err
}

func shiftGrid() *Operation {
	by := field.Parsed("by", "beats, such as 1, -1 or 1/2", func(a *Regrid) *timeline.Rat { return &a.By },
		func(r timeline.Rat) string {
			if r.IsZero() {
				return ""
			}
			return r.String()
		},
		func(s string) (timeline.Rat, error) {
			if s == "" {
				return timeline.Rat{}, nil
			}
			return timeline.ParseRat(s)
		})
	return regrid("shift", "Shift the beats…", "moves all beats later, or earlier, by beats or parts of one", "moves all beats later by BEATS, earlier where that is negative",
		[]Argument{{Field: by, Word: "BEATS", Label: "Later by", Hint: "1, -1 or 1/2", Need: "no number of beats is given"}},
		func(_ At, _ *timeline.Song, a *Regrid) (grid.Correction, error) {
			return grid.Correction{Kind: grid.Shift, Beats: a.By}, nil
		})
}

func barOne() *Operation {
	return regrid("bar-one", "Bar 1 here", "makes the beat next to a place the first of bar 1", "the beat next to PLACE is the first of bar 1",
		[]Argument{placeArg("at", "PLACE", "At", "a bar, time or timecode", "no place is given")},
		func(at At, g *timeline.Song, a *Regrid) (grid.Correction, error) {
			return here(at, g, a, grid.Correction{Kind: grid.BarOne})
		})
}

// tempoArg is a tempo.
func tempoArg(word, help, need string) Argument {
	f := field.Parsed("bpm", help, func(a *Regrid) *grid.MilliBPM { return &a.BPM }, grid.MilliBPM.String, func(s string) (grid.MilliBPM, error) {
		if s == "" {
			return 0, nil
		}
		return grid.ParseBPM(s)
	})
	return Argument{Field: f, Word: word, Label: "Tempo", Hint: "beats a minute", Need: need}
}

func tempoOfGrid() *Operation {
	return regrid("tempo", "Tempo…", "gives the song an even tempo, or a stretch of it another", "gives the song an even tempo from bar 1 on; with --at the stretch that holds it",
		[]Argument{tempoArg("BPM", "beats a minute, such as 124 or 123.98", "no tempo is given"), placeArg("at", "", "At", "only the stretch that holds this place; of a song without beats, where bar 1 is", "")},
		func(at At, g *timeline.Song, a *Regrid) (grid.Correction, error) {
			return here(at, g, a, grid.Correction{Kind: grid.Tempo, BPM: a.BPM})
		})
}

func tapGrid() *Operation {
	taps := field.List("taps", "times of taps on beats, four or more", func(a *Regrid) *[]timeline.Position { return &a.Taps }, timeline.Position.String, timeline.ParsePosition)
	return regrid("tap", "Tap the beat", "lays the beats by taps along with them, as near to what is heard as they tell", "lays the beats by times of taps on them, four or more",
		[]Argument{{Field: taps, Word: "TIME…", Label: "Taps", Hint: "10.1; 10.6; 11.1; 11.6", Need: "no taps are given"}},
		func(at At, g *timeline.Song, a *Regrid) (grid.Correction, error) {
			var list []timeline.Time
			for _, p := range a.Taps {
				t, err := timeOf(at.Show, g, p)
				if err != nil {
					return grid.Correction{}, err
				}
				list = append(list, t)
			}
			p, err := grid.Tapped(list)
			if err != nil {
				return grid.Correction{}, err
			}
			if at.Heard != nil && g.Audio.Path != "" {
				h, err := at.Heard(g.ID)
				if err != nil {
					return grid.Correction{}, err
				}
				p = p.Refined(h.Attacks)
			}
			return grid.Correction{Kind: grid.Tap, Pulse: p}, nil
		})
}

// barArg is the number of a bar.
func barArg() Argument {
	f := field.Parsed("bar", "number of the bar", func(a *Regrid) *int { return &a.Bar }, writeCount, wholeCount)
	return Argument{Field: f, Word: "BAR", Label: "Bar", Need: "no bar is given"}
}

func moveLine() *Operation {
	reach := field.Choice("reach", "what goes with the line: all bars, those after it, or it only", func(a *Regrid) *grid.Reach { return &a.Reach }, grid.Reaches())
	return regrid("line", "Move a bar line…", "moves the line of a bar to a place, with the whole grid, with all after it, or alone", "moves the line of BAR to PLACE, with the whole grid; --reach says otherwise",
		[]Argument{barArg(), placeArg("at", "PLACE", "To", "a bar, time or timecode", "no place is given"), {Field: reach, Label: "With it"}},
		func(at At, g *timeline.Song, a *Regrid) (grid.Correction, error) {
			return here(at, g, a, grid.Correction{Kind: grid.Line, Bar: a.Bar, Reach: a.Reach})
		})
}

func splitTempo() *Operation {
	return regrid("split", "Split the tempo here", "lets the tempo be another from a bar on", "from the bar next to PLACE on the tempo can be another, and is --bpm",
		[]Argument{placeArg("at", "PLACE", "At", "a bar, time or timecode", "no place is given"), tempoArg("", "beats a minute from there on (default: as before)", "")},
		func(at At, g *timeline.Song, a *Regrid) (grid.Correction, error) {
			return here(at, g, a, grid.Correction{Kind: grid.Split, BPM: a.BPM})
		})
}

func metreOfGrid() *Operation {
	metre := field.Parsed("metre", "such as 3/4", func(a *Regrid) *timeline.Metre { return &a.Metre }, timeline.Metre.String, timeline.ParseMetre)
	return regrid("metre", "Metre…", "gives the bars another metre; beats stay where they are", "gives the bars another metre, with --at from the bar next to it on",
		[]Argument{{Field: metre, Word: "METRE", Label: "Metre", Hint: "3/4", Need: "no metre is given"}, placeArg("at", "", "From", "only from the bar next to this place on, to the next change", "")},
		func(at At, g *timeline.Song, a *Regrid) (grid.Correction, error) {
			return here(at, g, a, grid.Correction{Kind: grid.Metre, Metre: a.Metre})
		})
}

func listenAgain() *Operation {
	return regrid("listen", "Listen to the beats again", "takes the beats as the ear hears them now; what is locked stays", "takes the beats as the ear hears them now; what is locked stays", nil,
		func(at At, g *timeline.Song, _ *Regrid) (grid.Correction, error) {
			switch {
			case g.Audio.Path == "":
				return grid.Correction{}, errors.New("the song has no recording to listen to")
			case at.Heard == nil:
				return grid.Correction{}, errors.New("recordings cannot be listened to here")
			}
			h, err := at.Heard(g.ID)
			if err != nil {
				return grid.Correction{}, err
			}
			return grid.Listened(g, *h)
		})
}

func lockGrid() *Operation {
	type A = Regrid
	what := field.TextList("what", "tempo, metre, bar-one, or stretch=FROM..TO", func(a *A) *[]string { return &a.What })
	return does(Operation{Verb: "grid", On: "song", Name: "lock", Menu: "Lock what is right…", Title: "Lock what is right", Button: "Lock",
		Tip:  "keeps the tempo, the metre, bar 1 or a stretch as it is when the song is listened to again",
		Help: "keeps tempo, metre, bar-one or stretch=FROM..TO when the song is listened to again; --off takes the lock away",
		Args: []Argument{
			{Field: what, Word: "WHAT…", Label: "What", Hint: "tempo; metre; bar-one; stretch=62..75.5", Need: "nothing is named to be locked"},
			{Field: field.Flag("off", "takes the locks away", func(a *A) *bool { return &a.Off }), Label: "Unlock"},
		}},
		func(at At, a *A) (timeline.Edit, error) { return lockEdit(at.Show, at.On.ID, a) },
		func(_ *timeline.Show, a *A) string {
			if a.Off {
				return "unlock " + strings.Join(a.What, ", ")
			}
			return "lock " + strings.Join(a.What, ", ")
		})
}

// lockEdit locks or unlocks what is named.
func lockEdit(s *timeline.Show, song timeline.ID, a *Regrid) (timeline.Edit, error) {
	g := s.Song(song)
	if g == nil {
		return nil, fmt.Errorf("the show has no song %q", song)
	}
	locks, err := grid.ReadLocks(g.Locks)
	if err != nil {
		return nil, err
	}
	for _, text := range a.What {
		name, ends, _ := strings.Cut(text, "=")
		what := grid.Lockable(name)
		known := false
		for _, l := range grid.Lockables() {
			known = known || l == what
		}
		if !known {
			return nil, &timeline.ValueError{Field: "what", Value: text, Want: "is not one of: " + field.Listed(grid.Lockables())}
		}
		if a.Off {
			locks.Unlock(what)
			continue
		}
		var stretch grid.Stretch
		if what == grid.LockStretch {
			if stretch, err = grid.ParseStretch(ends); err != nil {
				return nil, err
			}
		}
		if err := locks.Lock(what, g.Beats, stretch); err != nil {
			return nil, err
		}
	}
	return grid.SetLocks(song, locks), nil
}

func confirmGrid() *Operation {
	type A = Regrid
	return does(Operation{Verb: "grid", On: "song", Name: "confirm", Menu: "Confirm the beats", Title: "Confirm the beats", Button: "Confirm",
		Tip:  "says that the beats of the song in view have been looked at and found right",
		Help: "says that the beats have been looked at and found right; --off takes that back",
		Args: []Argument{{Field: field.Flag("off", "takes that back", func(a *A) *bool { return &a.Off }), Label: "Take back"}}},
		func(at At, a *A) (timeline.Edit, error) { return grid.Confirm(at.On.ID, !a.Off), nil },
		func(_ *timeline.Show, a *A) string {
			return cmp.Or(map[bool]string{true: "take back that the beats are right"}[a.Off], "confirm the beats")
		})
}
