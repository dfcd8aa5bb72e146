package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A place that rounding has moved off its bar or beat is called by it: of a map
// whose bar 21 starts at 40.50219 s, 40.5019 s is bar 21.
func TestNamedPlaces(t *testing.T) {
	bar1, err := ParseTime("0.50219")
	require.NoError(t, err)
	m := SteadyBeatMap(bar1, Second/2, Metre{4, 4}, 40)
	for _, c := range []struct{ at, located, named string }{
		{"40.5019", "20.4+959/960", "21.1"},
		{"40.5025", "21.1+1/960", "21.1"},
		{"41.0019", "21.1+959/960", "21.2"},
		{"40.5012", "20.4+479/480", "20.4+479/480"}, // two 960ths away is another place
		{"40.7522", "21.1+1/2", "21.1+1/2"},
	} {
		at, err := ParseTime(c.at)
		require.NoError(t, err)
		require.Equal(t, c.located, m.Locate(at).String(), c.at)
		require.Equal(t, c.named, m.Named(at).String(), c.at)
	}
	require.Equal(t, BarBeat{Bar: 1}, (*BeatMap)(nil).Named(Second))
	rapid.Check(t, func(rt *rapid.T) {
		beat := FromMillis(rapid.Int64Range(80, 2000).Draw(rt, "beat"))
		metre := Metre{Num: rapid.IntRange(1, 7).Draw(rt, "beats"), Den: 4}
		m := SteadyBeatMap(FromMillis(rapid.Int64Range(-3000, 3000).Draw(rt, "bar 1")), beat, metre, 40)
		bar := BarBeat{rapid.IntRange(-3, 60).Draw(rt, "bar"), NewRat(int64(rapid.IntRange(0, metre.Num-1).Draw(rt, "on beat")), 1)}
		off := Time(rapid.Int64Range(-int64(beat)/960, int64(beat)/960).Draw(rt, "off"))
		require.Equal(rt, bar, m.Named(m.At(bar)+off))
		named := m.Named(m.BarStart(bar.Bar) + Time(rapid.Int64Range(0, int64(beat)*9).Draw(rt, "anywhere")))
		part := named.Beat.Sub(NewRat(named.Beat.Floor(), 1))
		require.True(rt, part.IsZero() || part.Cmp(NewRat(1, 960)) > 0 && part.Cmp(NewRat(959, 960)) < 0, named.String())
	})
}

// A bar has the beats of its metre: beat 5 of 4/4 is refused with the place it
// is, and one that a show had before does not block other edits of its cue.
func TestABeatPastItsBarIsRefused(t *testing.T) {
	s := small(t) // ember is in 4/4
	for at, want := range map[string]string{
		"2.5":     `cue at: "2.5": is past the end of its bar: bar 2 is 4/4 and has beats 1 to 4; that place is 3.1`,
		"2.5+1/2": `that place is 3.1+1/2`,
		"2.9":     `that place is 4.1`,
		"2.4+1/2": "",
	} {
		_, err := s.Edit(set("cue", "ember", "q1", "at", at))
		if want == "" {
			require.NoError(t, err, at)
			continue
		}
		require.ErrorContains(t, err, want)
	}
	for _, r := range []Record{&Section{Base: Base{ID: "x"}, At: AtBar(BarBeat{Bar: 1}), To: AtBar(BarBeat{2, NewRat(4, 1)})}, &Marker{Base: Base{ID: "x"}, At: AtBar(BarBeat{2, NewRat(4, 1)})}} {
		_, err := s.Edit(func(d *Draft) error { d.Put("ember", r); return nil })
		require.ErrorContains(t, err, "is past the end of its bar")
	}
	d := NewDraft(s)
	d.Put("ember", &Cue{Base: Base{ID: "old"}, Lane: "ljet", At: AtBar(BarBeat{2, NewRat(4, 1)})})
	_, err := d.Show().Edit(set("cue", "ember", "old", "note", "kept"))
	require.NoError(t, err)
	_, err = s.Edit(set("cue", "tide", "q1", "at", "2.5"))
	require.NoError(t, err, "a song without a beat map has no metre")
}
