package operation

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/grid"
	"emberbeat/timeline/snap"
)

// snapOperations put cues onto beats or hits.
func snapOperations() []*Operation { return []*Operation{quantiseCues()} }

// Snapping says what cues are put onto, nothing where nothing is said.
type Snapping struct {
	Snap     snap.To
	Strength snap.Strength  // the weakest that is meant; "" = middle
	Step     *timeline.Rat  // of the grid, in beats; nil = a beat
	Within   *timeline.Time // of a hit; nil = snap.Within
}

func (s *Snapping) start() { s.Snap, s.Strength = snap.Off, snap.Middle }

// snapArgs are the arguments of an operation that puts cues onto something.
func snapArgs[A any](at func(*A) *Snapping) []Argument {
	within := optional("within", "how far a hit may be from its place, in seconds (default 0.1)", func(a *A) **timeline.Time { return &at(a).Within }, timeline.Time.String, func(s string) (timeline.Time, error) {
		t, err := timeline.ParseTime(s)
		if err == nil && (t <= 0 || t > timeline.Second) {
			err = errors.New("must be above 0 and at most 1 second")
		}
		return t, err
	})
	step := optional("step", "step of the grid in beats, such as 1/2 (default 1)", func(a *A) **timeline.Rat { return &at(a).Step }, timeline.Rat.String, func(s string) (timeline.Rat, error) {
		r, err := timeline.ParseRat(s)
		if err == nil && r.Num() <= 0 {
			err = errors.New("must be above 0")
		}
		return r, err
	})
	return []Argument{
		{Field: field.Choice("snap", "put onto beats, hits that are heard, or both, whichever is nearer", func(a *A) *snap.To { return &at(a).Snap }, snap.Tos()), Label: "Snap"},
		{Field: field.Choice("strength", "the weakest hits that are meant", func(a *A) *snap.Strength { return &at(a).Strength }, snap.Strengths()), Label: "Hits from"},
		{Field: step, Label: "Step", Hint: "1 beat"},
		{Field: within, Label: "Within", Hint: "0.1 s of a hit"},
	}
}

// within gives how far a hit may be.
func (s *Snapping) within() timeline.Time {
	if s.Within == nil {
		return snap.Within
	}
	return *s.Within
}

// targets gathers what cues of a song are put onto, nil where nothing is asked for; usual is what is meant where nothing is said.
func (s *Snapping) targets(at At, song timeline.ID, usual snap.To) (*snap.Targets, error) {
	to := cmp.Or(s.Snap, usual)
	g := at.Show.Song(song)
	switch {
	case to == snap.Off || g == nil:
		return nil, nil
	case to.Grid() && g.Beats.Empty():
		return nil, errors.New("the song has no beat map: there is no grid to put cues on")
	}
	var attacks []grid.Attack
	if to.Heard() {
		switch {
		case g.Audio.Path == "":
			return nil, errors.New("the song has no recording in which hits could be heard")
		case at.Heard == nil:
			return nil, errors.New("recordings cannot be listened to here")
		}
		h, err := at.Heard(song)
		if err != nil {
			return nil, err
		}
		attacks = h.Attacks
	}
	step := timeline.NewRat(1, 1)
	if s.Step != nil {
		step = *s.Step
	}
	return snap.New(g.Beats, to, step, attacks, cmp.Or(s.Strength, snap.Middle)), nil
}

// onto finds where a moment of a song goes.
func (s *Snapping) onto(x *snap.Targets, g *timeline.Song, m timeline.Moment) (snap.Caught, bool) {
	t, ok := m.In(g.Beats)
	if !ok {
		return snap.Caught{}, false
	}
	return x.Put(t, s.within())
}

// Quantising are the arguments of cues that are put onto beats or hits.
type Quantising struct {
	Cues  []string      // by place, name or id; none = all hits
	Lanes []timeline.ID // by name or id; none = all
	Snapping
}

func (a *Quantising) start() { a.Snap, a.Strength = snap.Beats, snap.Middle }

func quantiseCues() *Operation {
	type A = Quantising
	cues := field.TextList("cues", "only these cues, by place, name or id (default: all hits of the song)", func(a *A) *[]string { return &a.Cues })
	lanes := field.List("lanes", "only cues of these lanes, by name or id (default: all)", func(a *A) *[]timeline.ID { return &a.Lanes },
		func(id timeline.ID) string { return string(id) }, func(s string) (timeline.ID, error) { return timeline.ID(s), nil })
	return tells(does(Operation{Verb: "quantise", On: "song", Menu: "Quantise", Title: "Quantise", Button: "Quantise", Plays: true,
		Tip:  "puts the selected cues on the nearest step of the grid, or on hits that are heard, as snapping is set; arms and other windows only where nothing else is selected",
		Help: "puts cues on the nearest step of the grid, or on hits that are heard",
		Args: append([]Argument{{Field: cues, Commas: true, NoForm: true}, {Field: lanes, NoForm: true}}, snapArgs(func(a *A) *Snapping { return &a.Snapping })...)},
		func(at At, a *A) (timeline.Edit, error) {
			moves, err := a.moves(at)
			if err != nil {
				return nil, err
			}
			moved, _, err := snap.Put(moves)
			if err != nil {
				return nil, err
			}
			return func(d *timeline.Draft) error {
				for _, c := range moved {
					d.Put(at.On.ID, c)
				}
				return nil
			}, nil
		},
		func(_ *timeline.Show, a *A) string {
			what := "the cues"
			if n := len(a.Cues); n > 0 {
				what = timeline.Counted(n, "cue")
			}
			return "quantise " + what + map[snap.To]string{snap.Hits: " to hits", snap.Both: " to beats and hits"}[a.Snap]
		}), func(at At, a *A) (Outcome, error) {
		moves, err := a.moves(at)
		if err != nil {
			return Outcome{}, err
		}
		return quantiseTold(moves), nil
	})
}

// moves says where the cues go.
func (a *Quantising) moves(at At) ([]snap.Move, error) {
	g := at.Show.Song(at.On.ID)
	if g == nil {
		return nil, errors.New("the song is gone")
	}
	if a.Snap == snap.Off {
		return nil, errors.New("{snap} off puts cues nowhere; write beats, hits or both")
	}
	chosen, err := a.chosen(at, g)
	if err != nil {
		return nil, err
	}
	for _, c := range chosen {
		if l := g.Lane(c.Lane); c.Locked || l != nil && l.Locked {
			return nil, fmt.Errorf("the cue at %s is locked, or its lane is; unlock it first", c.At)
		}
	}
	x, err := a.targets(at, g.ID, snap.Beats)
	if err != nil {
		return nil, err
	}
	return x.Quantise(g, chosen, a.within()), nil
}

// chosen finds the cues that are meant: without names all hits, arms and other windows only by name.
func (a *Quantising) chosen(at At, g *timeline.Song) ([]*timeline.Cue, error) {
	lanes := lanesNamed(at.Show, timeline.SongCopy{From: g.ID, Lanes: a.Lanes}).Lanes
	for _, id := range lanes {
		if g.Lane(id) == nil {
			return nil, fmt.Errorf("song %q has no lane %q of its own", g.FullTitle(), id)
		}
	}
	on := func(c *timeline.Cue) bool { return len(lanes) == 0 || slices.Contains(lanes, c.Lane) }
	var list []*timeline.Cue
	for _, c := range g.Cues {
		if l := g.Lane(c.Lane); len(a.Cues) == 0 && l != nil && !l.Window() && on(c) {
			list = append(list, c)
		}
	}
	for _, text := range a.Cues {
		found := false
		for _, c := range g.Cues {
			if on(c) && (c.ID == timeline.ID(text) || at.isAt(g, c, text)) {
				list, found = append(list, c), true
			}
		}
		if found {
			continue
		}
		ref, err := at.FindRecord("cue:" + g.Slug + "/" + text)
		if err != nil {
			return nil, err
		}
		if c := g.Cue(ref.ID); c != nil && on(c) {
			list = append(list, c)
		}
	}
	when := func(c *timeline.Cue) timeline.Time { t, _ := c.At.In(g.Beats); return t }
	slices.SortStableFunc(list, func(a, b *timeline.Cue) int { return cmp.Compare(when(a), when(b)) })
	seen := map[timeline.ID]bool{}
	return slices.DeleteFunc(list, func(c *timeline.Cue) bool {
		twice := seen[c.ID]
		seen[c.ID] = true
		return twice
	}), nil
}

// isAt reports whether a cue stands at a place as it is written.
func (at At) isAt(g *timeline.Song, c *timeline.Cue, text string) bool {
	p, err := timeline.ParsePosition(text)
	if err != nil {
		return false
	}
	m, err := at.Show.MomentAt(&g.SongHead, p)
	return err == nil && m == c.At
}

// quantiseTold tells which cues go where, and of the others why they stay.
func quantiseTold(moves []snap.Move) Outcome {
	out := Outcome{Columns: columns("Was", "#By ms", "Onto")}
	stay := 0
	for i := range moves {
		m := &moves[i]
		if m.Stays != "" {
			stay++
			out.Rows = append(out.Rows, []string{m.Cue.At.String(), "", "stays: " + m.Stays})
			continue
		}
		out.Rows = append(out.Rows, []string{m.Cue.At.String(), fmt.Sprintf("%+.1f", 1000*m.By.Seconds()), m.Onto})
	}
	out.Lines = append(out.Lines, timeline.Counted(len(moves)-stay, "cue")+" go, "+strconv.Itoa(stay)+" stay")
	return out
}
