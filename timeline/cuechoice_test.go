package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Each word of a choice alone, and together: all must fit.
func TestChooseCues(t *testing.T) {
	s, err := NewShow("s", "Show", Rate25).Edit(func(d *Draft) error {
		d.Put("", &Article{Base: Base{ID: "jet"}, Name: "Jet", Family: CO2Jet}, &Article{Base: Base{ID: "flame"}, Name: "Flame", Family: PropaneFlame},
			&StagePosition{Base: Base{ID: "lip"}, Name: "Lip"}, &Placed{Base: Base{ID: "j1"}, Name: "Jet 1", Article: "jet", Position: "lip"}, &Placed{Base: Base{ID: "f1"}, Name: "Flame 1", Article: "flame"},
			&Group{Base: Base{ID: "both"}, Name: "both", Members: []ID{"j1", "f1"}},
			&SongHead{Base: Base{ID: "a"}, Title: "A", Slug: "a", Length: Minute, Beats: SteadyBeatMap(0, Second/2, Metre{Num: 4, Den: 4}, 30)},
			&SongHead{Base: Base{ID: "b"}, Title: "B", Slug: "b", Start: Timecode{H: 1}, Length: Minute})
		d.Put("a", &Lane{Base: Base{ID: "l1"}, Name: "jets", Target: "j1", Role: EffectSlot}, &Lane{Base: Base{ID: "l2"}, Name: "all", Target: "both", Role: EffectSlot}, &Lane{Base: Base{ID: "l3"}, Name: "arm", Target: "f1", Role: ArmSlot},
			&Section{Base: Base{ID: "v"}, Name: "Verse", At: AtBar(BarBeat{Bar: 1})}, &Section{Base: Base{ID: "c"}, Name: "Chorus", At: AtBar(BarBeat{Bar: 5})},
			&Cue{Base: Base{ID: "q1"}, Lane: "l1", At: AtBar(BarBeat{Bar: 2}), Note: "With the Crash"}, &Cue{Base: Base{ID: "q2"}, Lane: "l2", At: AtBar(BarBeat{Bar: 5})}, &Cue{Base: Base{ID: "q3"}, Lane: "l3", At: AtBar(BarBeat{Bar: 2})})
		d.Put("b", &Lane{Base: Base{ID: "l1"}, Name: "Jets", Target: "j1", Role: EffectSlot}, &Cue{Base: Base{ID: "q1"}, Lane: "l1", Article: "flame", At: AtTime(Second)})
		return nil
	})
	require.NoError(t, err)
	p := Compile(s, nil)
	for _, c := range []struct {
		choice CueChoice
		want   []string
	}{
		{CueChoice{Song: "a"}, []string{"cue:a/q1", "cue:a/q2"}},
		{CueChoice{Bars: &Bars{1, 4}}, []string{"cue:a/q1"}},
		{CueChoice{Bars: &Bars{5, 5}}, []string{"cue:a/q2"}},
		{CueChoice{Section: "chorus"}, []string{"cue:a/q2"}},
		{CueChoice{Section: "v"}, []string{"cue:a/q1"}},
		{CueChoice{Lane: "JETS"}, []string{"cue:a/q1", "cue:b/q1"}},
		{CueChoice{Lane: "arm"}, []string{"cue:a/q3"}},
		{CueChoice{Family: "co2-jet"}, []string{"cue:a/q1", "cue:a/q2"}},
		{CueChoice{Article: "Flame"}, []string{"cue:a/q2", "cue:b/q1"}},
		{CueChoice{Effect: "Jet 1"}, []string{"cue:a/q1", "cue:a/q2", "cue:b/q1"}},
		{CueChoice{Effect: "f1"}, []string{"cue:a/q2"}},
		{CueChoice{Position: "lip", Song: "b"}, []string{"cue:b/q1"}},
		{CueChoice{Note: "crash"}, []string{"cue:a/q1"}},
		{CueChoice{Note: "crash", Lane: "all"}, nil},
		{CueChoice{}, nil},
	} {
		refs, err := p.ChooseCues(c.choice)
		var got []string
		for _, r := range refs {
			got = append(got, r.String())
		}
		require.Equal(t, c.want, got, "%+v", c.choice)
		require.Equal(t, len(c.want) == 0, err != nil)
	}
}
