package score

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// The golden text is rewritten when this variable is set.
const updateVariable = "EMBERBEAT_UPDATE_GOLDEN"

func TestTruthText(t *testing.T) {
	const path = "testdata/truth.golden"
	got := Truth(Songs())
	if os.Getenv(updateVariable) != "" {
		require.NoError(t, os.WriteFile(path, []byte(got), 0o666))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), got, "if the songs were changed on purpose, set %s=1 and run make songs", updateVariable)
}

func TestSongsAreWhole(t *testing.T) {
	for _, s := range Songs() {
		t.Run(s.Slug, func(t *testing.T) {
			require.Greater(t, s.Length, 45*Second)
			require.Less(t, s.Length, 75*Second)
			require.Equal(t, s.Anchors[0].At, s.Sections[0].From)
			for i := 1; i < len(s.Sections); i++ {
				require.Equal(t, s.Sections[i-1].To, s.Sections[i].From)
				require.Equal(t, s.Sections[i].From, s.Start(s.Sections[i].Bar, 1))
			}
			end := s.Anchors[len(s.Anchors)-1]
			require.Equal(t, end.At, s.Sections[len(s.Sections)-1].To)
			require.Equal(t, s.Bars()+1, end.Bar)
			require.Less(t, end.At, s.Length)
			requireInside(t, s)
		})
	}
}

func requireInside(t *testing.T, s Song) {
	last := s.Anchors[0].At
	for _, h := range s.Hits {
		require.GreaterOrEqual(t, h.At, last)
		last = h.At
	}
	require.Less(t, last, s.Anchors[len(s.Anchors)-1].At)
}

func TestDownbeatsAreBeatsAndPulses(t *testing.T) {
	for _, s := range Songs() {
		require.Len(t, s.Downbeats(), s.Bars(), s.Slug)
		require.Subset(t, s.Pulses(), s.Downbeats(), s.Slug)
		require.Subset(t, s.Beats(), s.Pulses(), s.Slug)
	}
}

func song(t *testing.T, slug string) Song {
	for _, s := range Songs() {
		if s.Slug == slug {
			return s
		}
	}
	t.Fatalf("there is no song %s", slug)
	return Song{}
}

// What each song is there for.
func TestSlowMatchesIsSteady(t *testing.T) {
	require.Len(t, song(t, "slow-matches").Anchors, 2)
}

func TestTidewaterEngineHaltsAndChanges(t *testing.T) {
	s := song(t, "tidewater-engine")
	require.Equal(t, []Stop{{s.Start(11, 1), s.Start(12, 1)}}, s.Stops)
	require.Equal(t, Anchor{12, 1, s.Start(12, 1), 144}, s.Anchors[1])
	require.Equal(t, 5*Second/2, s.Start(11, 1)-s.Start(10, 1))
}

func TestLanternsGoInSix(t *testing.T) {
	s := song(t, "lanterns-over-the-weir")
	require.Equal(t, Metre{6, 8, 3}, s.Metre)
	require.Equal(t, 6*len(s.Downbeats()), len(s.Beats()))
	require.Equal(t, 2*len(s.Downbeats()), len(s.Pulses()))
}

func TestKettleLightningHasPickupAndOffbeats(t *testing.T) {
	s := song(t, "kettle-lightning")
	require.Equal(t, Anchor{0, 3, Second / 4, 168}, s.Anchors[0])
	eighth := (s.Start(2, 2) - s.Start(2, 1)) / 2
	struck := map[Tick]bool{}
	for _, h := range s.Hits {
		struck[h.At] = struck[h.At] || h.Drum == "snare"
	}
	for _, section := range s.Sections[1:4] {
		for bar := section.Bar; bar < section.Bar+section.Bars; bar++ {
			for beat := 1; beat <= 4; beat++ {
				require.True(t, struck[s.Start(bar, beat)+eighth], "%d.%d", bar, beat)
			}
		}
	}
}
