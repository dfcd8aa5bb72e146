package changed

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// reworked is the charged show after a day's work on everything.
func reworked(t testing.TB, s *timeline.Show) *timeline.Show {
	t.Helper()
	field := func(kind, song, id, name, value string) timeline.Edit {
		return func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: kind, Song: timeline.ID(song), ID: timeline.ID(id)}, name, timeline.Value{Text: value})
		}
	}
	next, err := s.Edit(
		field("show", "", "show1", "pre-roll", "4"),
		field("song", "", "tide", "start", "03:00:00:00"),
		field("cue", "ember", "q1", "at", "3.2"),
		field("cue", "ember", "q3", "at", "0:20.5"),
		field("cue", "ember", "q2", "target", "c2"),
		field("cue", "ember", "q5", "note", "later"),
		field("lane", "tide", "ljet", "article", "flame"),
		field("article", "", "jet", "lead", "0.2"),
		field("wire", "", "w1", "output", "7"),
		field("wire", "", "w2", "circuit", ""),
		field("placed", "", "c2", "article", "jet"),
		field("venue", "", "v1", "trim", "9"),
		func(d *timeline.Draft) error {
			if err := d.Remove(timeline.Ref{Kind: "cue", Song: "ember", ID: "q0"}); err != nil {
				return err
			}
			set, night := *d.Show().Set("main"), *d.Show().Night("n1")
			set.Entries = []timeline.Entry{{Song: "tide"}, {Song: "ember"}}
			night.Cuts = []timeline.Cut{{Selector: timeline.Selector{What: "family", ID: "comet"}}}
			d.Put("", &set, &night, &timeline.Setting{Base: timeline.Base{ID: "roof"}, Off: true})
			d.Put("ember", &timeline.Marker{Base: timeline.Base{ID: "m1"}, Name: "drop", At: timeline.AtTime(timeline.Second)})
			return nil
		})
	require.NoError(t, err)
	return next
}

func TestShowDiffReads(t *testing.T) {
	a := testshow.Charged(t)
	b := reworked(t, a)
	d := NewDiff(a, b)
	was, is := timeline.Compile(a, a.Night("n1")), timeline.Compile(b, b.Night("n1"))
	d.Findings = NewFindingsDiff(was, is, rule.Check(was, rule.Facts{}), rule.Check(is, rule.Facts{}))
	var out bytes.Buffer
	require.NoError(t, d.WriteText(&out))
	testshow.Golden(t, "show-diff.txt", out.Bytes())
	out.Reset()
	require.NoError(t, d.WriteJSON(&out))
	var back struct {
		Summary  []string
		Changes  []Line
		Findings struct{ New, Gone []any }
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &back))
	require.Equal(t, d.Summary, back.Summary)
	require.Len(t, back.Changes, len(timeline.Diff(a, b)))
	require.Len(t, back.Findings.New, len(d.Findings.New))
}

func TestShowDiffOfTheSame(t *testing.T) {
	s := testshow.Charged(t)
	d := NewDiff(s, s)
	require.True(t, d.Same())
	require.Empty(t, d.Summary)
}

// Everything that differs between two shows is said in some line: an edit of
// any one field leaves no summary empty.
func TestShowDiffMissesNothing(t *testing.T) {
	a := testshow.Charged(t)
	b := reworked(t, a)
	for _, c := range timeline.Diff(a, b) {
		one, err := timeline.Apply(a, timeline.Changes{c})
		require.NoError(t, err, c.String())
		require.NotEmpty(t, NewDiff(a, one).Summary, c.String())
	}
}

// Cues on bars move with the beat map, though no cue is changed.
func TestShowDiffFollowsBeatMaps(t *testing.T) {
	a := testshow.Charged(t)
	head := a.Song("ember").SongHead
	beats, err := timeline.NewBeatMap([]timeline.Anchor{{Bar: 1, At: timeline.Second, Metre: timeline.Metre{Num: 4, Den: 4}}, {Bar: 31, At: timeline.Minute + timeline.Second}})
	require.NoError(t, err)
	head.Beats = beats
	b, err := a.Edit(func(d *timeline.Draft) error { d.Put("", &head); return nil })
	require.NoError(t, err)
	require.Contains(t, NewDiff(a, b).Summary, `song "Ember, slowly": 3 cues moved by +1.0000 s`)
}

// A song's new number in the order makes no new finding of an old one.
func TestFindingsDiffIgnoresNumbers(t *testing.T) {
	a := testshow.Charged(t)
	b, err := a.Edit(func(d *timeline.Draft) error {
		set := *d.Show().Set("main")
		set.Entries = []timeline.Entry{{Song: "tide"}, {Song: "ember"}}
		d.Put("", &set)
		return nil
	})
	require.NoError(t, err)
	was, is := timeline.Compile(a, nil), timeline.Compile(b, nil)
	before := rule.Check(was, rule.Facts{})
	d := NewFindingsDiff(was, is, before, rule.Check(is, rule.Facts{}))
	require.Empty(t, d.New)
	require.Empty(t, d.Gone)
	require.Equal(t, len(before), d.Stay)
	require.NotZero(t, d.Stay)
}
