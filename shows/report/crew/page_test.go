package crew

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/shows/report/calling"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

func night(t testing.TB) *timeline.Plan {
	t.Helper()
	s := testshow.Small(t)
	return timeline.Compile(s, s.Nights[0])
}

func page(t testing.TB, p *timeline.Plan, reader string) *Page {
	t.Helper()
	pg, err := New(p, rule.Facts{}, rule.Check(p, rule.Facts{}), reader)
	require.NoError(t, err)
	return pg
}

// Cues are those of the calling view, with the timecodes that the cue list prints: of
// the command, and of the last closing.
func TestCuesAsTheCueList(t *testing.T) {
	for _, p := range []*timeline.Plan{night(t), timeline.Compile(testshow.Tour(t, 3, 40), nil)} {
		pg := page(t, p, "")
		list, err := report.NewCueList(p, report.Filter{})
		require.NoError(t, err)
		for i := range pg.Songs {
			b := calling.New(p, i)
			require.Len(t, pg.Songs[i].Cues, len(b.Cues))
			for k := range b.Cues {
				c := &pg.Songs[i].Cues[k]
				first, last := "", ""
				for _, l := range list.Lines {
					if l.Song == string(pg.Songs[i].ID) && l.Cue == string(c.ID) && l.Action == "hit" {
						if first == "" || l.Timecode < first {
							first = l.Timecode
						}
						last = max(last, l.Close)
					}
				}
				require.Equal(t, first, c.Code, "%s %s", pg.Songs[i].Title, c.Bar)
				require.Equal(t, last, c.Until, "%s %s", pg.Songs[i].Title, c.Bar)
			}
		}
	}
}

// A song of which no length is given runs until its last cue has closed.
func TestSongWithoutLength(t *testing.T) {
	p := timeline.Compile(testshow.Tour(t, 3, 40), nil)
	g := page(t, p, "").Songs[1]
	require.Zero(t, p.Songs[1].Duration)
	require.Equal(t, slices.MaxFunc(g.Cues, func(a, b Cue) int { return int(a.End - b.End) }).End, g.Duration)
}

// The whole of a page has no person in it: names and licences stand neither in its
// data nor in findings, of which it is said how many are left out.
func TestNoPersonInAPage(t *testing.T) {
	s := testshow.Edited(t, testshow.Small(t), func(d *timeline.Draft) error {
		d.Put("", &timeline.Person{Base: timeline.Base{ID: "p1"}, Name: "Quillon Vantreske", Role: timeline.Operator, Licence: "XQ-5521-Z", Expires: "2001-01-01", Age: 17},
			&timeline.Person{Base: timeline.Base{ID: "p2"}, Name: "Brindle Oxmoor", Role: timeline.Operator, Licence: "XQ-5522-Z", Expires: "2001-01-01", Age: 17})
		return d.Set(timeline.Ref{Kind: "night", ID: "n1"}, "crew", timeline.Value{Items: []string{"p1", "p2"}})
	})
	p := timeline.Compile(s, s.Nights[0])
	facts := rule.Facts{Today: "2031-05-01"}
	found := rule.Check(p, facts)
	require.True(t, slices.ContainsFunc(found, func(f rule.Finding) bool { return namesPerson(s, f.Text) }), "there is such a finding")
	pg, err := New(p, facts, found, "")
	require.NoError(t, err)
	text, err := json.Marshal(pg)
	require.NoError(t, err)
	require.NotContains(t, string(text), "Vantreske")
	require.NotContains(t, string(text), "Oxmoor")
	require.NotContains(t, string(text), "552")
	require.Contains(t, pg.Withheld, "about persons: not in this file")
	require.Empty(t, page(t, night(t), "").Withheld)
}

// Each role has its sheets; a spotter has one for every position, and a page for
// spotters no other role.
func TestRoles(t *testing.T) {
	pg := page(t, night(t), "")
	require.Equal(t, []string{"=front left"}, pg.Positions)
	require.Equal(t, "Spotter, =front left", pg.Roles[len(pg.Roles)-1].Name)
	require.Len(t, pg.Roles, 5)
	pg = page(t, night(t), Spotters)
	require.Len(t, pg.Roles, 1)
	require.Equal(t, 0, *pg.Roles[0].At)
}

func TestSheets(t *testing.T) {
	all := []string{"cue-list", "running-sheet", "hold-sheet", "spotter-sheet", "load-plan", "order-list", "permit-pack", "return-sheet", "misfire-log", "cut-list"}
	for _, c := range []struct {
		asked  []string
		reader string
		want   []string
		err    string
	}{
		{nil, "", []string{"running-sheet", "hold-sheet", "spotter-sheet", "load-plan", "cut-list"}, ""},
		{[]string{"permit-pack", "cue-list"}, "", []string{"cue-list", "permit-pack"}, ""},
		{[]string{"all"}, "", all, ""},
		{nil, Spotters, []string{"running-sheet", "hold-sheet", "spotter-sheet", "cut-list"}, ""},
		{[]string{"all"}, Spotters, []string{"cue-list", "running-sheet", "hold-sheet", "spotter-sheet", "cut-list"}, ""},
		{[]string{"order-list"}, Spotters, nil, "not for spotters"},
		{[]string{"no-such"}, "", nil, "is no sheet; there are"},
		{nil, "drivers", nil, "made for everybody, or for spotters"},
	} {
		got, err := Sheets(all, c.asked, c.reader)
		if c.err != "" {
			require.ErrorContains(t, err, c.err)
			continue
		}
		require.NoError(t, err)
		require.Equal(t, c.want, got, "%v for %q", c.asked, c.reader)
	}
}

// A song that starts at a label that its rate does not have is refused.
func TestWrongStart(t *testing.T) {
	s := testshow.Edited(t, testshow.Small(t), func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "song", ID: "tide"}, "start", timeline.Value{Text: "02:00:00:29"})
	})
	_, err := New(timeline.Compile(s, nil), rule.Facts{}, nil, "")
	require.ErrorContains(t, err, "its start")
}
