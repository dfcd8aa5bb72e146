package timeline

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// festival is the small show with a version of "Ember" that shares its cues: bars
// 9 to 12 are cut, 0.4 s of silence lead in, and the last ten seconds come twice.
func festival(t testing.TB) *Show {
	t.Helper()
	s, err := small(t).Edit(AddVersion(NewVersion{ID: "edit", Of: "ember", Name: "festival edit", Start: Timecode{H: 5}}),
		set("song", "", "edit", "length", "62.4"), func(d *Draft) error {
			var runs []string
			for _, r := range []TimeRun{
				{Old: 0, OldEnd: 16 * Second, New: FromMillis(400), NewEnd: FromMillis(16400), Exact: true, Sure: 1000},
				{Old: 24 * Second, OldEnd: 60 * Second, New: FromMillis(16400), NewEnd: FromMillis(52400), Exact: true, Sure: 1000},
				{Old: 50 * Second, OldEnd: 60 * Second, New: FromMillis(52400), NewEnd: FromMillis(62400), Exact: true, Sure: 700},
			} {
				runs = append(runs, r.String())
			}
			return d.Set(Ref{Kind: "song", ID: "edit"}, "map", Value{Items: runs})
		}, func(d *Draft) error {
			d.Put("ember", &Cue{Base: Base{ID: "q7"}, Lane: "ljet", At: AtTime(55 * Second)})
			return nil
		})
	require.NoError(t, err)
	return s
}

// hitsIn tells what a song plays in a plan: cue, hit and record of each command.
func hitsIn(p *Plan, song ID) []string {
	var list []string
	for i := range p.Songs {
		if ps := &p.Songs[i]; ps.Song.ID == song {
			for k := range ps.Commands {
				c := &ps.Commands[k]
				list = append(list, fmt.Sprintf("%s %s %s open %s", c.Hit, c.Unit.Placed.ID, c.Article.ID, c.Open))
			}
			for k := range ps.Asked {
				list = append(list, fmt.Sprintf("%s %s..%s", ps.Asked[k].Role, ps.Asked[k].Up, ps.Asked[k].Down))
			}
		}
	}
	return list
}

func TestVersionPlaysSharedCues(t *testing.T) {
	s := festival(t)
	require.Empty(t, s.Song("edit").Cues, "nothing is stored twice")
	p := CompileSong(s, "edit")
	require.Equal(t, []string{
		"4.4000 j1 jet open 0.5000", "4.4000 j2 jet open 0.5000", // bar 3, with the silence before it
		"8.6500 c1 comet open 1.5000",
		"47.4000 j1 jet open 0.5000", "47.4000 j2 jet open 0.5000", // after the cut, once: a second time only by choice
	}, hitsIn(p, "edit"))
	var lost []string
	for _, l := range p.Songs[0].Lost {
		lost = append(lost, string(l.Cue.ID)+": "+string(l.Reason))
	}
	require.Equal(t, []string{"q3: " + string(LostInVersion), "q4: " + string(LostInVersion)}, lost)
	require.Equal(t, Ref{"cue", "ember", "q1"}, p.Songs[0].Song.RefOf("cue", "q1"))
	require.Same(t, s.Programmed(s.Song("edit")), p.Songs[0].Song, "made once for all who ask")

	twice, err := s.Edit(ShareCues("edit", true))
	require.NoError(t, err)
	p = CompileSong(twice, "edit")
	require.Contains(t, hitsIn(p, "edit"), "57.4000 j1 jet open 0.5000")
	require.Equal(t, Ref{"cue", "ember", "q7"}, p.Songs[0].Song.RefOf("cue", "q7-2"))
	night := &Night{Cuts: []Cut{{Selector: Selector{"cue", "q7"}}}}
	require.Len(t, hitsIn(NewCompiler().CompileSong(twice, "edit", night), "edit"), 3, "cutting a cue cuts it wherever it plays")

	moved, err := s.Edit(set("cue", "ember", "q1", "at", "4.1"))
	require.NoError(t, err)
	require.Contains(t, hitsIn(CompileSong(moved, "edit"), "edit"), "6.4000 j1 jet open 0.5000", "a change of the one song is one of both")
}

// CompileSong compiles one song of the tour.
func CompileSong(s *Show, song ID) *Plan { return NewCompiler().CompileSong(s, song, nil) }

func TestVersionWithoutMapGoesByBars(t *testing.T) {
	beats, err := NewBeatMap([]Anchor{{Bar: 1, At: Second, Metre: Metre{4, 4}}, {Bar: 31, At: 76 * Second}}) // 96 a minute
	require.NoError(t, err)
	s, err := small(t).Edit(AddVersion(NewVersion{ID: "live", Of: "ember", Name: "live", Start: Timecode{H: 5}}), func(d *Draft) error {
		h := d.Show().Song("live").SongHead
		h.Beats, h.Length = beats, 80*Second
		d.Put("", &h)
		return nil
	})
	require.NoError(t, err)
	p := CompileSong(s, "live")
	require.Equal(t, []string{"6.0000 j1 jet open 0.5000", "6.0000 j2 jet open 0.5000", "11.3125 c1 comet open 1.5000"}, hitsIn(p, "live"))
	require.Len(t, p.Songs[0].Lost, 2)
	require.Equal(t, LostNoMap, p.Songs[0].Lost[0].Reason)
}

func TestWindowsGoOnAroundACut(t *testing.T) {
	s, err := festival(t).Edit(set("cue", "ember", "q4", "at", "0:14.0000"), set("cue", "ember", "q4", "open", "14"))
	require.NoError(t, err)
	require.Contains(t, hitsIn(CompileSong(s, "edit"), "edit"), "arm 14.4000..20.4000", "from 14 s to 28 s, without the 8 s that are cut")
}

func TestSharedCuesAreChangedWhereTheyAre(t *testing.T) {
	s := festival(t)
	for name, edit := range map[string]Edit{
		"set": set("cue", "edit", "q1", "level", "50"),
		"put": func(d *Draft) error {
			d.Put("edit", &Cue{Base: Base{ID: "q1"}, Lane: "ljet", At: AtTime(Second)})
			return nil
		},
		"remove": func(d *Draft) error { return d.Remove(Ref{"cue", "edit", "q1"}) },
	} {
		_, err := s.Edit(edit)
		require.EqualError(t, err, `cue at 3.1 of song "Ember" is shared: change it there, or make the cues of "Ember (festival edit)" its own first`, name)
	}
	_, err := s.Edit(func(d *Draft) error { return d.Remove(Ref{"cue", "edit", "nine"}) })
	require.EqualError(t, err, "cue:edit/nine: there is no such record")

	own, err := s.Edit(func(d *Draft) error {
		d.Put("edit", &Cue{Base: Base{ID: "intro"}, Lane: "ljet", At: AtTime(FromMillis(200))}) // on a shared lane
		return nil
	})
	require.NoError(t, err)
	require.Contains(t, hitsIn(CompileSong(own, "edit"), "edit"), "0.2000 j1 jet open 0.5000")
	require.Equal(t, Ref{"cue", "edit", "intro"}, own.Programmed(own.Song("edit")).RefOf("cue", "intro"))
	_, err = own.Edit(func(d *Draft) error {
		for _, id := range []ID{"q1", "q5", "q7"} {
			if err := d.Remove(Ref{"cue", "ember", id}); err != nil {
				return err
			}
		}
		return d.Remove(Ref{"lane", "ember", "ljet"})
	})
	require.ErrorContains(t, err, `lane "jets" of song "Ember" is still used by cue at 0:00.2000 of song "Ember (festival edit)"`)
}

func TestSeparateAndShareAgain(t *testing.T) {
	s := festival(t)
	before := hitsIn(CompileSong(s, "edit"), "edit")
	apart, err := s.Edit(SeparateCues("edit"))
	require.NoError(t, err)
	require.Equal(t, before, hitsIn(CompileSong(apart, "edit"), "edit"))
	require.Len(t, apart.Song("edit").Cues, 4, "with the disabled one, without those that have no place")

	again, err := apart.Edit(ShareCues("edit", false))
	require.NoError(t, err)
	require.Empty(t, again.Song("edit").Cues)
	require.Empty(t, again.Song("edit").Lanes)
	require.Equal(t, before, hitsIn(CompileSong(again, "edit"), "edit"))

	other, err := apart.Edit(set("cue", "edit", "q1", "level", "50"), func(d *Draft) error {
		d.Put("edit", &Cue{Base: Base{ID: "new"}, Lane: "ljet", At: AtTime(Second)})
		return d.Remove(Ref{"cue", "edit", "q2"})
	})
	require.NoError(t, err)
	x, err := other.SharingOf("edit", false)
	require.NoError(t, err)
	require.Equal(t, []Ref{{"cue", "edit", "new"}, {"cue", "edit", "q1"}}, x.Own, "what differs is told")
	require.Equal(t, []ID{"q2"}, x.Without)
	require.Equal(t, 1, x.Again)
	joined, err := other.Edit(ShareCues("edit", false))
	require.NoError(t, err)
	require.Len(t, joined.Song("edit").Cues, 2, "and kept")
	require.Equal(t, hitsIn(CompileSong(other, "edit"), "edit"), hitsIn(CompileSong(joined, "edit"), "edit"))

	back, err := joined.Edit(GoWithout("edit", true, "q2"))
	require.NoError(t, err)
	require.Contains(t, hitsIn(CompileSong(back, "edit"), "edit"), "8.6500 c1 comet open 1.5000")
	_, err = back.Edit(GoWithout("edit", true, "q2"))
	require.ErrorContains(t, err, "does not go without its cue at 5.1+1/2")
}

// TestSharingLosesNothing parts a version from its song, changes it at random, and
// joins them again: it plays what it played.
func TestSharingLosesNothing(t *testing.T) {
	s := festival(t)
	rapid.Check(t, func(t *rapid.T) {
		twice := rapid.Bool().Draw(t, "twice")
		at, err := s.Edit(func(d *Draft) error {
			if !twice {
				return nil
			}
			return ShareCues("edit", true)(d)
		}, SeparateCues("edit"))
		require.NoError(t, err)
		for range rapid.IntRange(0, 6).Draw(t, "changes") {
			cues := at.Song("edit").Cues
			c := *rapid.SampledFrom(cues).Draw(t, "cue")
			var next *Show
			switch rapid.IntRange(0, 3).Draw(t, "change") {
			case 0:
				c.At = AtTime(Time(rapid.IntRange(0, 600_000).Draw(t, "at")) * EntryStep)
			case 1:
				c.Level = rapid.IntRange(0, 100).Draw(t, "level")
			case 2:
				c.ID = ID(fmt.Sprintf("n%d", len(cues)))
			default:
				if len(cues) > 1 && c.again == "" && s.Song("ember").Cue(c.ID) != nil {
					if next, err = at.Edit(func(d *Draft) error { return d.Remove(Ref{"cue", "edit", c.ID}) }); err == nil {
						at = next
					}
					continue
				}
			}
			if next, err = at.Edit(func(d *Draft) error { d.Put("edit", &c); return nil }); err == nil {
				at = next
			}
		}
		joined, err := at.Edit(ShareCues("edit", false))
		require.NoError(t, err)
		was, is := hitsIn(CompileSong(at, "edit"), "edit"), hitsIn(CompileSong(joined, "edit"), "edit")
		slices.Sort(was) // second playings may come in another order within one instant
		slices.Sort(is)
		require.Equal(t, was, is)
	})
}

func TestNightPlaysAnotherVersion(t *testing.T) {
	s, err := festival(t).Edit(AddNight(Night{Base: Base{ID: "n1"}, Name: "Northport", Slug: "n1"}), func(d *Draft) error {
		d.Put("", &HandCue{Base: Base{ID: "k1"}, Key: 1, Targets: []ID{"jets"}, Presses: 1, Song: "ember"},
			&Venue{Base: Base{ID: "v"}, Name: "Hall", Slug: "v", Windows: []QuietWindow{{Name: "dark", Song: "ember"}},
				Performers: []PlanMark{{Name: "singer", Song: "ember", From: Second, To: 2 * Second}}})
		set := *d.Show().Set("main")
		set.Refills = []Refill{{Supply: "cyl", After: "ember"}}
		d.Put("", &set)
		return d.Set(Ref{Kind: "night", ID: "n1"}, "venue", Value{Text: "v"})
	}, VersionTonight("n1", TonightsVersion{Version: "edit", For: "ember", Reason: "curfew"}))
	require.NoError(t, err)
	p := Compile(s, s.Night("n1"))
	require.Equal(t, ID("edit"), p.Songs[0].Song.ID)
	require.Equal(t, "05:00:00:00", p.Songs[0].Label(0), "a version has a start of its own")
	require.Equal(t, 0, p.Keys[0].Song, "a key of the song is one of its version")
	require.Equal(t, 0, p.Refills[0].Song)
	spans, _ := p.QuietIn(&p.Venue.Windows[1], 0)
	require.Len(t, spans, 1, "the venue's dark song is dark in every version")
	require.True(t, p.Venue.Performers[1].During("edit", 40*Second, 41*Second), "times are those of the other recording: all of the song counts")
	require.Equal(t, ID("ember"), Compile(s, nil).Songs[0].Song.ID, "the tour stays as it is")

	none, err := s.Edit(EditNight("n1", func(_ *Show, n *Night) error { n.Cuts = []Cut{{Selector: Selector{"song", "ember"}}}; return nil }))
	require.NoError(t, err)
	require.Len(t, Compile(none, none.Night("n1")).Songs, 1, "a cut of the song cuts the version in its place")

	back, err := s.Edit(VersionTonight("n1", TonightsVersion{Version: "ember", For: "edit"})) // named as it is played
	require.NoError(t, err)
	require.Empty(t, back.Night("n1").Versions)
	require.Equal(t, hitsIn(Compile(small(t), nil), "ember")[:3], hitsIn(Compile(back, back.Night("n1")), "ember")[:3])

	_, err = s.Edit(VersionTonight("n1", TonightsVersion{Version: "tide", For: "ember"}))
	require.ErrorContains(t, err, `is no version of "Ember", which has "Ember" (ember), "Ember (festival edit)"`)
}

// A night that moves a song moves the version that it plays in its place, unless it
// moves that itself.
func TestShiftGoesWithTheVersion(t *testing.T) {
	by := FromMillis(120)
	s, err := festival(t).Edit(AddNight(Night{Base: Base{ID: "n1"}, Name: "Northport", Slug: "n1"}), ShiftTonight("n1", Shift{Song: "ember", By: by}))
	require.NoError(t, err)
	require.Equal(t, by, Compile(s, s.Night("n1")).Songs[0].By)
	s, err = s.Edit(VersionTonight("n1", TonightsVersion{Version: "edit", For: "ember"}))
	require.NoError(t, err)
	p := Compile(s, s.Night("n1"))
	require.Equal(t, ID("edit"), p.Songs[0].Song.ID)
	require.Equal(t, by, p.Songs[0].By)
	require.Equal(t, "05:00:00:03", p.Songs[0].Label(0), "from its own start")
	own, err := s.Edit(ShiftTonight("n1", Shift{Song: "edit", Start: &Timecode{H: 7}}))
	require.NoError(t, err)
	p = Compile(own, own.Night("n1"))
	require.Zero(t, p.Songs[0].By)
	require.Equal(t, "07:00:00:00", p.Songs[0].Label(0))
	_, err = s.Edit(ShiftTonight("n1", Shift{Song: "ember", Start: &Timecode{H: 23, M: 59}}))
	require.ErrorContains(t, err, "crosses midnight", "the version would")
}

// What begins with a stretch that was cut is cut with it, and plays nowhere.
func TestCueOnASeam(t *testing.T) {
	s, err := festival(t).Edit(func(d *Draft) error {
		for id, at := range map[ID]Time{"before": 16*Second - 10*EntryStep, "first": 16 * Second, "after": 24 * Second, "end": 60 * Second} {
			d.Put("ember", &Cue{Base: Base{ID: id}, Lane: "ljet", At: AtTime(at)})
		}
		d.Put("ember", &Section{Base: Base{ID: "last"}, Name: "Last", At: AtTime(8 * Second), To: AtTime(16 * Second)})
		return nil
	})
	require.NoError(t, err)
	g := s.Programmed(s.Song("edit"))
	at := func(id ID) string {
		if c := g.Cue(id); c != nil {
			return c.At.String()
		}
		return "nowhere"
	}
	require.Equal(t, []string{"0:16.3990", "nowhere", "0:16.4000"}, []string{at("before"), at("first"), at("after")})
	require.NotEqual(t, "nowhere", at("end"))
	require.True(t, slices.ContainsFunc(g.Astray, func(a Astray) bool { return a.Cue.ID == "first" && a.Why == LostInVersion }))
	require.True(t, slices.ContainsFunc(g.Sections, func(x *Section) bool { return x.ID == "last" && x.To == AtTime(FromMillis(16400)) }), "what ends there ends at the seam")
}

func TestPlayedNightKeepsItsVersion(t *testing.T) {
	s, err := festival(t).Edit(AddNight(Night{Base: Base{ID: "n1"}, Name: "Northport", Slug: "n1"}),
		VersionTonight("n1", TonightsVersion{Version: "edit", For: "ember"}))
	require.NoError(t, err)
	played := hitsIn(Compile(s.AsPlayed(s.Night("n1"))), "edit")
	s, err = s.Edit(EditNight("n1", func(_ *Show, n *Night) error { n.Weights = []Fill{{"cyl", 5}}; return nil }))
	require.NoError(t, err)
	s, err = s.Edit(VersionTonight("n1", TonightsVersion{Version: "ember", For: "ember"}), set("cue", "ember", "q1", "at", "9.1"))
	require.NoError(t, err)
	require.Equal(t, played, hitsIn(Compile(s.AsPlayed(s.Night("n1"))), "edit"))
}

func TestSetPlaysAnotherVersion(t *testing.T) {
	s, err := festival(t).Edit(func(d *Draft) error {
		set := *d.Show().Set("main")
		set.Refills = []Refill{{Supply: "cyl", After: "ember"}}
		d.Put("", &set)
		return nil
	}, VersionInSet("main", "ember", "edit"))
	require.NoError(t, err)
	require.Equal(t, "edit gap=8.0000", s.Set("main").Entries[0].String())
	require.Equal(t, ID("edit"), s.Set("main").Refills[0].After)
	_, err = s.Edit(VersionInSet("main", "tide", "edit"))
	require.ErrorContains(t, err, `is no version of "Tide", which has no other; arrange new makes one`)
}

func TestVersionsOfEachOtherShareNothing(t *testing.T) {
	s, err := festival(t).Edit(set("song", "", "ember", "version-of", "edit"), set("song", "", "ember", "shares", "true"))
	require.NoError(t, err)
	for _, g := range s.Songs {
		require.Same(t, g, s.Programmed(g))
	}
	require.Len(t, s.Versions("ember"), 2)
}

func TestSharedCuesOnAnotherRecording(t *testing.T) {
	s, err := festival(t).Edit(set("song", "", "ember", "audio", "a.wav"), set("song", "", "ember", "file-hash", "one"),
		set("song", "", "edit", "audio", "b.wav"), set("song", "", "edit", "file-hash", "two"), ConfirmCues("ember"))
	require.NoError(t, err)
	s, err = s.Edit(ConfirmCues("edit"))
	require.NoError(t, err)
	require.Nil(t, s.Strayed(s.Song("edit")))
	require.False(t, s.Programmed(s.Song("edit")).Elsewhere())
	next, err := s.Edit(set("song", "", "ember", "file-hash", "three"), ConfirmCues("ember"))
	require.NoError(t, err)
	require.NotNil(t, next.Strayed(next.Song("edit")), "the song's cues stand on another recording than the map leads from")
	next, err = s.Edit(set("song", "", "edit", "file-hash", "four"))
	require.NoError(t, err)
	require.True(t, next.Programmed(next.Song("edit")).Elsewhere(), "the version names another recording than the map leads to")
}
