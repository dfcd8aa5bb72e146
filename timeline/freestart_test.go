package timeline_test

import (
	"fmt"
	"testing"

	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
)

// addAtFree adds a song of a length at the first free timecode.
func addAtFree(t *testing.T, s *timeline.Show, n int, length timeline.Time) (*timeline.Show, timeline.Timecode) {
	t.Helper()
	head := &timeline.SongHead{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("s%03d", n))}, Length: length}
	tc, err := s.FreeStart(head)
	require.NoError(t, err)
	head.Start = tc
	d := timeline.NewDraft(s)
	d.Put("", head)
	return d.Show(), tc
}

func TestSongsStartOnFreeHours(t *testing.T) {
	for _, rate := range timeline.Rates() {
		s := timeline.NewShow("s", "", rate)
		d := timeline.NewDraft(s)
		head := *s.Head
		head.PreRoll = 10 * timeline.Second
		d.Put("", &head)
		s = d.Show()
		var tc timeline.Timecode
		for n := range 60 {
			s, tc = addAtFree(t, s, n, 4*timeline.Minute)
			switch {
			case n < 23:
				require.Equal(t, timeline.Timecode{H: uint8(n + 1)}, tc, rate)
			case n < 46:
				require.Equal(t, timeline.Timecode{H: uint8(n - 22), M: 30}, tc, rate)
			}
		}
		requireNoClash(t, s)
	}
}

func TestLongSongsDoNotOverlap(t *testing.T) {
	s := timeline.NewShow("s", "", timeline.Rate25)
	for n := range 12 {
		s, _ = addAtFree(t, s, n, 89*timeline.Minute)
	}
	requireNoClash(t, s)
	head := &timeline.SongHead{Base: timeline.Base{ID: "last"}, Length: 89 * timeline.Minute}
	_, err := s.FreeStart(head)
	require.ErrorContains(t, err, "no free timecode is left")
}

func TestFirstHourIsForNobody(t *testing.T) {
	s := timeline.NewShow("s", "", timeline.Rate24)
	_, tc := addAtFree(t, s, 0, 0)
	require.Equal(t, timeline.Timecode{H: 1}, tc)
}

func requireNoClash(t *testing.T, s *timeline.Show) {
	t.Helper()
	plan := timeline.Compile(s, nil)
	for i := range plan.Songs {
		require.NoError(t, plan.Songs[i].StartErr)
		if i > 0 {
			require.LessOrEqual(t, plan.Songs[i-1].Last(), plan.Songs[i].First())
		}
	}
}

// An hour that stands on paper for a song that is elsewhere now, or that was played,
// is nobody's.
func TestHoursOnPaperAreLeftAlone(t *testing.T) {
	s := timeline.NewShow("s", "", timeline.Rate25)
	for n := range 3 {
		s, _ = addAtFree(t, s, n, 4*timeline.Minute)
	}
	ids := []timeline.Entry{{Song: "s000"}, {Song: "s001"}, {Song: "s002"}}
	s, err := s.Edit(func(d *timeline.Draft) error {
		for i, slug := range []string{"one", "two", "three"} {
			h := d.Show().Song(timeline.ID(fmt.Sprintf("s%03d", i))).SongHead
			h.Slug = slug
			d.Put("", &h)
		}
		d.Put("", &timeline.Set{Base: timeline.Base{ID: "set"}, Name: "Main", Entries: ids},
			&timeline.Night{Base: timeline.Base{ID: "n1"}, Name: "One", Slug: "n1", Set: "set"}, &timeline.Night{Base: timeline.Base{ID: "n2"}, Name: "Two", Slug: "n2", Set: "set"})
		return nil
	})
	require.NoError(t, err)
	printed := timeline.Compile(s, s.Night("n1"))
	require.Equal(t, "1,2,3", printed.Hours().String())
	s, err = s.Edit(timeline.MarkPrinted("n1", []timeline.PrintMark{{Sheet: "cue-list", Digest: "0f", Hours: printed.Hours()}}), func(d *timeline.Draft) error {
		h := d.Show().Song("s001").SongHead
		h.Start = timeline.Timecode{H: 5}
		d.Put("", &h)
		return nil
	})
	require.NoError(t, err)
	_, tc := addAtFree(t, s, 9, timeline.Minute)
	require.Equal(t, timeline.Timecode{H: 4}, tc, "2 stands on the sheets of night One")
	s, err = s.Edit(func(d *timeline.Draft) error {
		h := d.Show().Song("s000").SongHead
		h.Start = timeline.Timecode{H: 4}
		d.Put("", &h)
		return nil
	})
	require.NoError(t, err)
	became, err := timeline.ParseOutcome("bank-a:7 fired placed=p1 article=jet")
	require.NoError(t, err)
	s, err = s.Edit(timeline.EditNight("n2", func(_ *timeline.Show, n *timeline.Night) error {
		n.Outcomes = []timeline.Outcome{became}
		return nil
	}))
	require.NoError(t, err)
	require.Equal(t, "1,2,3,4,5", s.OnPaper().String())
	_, tc = addAtFree(t, s, 9, timeline.Minute)
	require.Equal(t, timeline.Timecode{H: 6}, tc, "4 and 5 were played in night Two")
}
