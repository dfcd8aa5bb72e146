package testshow_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	_ "emberbeat/timeline/testtool"
)

// What refusals write for a record is found again, whether it has a name of its
// own, shares one or has none; and so is what lists call it.
func TestWhatIsWrittenIsFound(t *testing.T) {
	plain := testshow.Charged(t)
	rapid.Check(t, func(rt *rapid.T) {
		s := testshow.Renamed(rt, testshow.Random(rt, plain))
		p, names := timeline.Compile(s, nil), s.Names()
		for _, k := range timeline.Kinds() {
			songs := []timeline.ID{""}
			if k.InSong {
				songs = []timeline.ID{"ember", "tide"}
			}
			for _, song := range songs {
				for _, r := range k.List(s, song) {
					want := timeline.Ref{Kind: k.Name, Song: song, ID: r.RecordID()}
					got, err := p.FindRecord(names.Written(want))
					require.NoError(rt, err, names.Written(want))
					require.Equal(rt, want, got, names.Written(want))
				}
			}
		}
	})
}

// Naming all cues of a song costs twice as much for twice as many.
func TestNamingAListIsLinear(t *testing.T) {
	cost := func(n int) float64 {
		s := testshow.Edited(t, testshow.Small(t), func(d *timeline.Draft) error {
			for i := range n {
				d.Put("ember", &timeline.Cue{Base: timeline.Base{ID: timeline.ID([]byte{'y', byte('a' + i/676), byte('a' + i/26%26), byte('a' + i%26)})}, Lane: "ljet", At: timeline.AtTime(timeline.Time(i) * timeline.Millisecond)})
			}
			return nil
		})
		return testing.AllocsPerRun(1, func() {
			names := s.Names()
			for _, c := range s.Song("ember").Cues {
				names.Called("ember", c)
				names.NamedRef(timeline.Ref{Kind: "cue", Song: "ember", ID: c.ID})
			}
		})
	}
	require.Less(t, cost(2000), 2.5*cost(1000))
}
