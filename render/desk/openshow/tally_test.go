package openshow

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// The word of a song says what is to be looked at first: that the night leaves it out, what it has nothing of, errors, another recording than its cues
// were placed on, beats that nobody has confirmed.
func TestStateWord(t *testing.T) {
	beats := timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 8)
	whole := timeline.Song{SongHead: timeline.SongHead{Base: timeline.Base{ID: "ember"}, Length: timeline.Minute, Beats: beats, Confirmed: true,
		Audio: timeline.Audio{Path: "audio/ember.wav", FileHash: "b", PlacedOn: "b"}}, Cues: []*timeline.Cue{{}}}
	w := &Work{Plan: &timeline.Plan{}}
	night := &timeline.Night{Cuts: []timeline.Cut{{Selector: timeline.Selector{What: "song", ID: "ember"}}}}
	for _, c := range []struct {
		want   string
		found  [3]int
		night  *timeline.Night
		change func(*timeline.Song)
	}{
		{"", [3]int{}, nil, func(*timeline.Song) {}},
		{"2 errors", [3]int{2, 1, 0}, nil, func(*timeline.Song) {}},
		{"1 warning", [3]int{0, 1, 9}, nil, func(*timeline.Song) {}},
		{"cut tonight", [3]int{2, 0, 0}, night, func(*timeline.Song) {}},
		{"no audio", [3]int{}, nil, func(s *timeline.Song) { s.Audio, s.Length = timeline.Audio{}, 0 }},
		{"no beats", [3]int{}, nil, func(s *timeline.Song) { s.Beats = nil }},
		{"new recording", [3]int{0, 1, 0}, nil, func(s *timeline.Song) { s.Audio.PlacedOn = "a" }},
		{"1 error", [3]int{1, 0, 0}, nil, func(s *timeline.Song) { s.Audio.PlacedOn = "a" }},
		{"beats in doubt", [3]int{0, 1, 0}, nil, func(s *timeline.Song) { s.Confirmed = false }},
		{"no cues", [3]int{}, nil, func(s *timeline.Song) { s.Cues = nil }},
	} {
		song := whole
		c.change(&song)
		w.Plan.Night = c.night
		require.Equal(t, c.want, w.StateWord(&song, c.found), "%+v", c.found)
	}
}
