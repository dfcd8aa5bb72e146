package score

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// small is a whole song in few lines.
const small = `
title  Small Proof
slug   small-proof
key    A minor
metre  4/4
leadin 250
tail   500
tempo  1.1 120
mix kick  level -3
mix bass  level -6
mix vox   level -6 room 20
pattern k   X...x...o...x...
pattern b   1---3---5---8---
pattern v   5---....5-------
part One 2
  chords Am F,C
  kick   k
  bass   b
part Two 1
  vox@-3 v
`

func TestParseSmall(t *testing.T) {
	s, err := Parse(small)
	require.NoError(t, err)
	require.Equal(t, "Small Proof", s.Title)
	require.Equal(t, 3, s.Bars())
	require.Equal(t, 25*Second/4+Second/2, s.Length)
	require.Equal(t, []Section{
		{"One", 1, 2, Second / 4, 17 * Second / 4},
		{"Two", 3, 1, 17 * Second / 4, 25 * Second / 4},
	}, s.Sections)
	require.Equal(t, []Hit{{Second / 4, "kick", 3}, {3 * Second / 4, "kick", 2}, {5 * Second / 4, "kick", 1}}, s.Hits[:3])
	require.Equal(t, []Stop{{19 * Second / 4, 21 * Second / 4}}, s.Stops)
}

// A riff follows the chords: A C E A over Am; F and C share the second bar.
func TestRiffFollowsChords(t *testing.T) {
	s, err := Parse(small)
	require.NoError(t, err)
	var keys []key
	for _, n := range s.notes {
		if n.instrument == "bass" {
			keys = append(keys, n.keys...)
		}
	}
	require.Equal(t, []key{33, 36, 40, 45, 29, 33, 43, 48}, keys)
}

func TestParseErrors(t *testing.T) {
	for name, c := range map[string]struct{ old, new, says string }{
		"unknown keyword":       {"title ", "titel ", `line 2: "titel" is not a keyword`},
		"no title":              {"title  Small Proof", "", "title or slug is missing"},
		"no metre for a tempo":  {"metre  4/4", "", "metre must stand before"},
		"metre twice":           {"leadin 250", "metre 6/8", "line 6: the metre is written twice"},
		"odd metre":             {"4/4", "7/9", `line 5: metre "7/9"`},
		"no tempo":              {"tempo  1.1 120", "", "a tempo at 1.1 is missing"},
		"tempo too high":        {"1.1 120", "1.1 1200", "1200 is outside 20..400"},
		"tempo after the end":   {"1.1 120", "1.1 120\ntempo 9.1 60", "after the last bar"},
		"tempo out of order":    {"1.1 120", "1.1 120\ntempo 1.1 60", "does not come after"},
		"short pattern":         {"X...x...o...x...", "X...", "pattern k has 4 steps, a bar has 16"},
		"pattern twice":         {"pattern b", "pattern k", "pattern k is written twice"},
		"unknown pattern":       {"kick   k", "kick   q", `kick: pattern "q" is not known`},
		"unknown instrument":    {"kick   k", "kazoo  k", `instrument "kazoo" is not known`},
		"too many bars":         {"kick   k", "kick   k*3", "3 bars are written where the part has 2"},
		"repeat of nothing":     {"kick   k", "kick   k*0", "0 is outside"},
		"wrong mark":            {"kick   k", "kick   b", `kick cannot play step '1'`},
		"riff without a chord":  {"chords Am F,C", "", "bass needs chords"},
		"unknown chord":         {"Am F,C", "Am H", `chord "H"`},
		"unknown chord kind":    {"Am F,C", "Aq F", `kind "q" is not known`},
		"three chords in a bar": {"Am F,C", "F,C,G", "one chord or two"},
		"not in the mix":        {"mix kick  level -3", "", "kick has no mix line"},
		"mix without a value":   {"level -3", "level", "pairs of name and number"},
		"mix setting unknown":   {"level -3", "loud 3", `no setting "loud"`},
		"pick-up fills the bar": {"tail ", "pickup 4\ntail ", "fills the bar"},
		"pick-up in two bars":   {"tail ", "pickup 1\ntail ", "must have one bar"},
		"level is no number":    {"vox@-3", "vox@soft", `"soft" is not a whole number`},
	} {
		t.Run(name, func(t *testing.T) {
			require.Contains(t, small, c.old)
			_, err := Parse(strings.Replace(small, c.old, c.new, 1))
			require.ErrorContains(t, err, c.says)
		})
	}
}

// A note ahead of the pick-up would come before the song begins.
func TestParseRefusesNotesAheadOfPickup(t *testing.T) {
	text := strings.Replace(small, "tail ", "pickup 1\ntail ", 1)
	text = strings.Replace(text, "part One 2", "part One 1", 1)
	_, err := Parse(text)
	require.ErrorContains(t, err, "plays ahead of the pick-up")
}

func FuzzParse(f *testing.F) {
	f.Add(small)
	f.Add("part 0 1\nbass -") // bars of no metre
	for _, slug := range order {
		text, err := texts.ReadFile("songs/" + slug + ".score")
		require.NoError(f, err)
		f.Add(string(text))
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := Parse(text)
		if err != nil {
			return
		}
		require.Positive(t, s.Length)
		require.NotEmpty(t, s.Sections)
	})
}
