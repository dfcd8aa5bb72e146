package changed

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// A change says what it breaks and mends wherever it counts; where a song stands
// in the set or in timecode makes no other finding.
func TestEditFindings(t *testing.T) {
	venue := timeline.NewVenue("hall", "Hall")
	venue.Banned = []string{"co2-jet"}
	s := testshow.Edited(t, testshow.Small(t), timeline.AddVenue(venue), timeline.AddNight(timeline.Night{Base: timeline.Base{ID: "a1"}, Name: "first", Venue: "hall"}),
		timeline.AddNight(timeline.Night{Base: timeline.Base{ID: "a2"}, Name: "second", Venue: "hall"}))
	diff := func(edits ...timeline.Edit) *FindingsDiff {
		next := testshow.Edited(t, s, edits...)
		on := timeline.Concerned(s, next, timeline.Diff(s, next))
		var each []*Forecast
		for _, c := range on {
			was, is := timeline.Compile(s, c.Was), timeline.Compile(next, c.Is)
			each = append(each, Compare(was, is, rule.Check(was, rule.Facts{}), rule.Check(is, rule.Facts{})))
		}
		return FindingsOn(on, each)
	}
	allowed := diff(timeline.AllowInVenue("hall", "co2-jet"))
	require.Empty(t, allowed.New)
	require.NotEmpty(t, allowed.Gone)
	for i, f := range allowed.Gone {
		require.Equal(t, "banned", f.Rule)
		require.Equal(t, []string{"first", "second"}[i*2/len(allowed.Gone)], f.Night, "each of two nights")
	}
	var text strings.Builder
	allowed.write(&text)
	require.Contains(t, text.String(), `  gone: on "first": article "CO2 jet": `)

	cut := diff(timeline.CutTonight("a1", timeline.Cut{Selector: timeline.Selector{What: "family", ID: string(timeline.CO2Jet)}}))
	require.NotEmpty(t, cut.Gone)
	require.Empty(t, cut.Gone[0].Night, "one night alone needs no name")

	start := timeline.Timecode{H: 9}
	moved := diff(timeline.ShiftTonight("a1", timeline.Shift{Song: "ember", Start: &start}))
	require.Empty(t, moved.New)
	require.Empty(t, moved.Gone)
	require.Positive(t, moved.Stay)
}

// What a shift moves is every cue of the song, and no other.
func TestMoved(t *testing.T) {
	s := testshow.Edited(t, testshow.Small(t), timeline.AddNight(timeline.Night{Base: timeline.Base{ID: "a1"}, Name: "first"}))
	next := testshow.Edited(t, s, timeline.ShiftTonight("a1", timeline.Shift{Song: "ember", By: timeline.FromMillis(120)}))
	was, is := timeline.Compile(s, s.Night("a1")), timeline.Compile(next, next.Night("a1"))
	list := NewMoved(was, is, "ember")
	cues := map[timeline.ID]bool{}
	for _, c := range was.Songs[0].Commands {
		cues[c.Cue.ID] = true
	}
	for _, w := range was.Songs[0].Windows {
		cues[w.Cue.ID] = true
	}
	require.Len(t, list, len(cues))
	for _, m := range list {
		require.Equal(t, timeline.Timecode{}, timecodeGap(t, was.Rate, m, 3), m.Cue)
	}
	require.Empty(t, NewMoved(was, is, "tide"))
	require.Empty(t, NewMoved(was, was, "ember"))
}

// timecodeGap takes frames off the gap of a moved cue; none is left where it
// moved by exactly so many.
func timecodeGap(t *testing.T, rate timeline.Rate, m MovedCue, frames int64) timeline.Timecode {
	t.Helper()
	at := func(text string) int64 {
		tc, err := timeline.ParseTimecode(text)
		require.NoError(t, err)
		f, err := rate.Frame(tc)
		require.NoError(t, err)
		return f
	}
	gap, err := rate.Timecode(at(m.Is) - at(m.Was) - frames)
	require.NoError(t, err)
	return gap
}
