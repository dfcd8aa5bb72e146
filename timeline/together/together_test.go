package together_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
	_ "emberbeat/timeline/testtool"
	"emberbeat/timeline/together"
)

const second = timeline.Second

func show(t require.TestingT, cues ...timeline.Record) (*timeline.Show, *timeline.SongPlan) {
	s, err := timeline.NewShow("one", "One", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.Article{Base: timeline.Base{ID: "jet"}, Family: timeline.CO2Jet, HitPoint: timeline.FullEffect, Control: timeline.SlotControl, Open: second / 2},
			&timeline.Placed{Base: timeline.Base{ID: "j1"}, Article: "jet"},
			&timeline.SongHead{Base: timeline.Base{ID: "g"}, Title: "G", Slug: "g", Length: 100 * second, Beats: timeline.SteadyBeatMap(0, second/2, timeline.Metre{Num: 4, Den: 4}, 40)})
		d.Put("g", &timeline.Lane{Base: timeline.Base{ID: "l"}, Target: "j1", Role: timeline.EffectSlot}, &timeline.Lane{Base: timeline.Base{ID: "shut"}, Target: "j1", Role: timeline.EffectSlot, Locked: true})
		d.Put("g", cues...)
		return nil
	})
	require.NoError(t, err)
	return s, timeline.Compile(s, nil).Songs[0].SongPlan
}

func cue(id timeline.ID, at timeline.Moment, fill func(*timeline.Cue)) *timeline.Cue {
	c := &timeline.Cue{Base: timeline.Base{ID: id}, Lane: "l", At: at}
	if fill != nil {
		fill(c)
	}
	return c
}

func bar(n int, beat int64) timeline.Moment {
	return timeline.AtBar(timeline.BarBeat{Bar: n, Beat: timeline.NewRat(beat, 1)})
}

func TestSteps(t *testing.T) {
	for text, want := range map[string]together.Step{
		"": {}, "0": {}, "1 beat": {Beats: timeline.NewRat(1, 1)}, "-1/2 beat": {Beats: timeline.NewRat(-1, 2)}, "− 2 beats": {Beats: timeline.NewRat(-2, 1)},
		"0.25 s": {Time: second / 4}, "-40 ms": {Time: -second / 25}, "+40ms": {Time: second / 25},
	} {
		got, err := together.ParseStep(text)
		require.NoError(t, err, text)
		require.Equal(t, want.Time, got.Time, text)
		require.Zero(t, want.Beats.Cmp(got.Beats), text)
	}
	for _, text := range []string{"1", "soon", "1 bar", "beat", "NaN s", "1e9 s", "--1 s x"} {
		_, err := together.ParseStep(text)
		require.ErrorContains(t, err, "write beats or a time", text)
	}
	for _, text := range []string{"much", "-100", "1001", "NaN"} {
		_, err := together.ParsePercent(text)
		require.ErrorContains(t, err, "write a number", text)
	}
}

func TestCuesChangeByTheSame(t *testing.T) {
	s, p := show(t, cue("a", bar(3, 0), nil), cue("b", timeline.AtTime(10*second), func(c *timeline.Cue) { c.Open, c.Level = second, 40 }))
	edit, err := together.By{Later: together.Step{Beats: timeline.NewRat(5, 1)}, Longer: 50, Stronger: -50}.Edit(s, p, p.Song.Cues)
	require.NoError(t, err)
	s, err = s.Edit(edit)
	require.NoError(t, err)
	a, b := s.Song("g").Cue("a"), s.Song("g").Cue("b")
	require.Equal(t, "4.2", a.At.String(), "into the next bar")
	require.Equal(t, 3*second/4, a.Open, "of what its article gives")
	require.Equal(t, 50, a.Level, "of a full level")
	require.False(t, b.At.OnBeat)
	require.Equal(t, 12500*timeline.Millisecond, mustAt(t, b.At))
	require.Equal(t, 3*second/2, b.Open)
	require.Equal(t, 20, b.Level)
}

func mustAt(t *testing.T, m timeline.Moment) timeline.Time {
	at, ok := m.In(nil)
	require.True(t, ok)
	return at
}

// A step stays inside bars: what reaches the end of one stands at the beginning of the next, and backwards.
func TestStepsOverBarLines(t *testing.T) {
	beats := timeline.SteadyBeatMap(0, second/2, timeline.Metre{Num: 4, Den: 4}, 40)
	for _, c := range []struct {
		from  timeline.Moment
		beats timeline.Rat
		want  string
	}{
		{bar(3, 0), timeline.NewRat(4, 1), "4.1"}, {bar(3, 3), timeline.NewRat(1, 2), "3.4+1/2"}, {bar(3, 3), timeline.NewRat(1, 1), "4.1"}, {bar(4, 0), timeline.NewRat(-1, 1), "3.4"}, {bar(3, 1), timeline.NewRat(9, 1), "5.3"},
	} {
		to, err := together.Step{Beats: c.beats}.From(c.from, beats)
		require.NoError(t, err)
		require.Equal(t, c.want, to.String(), "%s by %s", c.from, c.beats)
	}
}

func TestRefusals(t *testing.T) {
	for want, c := range map[string]struct {
		cue *timeline.Cue
		by  together.By
	}{
		"is locked; unlock it first":     {cue("a", bar(3, 0), func(c *timeline.Cue) { c.Locked = true }), together.By{Longer: 1}},
		"at 3.2 is locked":               {cue("a", bar(3, 1), func(c *timeline.Cue) { c.Lane = "shut" }), together.By{Longer: 1}},
		"before the song begins":         {cue("a", timeline.AtTime(second), nil), together.By{Later: together.Step{Time: -2 * second}}},
		"would be 120 %; it can be from": {cue("a", bar(3, 0), nil), together.By{Stronger: 20}},
	} {
		s, p := show(t, c.cue)
		_, err := c.by.Edit(s, p, p.Song.Cues)
		require.ErrorContains(t, err, want)
	}
}

// What goes later comes back when it goes earlier by the same, and between cues the way stays the same.
func TestLaterAndBack(t *testing.T) {
	beats := timeline.SteadyBeatMap(0, second/2, timeline.Metre{Num: 3, Den: 4}, 400)
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) timeline.Moment {
			if rapid.Bool().Draw(t, name+" on a beat") {
				return timeline.AtBar(timeline.BarBeat{Bar: rapid.IntRange(30, 60).Draw(t, name+" bar"), Beat: timeline.NewRat(int64(rapid.IntRange(0, 11).Draw(t, name+" beat")), 4)})
			}
			return timeline.AtTime(60*second + timeline.Time(rapid.IntRange(0, 100000).Draw(t, name))*timeline.Millisecond)
		}
		n := rapid.Int64Range(-60, 60).Draw(t, "steps")
		step, back := together.Step{Time: timeline.Time(n) * 40 * timeline.Millisecond}, together.Step{Time: timeline.Time(-n) * 40 * timeline.Millisecond}
		if rapid.Bool().Draw(t, "by beats") {
			step, back = together.Step{Beats: timeline.NewRat(n, 4)}, together.Step{Beats: timeline.NewRat(-n, 4)}
		}
		a, b := at("a"), at("b")
		when := func(m timeline.Moment) timeline.Time { x, _ := m.In(beats); return x }
		go1 := func(m timeline.Moment, s together.Step) timeline.Moment {
			to, err := s.From(m, beats)
			if err != nil {
				t.Fatal(err)
			}
			return to
		}
		c, d := go1(a, step), go1(b, step)
		fine := timeline.Time(0) // places on beats are kept to a 960th of one
		if (step.Beats.Num() == 0) == (a.OnBeat || b.OnBeat) || a.OnBeat != b.OnBeat {
			fine = second / 2 / 960
		}
		if apart := (when(d) - when(c)) - (when(b) - when(a)); max(apart, -apart) > fine {
			t.Fatalf("%s and %s went apart: %s and %s", a, b, c, d)
		}
		if again := go1(c, back); max(when(again)-when(a), when(a)-when(again)) > fine || again.OnBeat != a.OnBeat {
			t.Fatalf("%s went to %s and came back to %s", a, c, again)
		}
	})
}
