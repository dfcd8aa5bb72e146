package rule

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// Of four hits one may be lost, not two: the share is our judgement, 0.25.
func TestThinSong(t *testing.T) {
	hits := edits(cue("a", "j1", 10*sec), cue("a", "j1", 20*sec), cue("a", "c1", 30*sec), cue("a", "jets", 40*sec))
	with := func(more ...timeline.Edit) []timeline.Edit {
		return append(append([]timeline.Edit{}, hits...), more...)
	}
	cuts := func(items string) timeline.Edit { return field("night", "n", "cuts", items) }
	runNight(t, "thin-song", []nightCase{
		{"nothing cut", hits, nil},
		{"one of four", with(cuts("family=comet")), nil},
		{"two of four", with(cuts("family=comet;cue=a-j1-10000")), []string{"song:a: 2 of the tour's 4 hits are lost tonight"}},
		{"one unit still plays it", with(cuts("family=comet;placed=j2")), nil},
		{"out of the rig", with(cuts("family=comet"), field("night", "n", "rig-changes", "placed=j1 out")), []string{"song:a: 3 of the tour's 4 hits"}},
		{"swapped", with(field("night", "n", "swaps", "family=comet to=bang"), cuts("cue=a-j1-10000")), nil},
		{"share of the show", with(cuts("family=comet"), showSetting("thin-song", func(s *timeline.Setting) { s.Values = []string{"share=0.2"} })), []string{"song:a: 1 of the tour's 4 hits"}},
		{"a song of the set is cut", with(cuts("song=a")), nil},
	})
	s := stage(t, with(showSetting("thin-song", func(s *timeline.Setting) { s.Values, s.Scope = []string{"share=0.5"}, []string{"song=a"} }))...)
	in, _ := SettingIn(s, s.Song("a"), "thin-song", "share")
	elsewhere, ground := SettingIn(s, s.Song("b"), "thin-song", "share")
	require.Equal(t, []float64{0.5, 0.25}, []float64{in, elsewhere})
	require.Equal(t, timeline.Judgement, ground.Mark)
}

// What a night takes away is the tour's hits without the night's.
func TestThinSongEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		list := edits(put(&timeline.Night{Base: base{ID: "n"}, Name: "n", Slug: "n"}))
		for i := range rapid.IntRange(1, 8).Draw(rt, "cues") {
			list = append(list, cue("a", rapid.SampledFrom([]timeline.ID{"j1", "j2", "jets", "c1", "f1"}).Draw(rt, fmt.Sprint("lane", i)), timeline.Time(i+1)*5*sec))
		}
		list = append(list, field("night", "n", "cuts", rapid.SampledFrom([]string{"", "family=co2-jet", "placed=j1", "article=comet;placed=j2", "lane=jets"}).Draw(rt, "cuts")),
			field("night", "n", "rig-changes", rapid.SampledFrom([]string{"", "placed=j1 out", "placed=c1 out;placed=j2 out"}).Draw(rt, "rig")))
		s := stage(t, list...)
		tonight, tour := timeline.Compile(s, s.Night("n")).Songs[0], timeline.Compile(s, nil).Songs[0]
		lost, all := LostTonight(tonight.SongPlan)
		require.Equal(rt, len(tour.Hits()), all)
		require.Equal(rt, len(tour.Hits())-len(tonight.Hits()), lost)
	})
}
