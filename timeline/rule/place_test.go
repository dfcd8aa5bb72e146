package rule

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// nightCase is one line of a table about a night in a venue.
type nightCase struct {
	name  string
	edits []timeline.Edit
	want  []string
}

func runNight(t *testing.T, name string, cases []nightCase) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := stage(t, append(edits(
				put(&timeline.Venue{Base: base{ID: "v"}, Name: "Low Hall", Slug: "v", Tolerance: 0.2, Margin: 1}),
				put(&timeline.Night{Base: base{ID: "n"}, Name: "night", Slug: "n", Venue: "v"})), c.edits...)...)
			requireFindings(t, c.want, ofRule(name, Check(timeline.Compile(s, s.Night("n")), Facts{})))
		})
	}
}

func TestBanned(t *testing.T) {
	play := cue("a", "j1", 10*sec)
	banned := field("venue", "v", "banned", "co2-jet")
	runNight(t, "banned", []nightCase{
		{"a family", edits(banned, play, cue("b", "j2", 10*sec)), []string{"article:jet: 2 commands, and Low Hall bans co2-jet"}},
		{"an article", edits(field("venue", "v", "banned", "jet"), play), []string{"article:jet: bans jet"}},
		{"another family", edits(field("venue", "v", "banned", "propane-flame"), play), nil},
		{"not played", edits(banned), nil},
		{"cut for the night", edits(banned, play, field("night", "n", "cuts", "family=co2-jet")), nil},
		{"swapped for the night", edits(banned, play, field("night", "n", "swaps", "family=co2-jet to=bang")), nil},
		{"no venue", edits(banned, play, field("night", "n", "venue", "")), nil},
	})
	s := stage(t, put(&timeline.Venue{Base: base{ID: "v"}, Name: "Low Hall", Slug: "v", Banned: []string{"co2-jet"}}, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}), play)
	require.Empty(t, fixed(t, "banned", s, "n"))
}

// Position z + height*(1+tolerance) + margin <= trim, with
// 20 % and 1 m (our judgement). At z 1.2 m, 4 m of height need 1.2+4.8+1 = 7 m.
func TestRoof(t *testing.T) {
	up := edits(put(&timeline.StagePosition{Base: base{ID: "riser"}, Z: 1.2}), field("placed", "j1", "position", "riser"), field("article", "jet", "height", "4"), cue("a", "j1", 10*sec))
	with := func(more ...timeline.Edit) []timeline.Edit { return append(append([]timeline.Edit{}, up...), more...) }
	runNight(t, "low-roof", []nightCase{
		{"just high enough", with(field("venue", "v", "trim", "7")), nil},
		{"a centimetre too low", with(field("venue", "v", "trim", "6.99")), []string{"placed:j1: jet reaches 6 m with tolerance, and needs 1 m below a trim height of 6.99 m"}},
		{"no trim height given", up, nil},
		{"no height given", with(field("venue", "v", "trim", "1"), field("article", "jet", "height", "0")), nil},
		{"no position given counts from the floor", with(field("placed", "j1", "position", ""), field("venue", "v", "trim", "5.8")), nil},
		{"and is too high as well", with(field("placed", "j1", "position", ""), field("venue", "v", "trim", "5.79")), []string{"placed:j1"}},
		{"another tolerance", with(field("venue", "v", "trim", "7"), field("venue", "v", "tolerance", "0.25")), []string{"placed:j1: reaches 6.2 m"}},
		{"not played", with(field("venue", "v", "trim", "2"), field("night", "n", "cuts", "article=jet")), nil},
		{"a higher article of a cue", with(field("venue", "v", "trim", "7"), field("article", "bang", "height", "5"), func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "cue", Song: "a", ID: "a-j1-10000"}, "article", timeline.Value{Text: "bang"})
		}), nil},
	})
	runNight(t, "roof", []nightCase{
		{"a jet is no fire", with(field("venue", "v", "trim", "5")), nil},
		{"a flame is", with(field("venue", "v", "trim", "5"), field("article", "jet", "family", "propane-flame")), []string{"placed:j1: jet reaches 6 m"}},
		{"a higher article of a cue", with(field("venue", "v", "trim", "7"), field("article", "bang", "height", "5"), func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "cue", Song: "a", ID: "a-j1-10000"}, "article", timeline.Value{Text: "bang"})
		}), []string{"placed:j1: bang reaches 7.2 m"}},
		{"a flame that points down from the truss", with(field("position", "riser", "z", "7"), field("placed", "j1", "tilt", "180"), field("venue", "v", "trim", "8.2"), field("article", "jet", "family", "propane-flame")), nil},
		{"and one that leans over", with(field("venue", "v", "trim", "5"), field("placed", "j1", "tilt", "-80"), field("article", "jet", "family", "propane-flame")), nil},
		{"not enough", with(field("venue", "v", "trim", "3"), field("placed", "j1", "tilt", "-80"), field("article", "jet", "family", "propane-flame")), []string{"placed:j1: jet reaches 2.8 m with tolerance, and needs 1 m below a trim height of 3 m; it leans 80° to the audience"}},
	})
	low, _ := Lookup("low-roof")
	require.Equal(t, Note, low.Severity)
}

// Derived: 24 hits of 1.2 kg from 18.16 kg (22.7 kg at
// 80 %): empty after hit 15; with 15 % reserve (our judgement) swap after hit
// 12, so that the 13th and the 16th are the ones found.
func TestSupply(t *testing.T) {
	supply := &timeline.Supply{Base: base{ID: "cyl"}, Name: "cylinder", Medium: "CO2", Fill: 22.7, Units: 1, Usable: 0.8, Reserve: 0.15, Feeds: []timeline.ID{"j1"}}
	hits := func(n int) []timeline.Edit {
		list := edits(put(supply), field("article", "jet", "use-each", "1.2"), field("article", "jet", "recovery", "0"))
		for i := range n {
			list = append(list, cue("a", "j1", timeline.Time(2*i)*sec))
		}
		return list
	}
	runNight(t, "supply-reserve", []nightCase{
		{"twelve hits", hits(12), nil},
		{"twenty-four hits", hits(24), []string{"supply:cyl: 3.76 kg left and this hit takes 1.2 kg, below its reserve of 2.724 kg"}},
		{"two cylinders", append(hits(24), field("supply", "cyl", "units", "2")), nil},
		{"weighed half full", append(hits(12), field("night", "n", "fills", "supply=cyl kg=11.35")), []string{"supply:cyl"}},
		{"another medium", append(hits(24), field("article", "jet", "medium", "propane")), nil},
	})
	runNight(t, "supply-empty", []nightCase{
		{"fifteen hits", hits(15), nil},
		{"sixteen hits", hits(16), []string{"supply:cyl: 0.16 kg left and this hit takes 1.2 kg"}},
		{"over two songs", append(hits(15), cue("b", "j1", sec)), []string{"supply:cyl"}},
		{"in alternatives the one that uses most", append(hits(15), cue("b", "j1", sec), field("set", "main", "entries", "a alt=x;b alt=x")), nil},
		{"after alternatives", append(hits(15), cue("b", "j1", sec), put(&timeline.SongHead{Base: base{ID: "c"}, Slug: "c", Start: timeline.Timecode{H: 3}, Length: sec}), field("set", "main", "entries", "a alt=x;c alt=x;b")), []string{"supply:cyl"}},
	})
	runNight(t, "wrong-medium", []nightCase{
		{"the same", append(hits(1), field("article", "jet", "medium", "co2")), nil},
		{"another", append(hits(1), field("article", "jet", "medium", "propane")), []string{"supply:cyl: j1: jet uses propane, and cylinder, which feeds it, holds CO2"}},
		{"of two units", append(hits(1), field("supply", "cyl", "feeds", "j1;j2"), cue("b", "j2", sec), field("article", "jet", "medium", "propane")), []string{"supply:cyl: j1, j2: jet uses"}},
		{"not said", hits(1), nil},
	})
	s := stage(t, hits(24)...)
	found := ofRule("supply-reserve", Check(timeline.Compile(s, nil), Facts{}))
	require.Equal(t, timeline.Ref{Kind: "cue", Song: "a", ID: "a-j1-24000"}, found[0].Others[0], "the thirteenth hit")
}
