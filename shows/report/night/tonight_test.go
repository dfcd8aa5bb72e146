package night

import (
	"bytes"
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// festival is the charged show on a night that does everything otherwise: the
// flames swapped, one song moved, a cylinder too small, words of an officer.
func festival(t testing.TB) *timeline.Show {
	t.Helper()
	s, err := testshow.Charged(t).Edit(func(d *timeline.Draft) error {
		jet := *d.Show().Stock.Article("jet")
		jet.Medium, jet.UseEach = "CO2", 1.2
		d.Put("", &jet,
			&timeline.Placed{Base: timeline.Base{ID: "c3"}, Name: "comet 3", Article: "comet"},
			&timeline.Supply{Base: timeline.Base{ID: "cyl"}, Name: "cylinder", Medium: "CO2", Fill: 9, Units: 1, Usable: 0.8, Reserve: 0.15, Feeds: []timeline.ID{"j1", "f1"}})
		n := *d.Show().Night("n1")
		n.Swaps = []timeline.Swap{{Selector: timeline.Selector{What: "family", ID: "propane-flame"}, To: "jet", Reason: "flames banned"}}
		n.Cuts = []timeline.Cut{{Selector: timeline.Selector{What: "cue", ID: "q0"}}}
		n.Rig = []timeline.RigChange{{Kind: "placed", ID: "c1", Out: true, Why: "damp"}}
		n.Shifts = []timeline.Shift{{Song: "ember", By: timeline.FromMillis(120)}, {Song: "tide", Start: &timeline.Timecode{H: 7, M: 30}}}
		n.Fills = []timeline.Fill{{Supply: "cyl", Kg: 4}}
		n.Conditions = []string{"walk-through at 16:00"}
		n.Accepted = []timeline.Acceptance{{Rule: "unwired", Record: "placed:x", By: "R. Holm", Reason: "not used"}}
		v := *d.Show().Venue("v1")
		v.Conditions, v.Quiet = []string{"fire watch"}, []string{"22:30 to 23:00"}
		set := *d.Show().Set("main")
		set.Entries = append(set.Entries[:len(set.Entries):len(set.Entries)], timeline.Entry{Song: "coda", Out: true})
		d.Put("", &n, &v, &set, &timeline.SongHead{Base: timeline.Base{ID: "coda"}, Title: "Coda", Slug: "coda"})
		return nil
	})
	require.NoError(t, err)
	return s
}

func tonightOf(t require.TestingT, p *timeline.Plan, thin float64) *Tonight {
	page, err := NewTonight(p, report.NewFindings(p, rule.Facts{}, rule.Check(p, rule.Facts{}), nil, report.Filter{}), thin, nil)
	require.NoError(t, err)
	return page
}

func TestTonightReads(t *testing.T) {
	s := festival(t)
	page := tonightOf(t, timeline.Compile(s, s.Night("n1")), ThinShare)
	var b bytes.Buffer
	require.NoError(t, page.WriteText(&b))
	testshow.Golden(t, "tonight.txt", b.Bytes())
	require.NotRegexp(t, `(?i)\b(safe|ok)\b`, b.String())
	b.Reset()
	require.NoError(t, page.WriteJSON(&b))
	testshow.Golden(t, "tonight.json", b.Bytes())
	require.True(t, json.Valid(b.Bytes()))
	require.True(t, page.NeedsAnEye())
}

// The sheet tells what the rules were asked: how many, which are off or of
// another severity, by whom and why, and what had no data. In JSON, too.
func TestTonightTellsWhatWasAsked(t *testing.T) {
	s, err := festival(t).Edit(rule.Tune(rule.Tuning{Rule: "recovery", Off: true, Reason: new("new valves"), By: new("A. Tern")}),
		rule.Tune(rule.Tuning{Rule: "separation", Off: true, Scope: new([]string{"family=co2-jet"}), Reason: new("cold")}))
	require.NoError(t, err)
	page := tonightOf(t, timeline.Compile(s, s.Night("n1")), ThinShare)
	var b bytes.Buffer
	require.NoError(t, page.WriteText(&b))
	for _, want := range []string{
		`rules asked +` + strconv.Itoa(len(rule.Rules())-1) + `\n`,
		`rule recovery +off; by A\. Tern: new valves\n`,
		`rule separation +off only for family=co2-jet; by not given: cold\n`,
		`errors open +\d+: .*wrong-control`,
		`not compared +.*label distance`,
		`recordings +not looked at\n`,
	} {
		require.Regexp(t, want, b.String())
	}
	b.Reset()
	require.NoError(t, page.WriteJSON(&b))
	var read struct {
		Rules report.Standing `json:"rules"`
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &read))
	require.Equal(t, *page.Standing, read.Rules)
	require.Len(t, read.Rules.Otherwise, 2)
	require.NotEmpty(t, read.Rules.NoData)
}

// The tour itself has neither date nor venue, and says so; nothing is different.
func TestTonightOfTheTour(t *testing.T) {
	page := tonightOf(t, timeline.Compile(festival(t), nil), ThinShare)
	var b strings.Builder
	require.NoError(t, page.WriteText(&b))
	for _, line := range []string{"night       not given\n", "date        not given\n", "venue       not given\n", "condition   not given\n", "Changes from the tour\n  nothing\n"} {
		require.Contains(t, b.String(), line)
	}
	for _, s := range page.Songs {
		require.Equal(t, s.Tour, s.Hits)
		require.False(t, s.Thin || s.Moved)
	}
}

// A show without songs, rig or stock still has a sheet, of nothing.
func TestTonightOfNothing(t *testing.T) {
	page := tonightOf(t, timeline.Compile(timeline.NewShow("x", "Nothing", timeline.Rate25), nil), ThinShare)
	var b strings.Builder
	require.NoError(t, page.WriteText(&b))
	require.Contains(t, b.String(), "no song is played")
	require.Contains(t, b.String(), "nothing that is used up is commanded")
	require.False(t, page.NeedsAnEye())
}

// A song is thin when more than the share of its hits is lost, not when just so
// many are.
func TestThinSongs(t *testing.T) {
	s := testshow.Small(t) // five hits in the first song, of which one is disabled
	night := func(cuts ...string) *timeline.Plan {
		n := timeline.Night{Set: "main"}
		for _, c := range cuts {
			n.Cuts = append(n.Cuts, timeline.Cut{Selector: timeline.Selector{What: "cue", ID: c}})
		}
		return timeline.Compile(s, &n)
	}
	for _, c := range []struct {
		cuts []string
		lost float64
		thin bool
	}{{nil, 0, false}, {[]string{"q0"}, 0.25, false}, {[]string{"q0", "q3"}, 0.5, true}} {
		song := tonightOf(t, night(c.cuts...), ThinShare).Songs[0]
		require.Equal(t, 4, song.Tour)
		require.Equal(t, c.lost, song.Share)
		require.Equal(t, c.thin, song.Thin)
		require.Equal(t, len(c.cuts), song.Cut)
	}
}

// Whatever a night cuts and swaps: every cue is counted in one place, the banks
// add up to the night's totals, and the tour beside it stays as it is.
func TestTonightAddsUp(t *testing.T) {
	s := festival(t)
	selectors := []timeline.Selector{{What: "family", ID: "comet"}, {What: "article", ID: "jet"}, {What: "placed", ID: "c1"}, {What: "lane", ID: "lfla"},
		{What: "cue", ID: "q1"}, {What: "song", ID: "tide"}}
	tour := timeline.Compile(s, nil).Text()
	rapid.Check(t, func(rt *rapid.T) {
		n := &timeline.Night{Set: "main"}
		for _, sel := range rapid.SliceOfDistinct(rapid.SampledFrom(selectors), func(x timeline.Selector) string { return x.What }).Draw(rt, "cuts") {
			n.Cuts = append(n.Cuts, timeline.Cut{Selector: sel})
		}
		for _, sel := range rapid.SliceOfN(rapid.SampledFrom(selectors), 0, 2).Draw(rt, "swaps") {
			n.Swaps = append(n.Swaps, timeline.Swap{Selector: sel, To: rapid.SampledFrom([]timeline.ID{"jet", "comet", "flame"}).Draw(rt, "to")})
		}
		p := timeline.Compile(s, n)
		page := tonightOf(rt, p, ThinShare)
		for i, song := range page.Songs {
			windows := map[timeline.ID]bool{}
			for _, w := range p.Songs[i].Windows {
				windows[w.Cue.ID] = true
			}
			require.Equal(rt, len(p.Songs[i].Song.Cues), song.Hits+len(windows)+song.Cut+song.Lost+song.Disabled, song.Title)
		}
		pieces, nec := 0, 0.0
		for _, b := range page.Load {
			pieces, nec = pieces+b.Used.Pieces, nec+b.Used.NEC
		}
		for _, u := range page.Unused {
			pieces, nec = pieces+u.Pieces, nec+u.NEC
		}
		require.Equal(rt, page.Used.Pieces, pieces)
		require.InDelta(rt, page.Used.NEC, nec, 1e-6)
		require.Equal(rt, tour, timeline.Compile(s, nil).Text())
	})
}

// An arm is raised for nothing when the night has cut or swapped all that its
// device plays meanwhile; on the tour it is needed. A cut of its lane takes the
// window out.
func TestArmsForNothing(t *testing.T) {
	s := festival(t)
	tour := tonightOf(t, timeline.Compile(s, nil), ThinShare)
	require.Equal(t, 1, tour.Arms[0].Windows)
	require.Equal(t, 1, tour.Idle[0].Windows, "one arm goes up at 0:40 and nothing follows")
	night := tonightOf(t, timeline.Compile(s, s.Night("n1")), ThinShare)
	require.Empty(t, night.Arms)
	require.Equal(t, 2, night.Idle[0].Windows)

	lane := timeline.Selector{What: "lane", ID: armLane(t, s)}
	s, err := s.Edit(timeline.CutTonight("n1", timeline.Cut{Selector: lane, Reason: "no flames"}))
	require.NoError(t, err)
	cut := tonightOf(t, timeline.Compile(s, s.Night("n1")), ThinShare)
	require.Empty(t, cut.Arms)
	require.Empty(t, cut.Idle)
}

// armLane finds the lane of the windows that a show has.
func armLane(t *testing.T, s *timeline.Show) string {
	p := timeline.Compile(s, nil)
	for i := range p.Songs {
		if len(p.Songs[i].Windows) > 0 {
			return string(p.Songs[i].Windows[0].Lane.ID)
		}
	}
	t.Fatal("the show has no windows")
	return ""
}

// Of alternatives the set lasts as long as the longest, and both start together;
// what the officer asks for stands among the conditions.
func TestTonightSetTimeAndDistances(t *testing.T) {
	s, err := festival(t).Edit(timeline.AlternativesInSet("main", "ember", "tide"),
		timeline.DistanceTonight("n1", timeline.Distance{To: timeline.ToAudience, AtLeast: 12, Fallout: 2, Families: []timeline.Family{timeline.Comet}, Clause: "the officer"}))
	require.NoError(t, err)
	page := tonightOf(t, timeline.Compile(s, s.Night("n1")), 0.4)
	require.Equal(t, wording.Seconds(60*timeline.Second), page.Length)
	require.Equal(t, []wording.Seconds{0, 0}, []wording.Seconds{page.Songs[0].At, page.Songs[1].At})
	require.Contains(t, page.Conditions, report.Condition{From: "night", Text: "distance to audience: family comet, at least 12 m or, where it is more, 2 x fallout radius, asked for by the officer"})
	require.Equal(t, "as asked for", page.ThinFrom)
}
