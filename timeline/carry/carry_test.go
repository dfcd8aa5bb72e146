package carry_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
	"emberbeat/timeline/carry"
	_ "emberbeat/timeline/testtool"
)

const sec = timeline.Second

// failing is a test, or one try of a property.
type failing interface {
	require.TestingT
	Helper()
}

// song is a song of 32 bars at 120: a verse, a chorus, a verse, a chorus, each of 8
// bars, with what is said of it.
func song(t failing, items ...timeline.Record) *timeline.Show {
	t.Helper()
	s := timeline.NewShow("tour1", "Gravel and Tin", timeline.Rate25)
	head := &timeline.SongHead{Base: timeline.Base{ID: "s1"}, Title: "Low Tide", Slug: "low-tide",
		Audio: timeline.Audio{Path: "audio/a.wav", FileHash: "aa", PlacedOn: "aa", Rate: 44100, Frames: 64 * 44100},
		Beats: timeline.SteadyBeatMap(0, sec/2, timeline.Metre{Num: 4, Den: 4}, 32)}
	art := &timeline.Article{Base: timeline.Base{ID: "jet"}, Name: "Jet", Family: "co2-jet", HitPoint: timeline.FullEffect, Control: timeline.SlotControl, Open: sec / 2}
	s, err := s.Edit(func(d *timeline.Draft) error {
		d.Put("", head, art,
			&timeline.Placed{Base: timeline.Base{ID: "p1"}, Name: "Jet 1", Article: "jet"}, &timeline.Placed{Base: timeline.Base{ID: "p2"}, Name: "Jet 2", Article: "jet"},
			&timeline.Group{Base: timeline.Base{ID: "g1"}, Name: "Jets", Members: []timeline.ID{"p1", "p2"}})
		d.Put("s1", &timeline.Lane{Base: timeline.Base{ID: "l1"}, Name: "Jets", Target: "g1", Role: timeline.EffectSlot},
			&timeline.Lane{Base: timeline.Base{ID: "arm"}, Name: "Arm", Target: "g1", Role: timeline.ArmSlot})
		for i, name := range []string{"Verse", "Chorus", "Verse 2", "Chorus 2"} {
			d.Put("s1", &timeline.Section{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("sec%d", i+1))}, Name: name, At: at(fmt.Sprintf("%d.1", 1+8*i))})
		}
		d.Put("s1", items...)
		return nil
	})
	require.NoError(t, err)
	return s
}

func at(text string) timeline.Moment {
	m, err := timeline.ParseMoment(text)
	if err != nil {
		panic(err)
	}
	return m
}

func cue(id, place string) *timeline.Cue {
	return &timeline.Cue{Base: timeline.Base{ID: timeline.ID(id)}, Lane: "l1", At: at(place)}
}

func window(id, place string, open timeline.Time) *timeline.Cue {
	return &timeline.Cue{Base: timeline.Base{ID: timeline.ID(id)}, Lane: "arm", At: at(place), Open: open}
}

// exact is a run without a change of speed, in seconds.
func exact(old, oldEnd, is float64) timeline.TimeRun {
	f := timeline.FromSeconds
	return timeline.TimeRun{Old: f(old), OldEnd: f(oldEnd), New: f(is), NewEnd: f(is + oldEnd - old), Exact: true, Sure: 999}
}

func matched(old, oldEnd, is, isEnd float64, sure int) timeline.TimeRun {
	f := timeline.FromSeconds
	return timeline.TimeRun{Old: f(old), OldEnd: f(oldEnd), New: f(is), NewEnd: f(isEnd), Sure: sure}
}

// mapOf is a map of the song of 64 s; the new recording ends with its last run.
func mapOf(runs ...timeline.TimeRun) *timeline.TimeMap {
	m := &timeline.TimeMap{Old: 64 * sec, Runs: runs}
	for _, r := range runs {
		m.New = max(m.New, r.NewEnd)
	}
	return m
}

func propose(t testing.TB, s *timeline.Show, m *timeline.TimeMap, is carry.Recording, o carry.Options) *carry.Proposal {
	t.Helper()
	p, err := carry.Propose(s, "s1", m, carry.Recording{}, is, o)
	require.NoError(t, err)
	return p
}

func find(t testing.TB, p *carry.Proposal, id string) *carry.Item {
	t.Helper()
	for i := range p.Items {
		if string(p.Items[i].Ref.ID) == id {
			return &p.Items[i]
		}
	}
	t.Fatalf("no item %s", id)
	return nil
}

func done(t testing.TB, s *timeline.Show, p *carry.Proposal) *timeline.Show {
	t.Helper()
	is, err := s.Edit(p.Edit())
	require.NoError(t, err)
	return is
}

// Two bars cut, and 0.4 s more silence before: what stood after the cut is called two
// bars earlier, to the sample; what stood in the cut is set aside with where it was.
func TestTwoBarsCut(t *testing.T) {
	s := song(t, cue("c1", "3.2"), cue("c2", "9.1"), cue("c3", "10.3+1/2"), cue("c4", "11.1"), cue("c5", "25.4"), cue("c6", "0:50.1234"), window("w1", "8.1", 12*sec))
	m := mapOf(exact(0, 16, 0.4), exact(20, 64, 16.4))
	p := propose(t, s, m, carry.Recording{}, carry.Options{Audio: timeline.Audio{Path: "audio/b.wav", FileHash: "bb", Rate: 44100, Frames: 60*44100 + 17640}})
	require.Equal(t, carry.Counts{Sure: 5, Lost: 2, By: map[carry.Status]int{carry.Exact: 5, carry.Lost: 2}}, p.Counts())
	is := done(t, s, p).Song("s1")
	for id, want := range map[string]string{"c1": "3.2", "c4": "9.1", "c5": "23.4", "c6": "0:46.5234", "w1": "8.1"} {
		require.Equal(t, want, is.Cue(timeline.ID(id)).At.String(), id)
	}
	require.Equal(t, 8*sec, is.Cue("w1").Open, "the arm is on for the two bars less")
	for _, id := range []timeline.ID{"c1", "c4", "c5"} {
		was, _ := s.Song("s1").Cue(id).At.In(s.Song("s1").Beats)
		now, _ := is.Cue(id).At.In(is.Beats)
		places := m.Places(was)
		require.Equal(t, places[len(places)-1].At, now, id)
	}
	require.Len(t, is.Asides, 2)
	stood := map[string]string{}
	for _, a := range is.Asides {
		stood[string(a.Was)] = fmt.Sprint(a.Kind, " ", a.Stood, " ", a.Time.Clock(4), " ", a.Section, " ", a.Recording)
	}
	require.Equal(t, map[string]string{"c2": "cue 9.1 0:16.0000 Chorus aa", "c3": "cue 10.3+1/2 0:19.2500 Chorus aa"}, stood)
	require.Equal(t, "bb", is.Audio.PlacedOn)
	require.False(t, is.Elsewhere())
	require.Empty(t, is.Audio.Look)
	require.Equal(t, carry.Check, find(t, p, "sec2").Status, "its first two bars are cut")
	require.Equal(t, "9.1", is.Sections[1].At.String())
	require.Equal(t, "15.1", is.Sections[2].At.String())
}

// A cut in the middle of a bar leaves a short bar, and the beats after it stay on the
// music.
func TestCutInsideABar(t *testing.T) {
	s := song(t, cue("c1", "5.1"), cue("c2", "13.1"))
	p := propose(t, s, mapOf(exact(0, 9, 0), exact(20, 64, 9)), carry.Recording{}, carry.Options{})
	var text []string
	for _, a := range p.Beats.Anchors() {
		text = append(text, a.String())
	}
	require.Equal(t, []string{"1.1 at=0.000000 metre=4/4", "5.1 at=8.000000 metre=2/4", "6.1 at=9.000000 metre=4/4", "33.1 at=63.000000"}[:3], text[:3])
	is := done(t, s, p).Song("s1")
	require.Equal(t, "8.1", is.Cue("c2").At.String())
	now, _ := is.Cue("c2").At.In(is.Beats)
	require.Equal(t, 13*sec, now)
}

// A section that is heard twice asks; its copies are made when somebody says so.
func TestCopiedSection(t *testing.T) {
	s := song(t, cue("c1", "9.1"), cue("c2", "10.1"), cue("c3", "17.1"), window("w1", "9.1", 16*sec))
	m := mapOf(exact(0, 32, 0), exact(16, 32, 32), exact(32, 64, 48))
	p := propose(t, s, m, carry.Recording{}, carry.Options{})
	require.Equal(t, carry.Counts{Sure: 1, Look: 3, Copies: 3, By: map[carry.Status]int{carry.Exact: 1, carry.Copied: 3}}, p.Counts())
	is := done(t, s, p).Song("s1")
	require.Len(t, is.Cues, 4)
	require.ElementsMatch(t, []timeline.ID{"c1", "c2", "w1"}, is.Audio.Look)
	require.Equal(t, "25.1", is.Cue("c3").At.String())

	p = propose(t, s, m, carry.Recording{}, carry.Options{Take: []string{"chorus"}})
	require.Equal(t, carry.Counts{Sure: 4, Copies: 3, Taken: 3, By: map[carry.Status]int{carry.Exact: 4}}, p.Counts())
	is = done(t, s, p).Song("s1")
	var places []string
	for _, c := range is.Cues {
		places = append(places, string(c.Lane)+" "+c.At.String())
	}
	slices.Sort(places)
	require.Equal(t, []string{"arm 17.1", "arm 9.1", "l1 10.1", "l1 17.1", "l1 18.1", "l1 25.1", "l1 9.1"}, places)
	require.Len(t, is.Sections, 5)

	_, err := carry.Propose(s, "s1", m, carry.Recording{}, carry.Recording{}, carry.Options{Take: []string{"bridge"}})
	require.ErrorContains(t, err, "write all, or one of the sections Chorus")
}

// Music that is begun again before it had ended goes on in order: nothing has moved,
// and an arm that is on over the seam stays on.
func TestBegunAgain(t *testing.T) {
	s := song(t, cue("c1", "3.1"), cue("c2", "15.1"), cue("c3", "20.1"), window("w1", "10.1", 24*sec))
	p := propose(t, s, mapOf(exact(0, 32, 0), exact(24, 64, 32)), carry.Recording{}, carry.Options{})
	require.Equal(t, []carry.Status{carry.Exact, carry.Copied, carry.Exact, carry.Exact},
		[]carry.Status{find(t, p, "c1").Status, find(t, p, "c2").Status, find(t, p, "c3").Status, find(t, p, "w1").Status})
	require.Equal(t, "15.1", find(t, p, "c2").Is.Moment.String())
	require.Equal(t, "19.1", find(t, p, "c2").Copies[0].Moment.String())
	require.Equal(t, 32*sec, find(t, p, "w1").Open)
}

// What stands elsewhere in the order has moved; the longer music kept its order.
func TestMovedSection(t *testing.T) {
	s := song(t, cue("c1", "1.1"), cue("c2", "9.1"), cue("c3", "25.1"))
	p := propose(t, s, mapOf(exact(16, 28, 0), exact(0, 16, 12), exact(28, 64, 28)), carry.Recording{}, carry.Options{})
	require.Equal(t, []carry.Status{carry.Exact, carry.Moved, carry.Exact}, []carry.Status{find(t, p, "c1").Status, find(t, p, "c2").Status, find(t, p, "c3").Status})
	is := done(t, s, p).Song("s1")
	require.Equal(t, []string{"7.1", "1.1", "25.1"}, []string{is.Cue("c1").At.String(), is.Cue("c2").At.String(), is.Cue("c3").At.String()})
}

// Played anew: bars stay the bars that they were, on the beats that were heard; a
// sound stays that sound; the rest goes where the map leads. Doubt is noted until
// somebody confirms.
func TestPlayedAnew(t *testing.T) {
	s := song(t, cue("c1", "9.3+1/2"), cue("c2", "0:20.0050"), cue("c3", "0:30.1200"), cue("c4", "0:40.1700"), cue("c5", "30.1"))
	heard := carry.Recording{Beats: timeline.SteadyBeatMap(sec/10, sec*6/10, timeline.Metre{Num: 4, Den: 4}, 32),
		Hits: []carry.Hit{{At: timeline.FromSeconds(36.25), Label: "snare"}, {At: timeline.FromSeconds(36.26), Label: "kick"}}}
	m := mapOf(matched(0, 50, 0.12, 60.12, 900), matched(50, 64, 60.12, 76.9, 600))
	p, err := carry.Propose(s, "s1", m, carry.Recording{Hits: []carry.Hit{{At: timeline.FromSeconds(30.125), Label: "kick"}}}, heard, carry.Options{})
	require.NoError(t, err)
	is := done(t, s, p).Song("s1")
	require.Equal(t, "9.3+1/2", is.Cue("c1").At.String())
	c1, _ := is.Cue("c1").At.In(is.Beats)
	require.Equal(t, timeline.FromSeconds(0.1+34.5*0.6), c1, "on the beats that were heard")
	require.Equal(t, "0:24.1000", is.Cue("c2").At.String(), "on the beat that it was meant for")
	require.Equal(t, "0:36.2550", is.Cue("c3").At.String(), "as far before the kick as it was")
	require.Equal(t, "0:48.3240", is.Cue("c4").At.String(), "where the map leads")
	require.Equal(t, []carry.By{carry.ByBeat, carry.ByBeat, carry.BySound, carry.ByPath}, []carry.By{find(t, p, "c1").Is.By, find(t, p, "c2").Is.By, find(t, p, "c3").Is.By, find(t, p, "c4").Is.By})
	require.Equal(t, carry.Check, find(t, p, "c5").Status)
	require.Equal(t, []timeline.ID{"c5"}, is.Audio.Look)
	require.True(t, p.Heard)
	after, err := done(t, s, p).Edit(timeline.ConfirmCues("s1"))
	require.NoError(t, err)
	require.Empty(t, after.Song("s1").Audio.Look)
}

// A phrase that is a run is run again on music that was played anew, and its cues
// keep their ids; where its music was torn, its cues go one by one.
func TestPhraseIsRunAgain(t *testing.T) {
	s := song(t)
	n := 0
	ph := &timeline.Phrase{Base: timeline.Base{ID: "ph1"}, Lane: "l1", Group: "g1", Shape: timeline.Chase, Order: timeline.OrderAll, At: at("0:16.0000"), Until: at("0:24.0000"), Every: timeline.Stride{Time: sec}}
	s, err := s.Edit(timeline.PutPhrase("s1", ph, func() timeline.ID { n++; return timeline.ID(fmt.Sprintf("c%d", n)) }))
	require.NoError(t, err)
	require.Equal(t, 9, n)
	slower := mapOf(matched(0, 64, 0, 80, 950))
	p := propose(t, s, slower, carry.Recording{}, carry.Options{})
	is := done(t, s, p).Song("s1")
	require.Equal(t, "0:20.0000", is.Phrases[0].At.String())
	require.Equal(t, "0:21.0000", is.Cue("c2").At.String(), "each second, as the phrase says")
	require.Len(t, is.Cues, 11, "and there is room for two more")
	require.Equal(t, carry.ByRun, find(t, p, "c2").Is.By)

	torn := propose(t, s, mapOf(exact(0, 20, 0), exact(40, 64, 20)), carry.Recording{}, carry.Options{})
	require.Equal(t, carry.Check, find(t, torn, "ph1").Status)
	is = done(t, s, torn).Song("s1")
	require.Len(t, is.Cues, 4)
	require.Len(t, is.Asides, 5)
	require.Equal(t, "0:19.0000", is.Phrases[0].Until.String())
}

// Nothing of the old is in the new: all is set aside, and can be brought back.
func TestAnotherSong(t *testing.T) {
	s := song(t, cue("c1", "9.1"), cue("c2", "10.1"))
	s, err := s.Edit(func(d *timeline.Draft) error {
		h := d.Show().Song("s1").SongHead
		h.Locks = []string{"bpm=120", "bar-one=2.0000", "metre=4/4"}
		d.Put("", &h)
		return nil
	})
	require.NoError(t, err)
	p := propose(t, s, &timeline.TimeMap{Old: 64 * sec, New: 50 * sec}, carry.Recording{}, carry.Options{Audio: timeline.Audio{Path: "audio/b.wav", FileHash: "bb"}})
	require.Equal(t, 2, p.Counts().Lost)
	s = done(t, s, p)
	is := s.Song("s1")
	require.Empty(t, is.Cues)
	require.Empty(t, is.Sections)
	require.Len(t, is.Asides, 8)
	require.Equal(t, []string{"metre=4/4"}, is.Locks)
	var id timeline.ID
	for _, a := range is.Asides {
		if a.Was == "c2" {
			id = a.ID
		}
	}
	_, err = s.Edit(timeline.BringBack("s1", id, timeline.Back{}, nil))
	require.ErrorContains(t, err, "write where it stands now")
	place := at("4.1")
	s, err = s.Edit(timeline.BringBack("s1", id, timeline.Back{At: &place}, nil))
	require.NoError(t, err)
	require.Equal(t, "4.1", s.Song("s1").Cue("c2").At.String())
	require.Equal(t, timeline.ID("l1"), s.Song("s1").Cue("c2").Lane)
	require.Len(t, s.Song("s1").Asides, 7)
}

// A stretch that the user has placed stands there, whatever was found.
func TestPlacedByHand(t *testing.T) {
	s := song(t, cue("c1", "9.1"))
	m := mapOf(exact(0, 64, 0))
	p := propose(t, s, m, carry.Recording{}, carry.Options{Locked: []timeline.TimeRun{{Old: 16 * sec, OldEnd: 20 * sec, New: 18 * sec, NewEnd: 22 * sec}}})
	require.NoError(t, p.Map.Check())
	require.Equal(t, 18*sec, find(t, p, "c1").Is.At)
	require.Equal(t, 1000, find(t, p, "c1").Is.Sure)
}

// A cue at the very place of a cut is not called sure.
func TestOnTheCut(t *testing.T) {
	s := song(t, cue("c1", "0:15.9900"), cue("c2", "0:19.9900"))
	p := propose(t, s, mapOf(exact(0, 16, 0), exact(20, 64, 16)), carry.Recording{}, carry.Options{})
	require.Equal(t, carry.Counts{Look: 2, By: map[carry.Status]int{carry.Check: 2}}, p.Counts())
	require.Equal(t, "it stands on the cut", find(t, p, "c1").Why)
}

// A version that shares the song's cues goes on playing them at the same places of its
// own recording, whichever of the two recordings becomes another one.
func TestVersionsThatShare(t *testing.T) {
	s := song(t, cue("c1", "3.1"), cue("c2", "9.3"), cue("c3", "20.1"))
	s, err := s.Edit(timeline.AddVersion(timeline.NewVersion{ID: "v1", Of: "s1", Name: "festival", Start: timeline.Timecode{H: 2}}))
	require.NoError(t, err)
	places := func(s *timeline.Show, id timeline.ID) map[string]timeline.Time {
		g := s.Programmed(s.Song(id))
		at := map[string]timeline.Time{}
		for _, c := range g.Cues {
			at[string(c.ID)], _ = c.At.In(g.Beats)
		}
		return at
	}
	was := places(s, "v1")
	require.Len(t, was, 3)
	cut := mapOf(exact(0, 16, 0.5), exact(20, 64, 16.5))
	audio := timeline.Audio{Path: "audio/b.wav", FileHash: "bb", PCMHash: "bb", Rate: 44100, Frames: 60*44100 + 22050}
	p := propose(t, s, cut, carry.Recording{}, carry.Options{Audio: audio})
	require.Contains(t, p.Notes[len(p.Notes)-1], "will not play what is set aside")
	is := done(t, s, p)
	now := places(is, "v1")
	require.Equal(t, map[string]timeline.Time{"c1": was["c1"], "c3": was["c3"]}, now, "where the old recording has them")
	require.Nil(t, is.Strayed(is.Song("v1")))

	// The version's own recording becomes the edit; the song keeps the old one.
	p, err = carry.Propose(s, "v1", cut, carry.Recording{}, carry.Recording{}, carry.Options{Audio: audio})
	require.NoError(t, err)
	is = done(t, s, p)
	require.Empty(t, is.Song("v1").Cues, "it has none of its own")
	require.Equal(t, map[string]timeline.Time{"c1": 4*sec + sec/2, "c3": 38*sec - 7*sec/2}, places(is, "v1"))
	require.Equal(t, places(s, "s1"), places(is, "s1"))
}

// songs of any cues.
func anySong(t *rapid.T) *timeline.Show {
	var items []timeline.Record
	for i := range rapid.IntRange(0, 12).Draw(t, "cues") {
		place := timeline.AtTime(timeline.Time(rapid.Int64Range(0, 640_000).Draw(t, "at")) * timeline.EntryStep)
		if rapid.Bool().Draw(t, "on beat") {
			place = timeline.AtBar(timeline.BarBeat{Bar: rapid.IntRange(1, 32).Draw(t, "bar"), Beat: timeline.NewRat(rapid.Int64Range(0, 15).Draw(t, "quarter"), 4)})
		}
		q := &timeline.Cue{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("c%d", i))}, Lane: "l1", At: place}
		if rapid.Bool().Draw(t, "window") {
			q.Lane, q.Open = "arm", timeline.Time(rapid.Int64Range(1, 200_000).Draw(t, "open"))*timeline.EntryStep
		}
		items = append(items, q)
	}
	return song(t, items...)
}

// anyMap cuts the old recording into pieces and puts them anywhere.
func anyMap(t *rapid.T, onlyExact bool) *timeline.TimeMap {
	m := &timeline.TimeMap{Old: 64 * sec}
	at := timeline.Time(0)
	for range rapid.IntRange(0, 6).Draw(t, "runs") {
		at += timeline.Time(rapid.Int64Range(0, 3000).Draw(t, "gap")) * timeline.Millisecond * timeline.Time(rapid.IntRange(0, 1).Draw(t, "is gap"))
		from := timeline.Time(rapid.Int64Range(0, 63_000).Draw(t, "from")) * timeline.Millisecond
		long := min(timeline.Time(rapid.Int64Range(500, 30_000).Draw(t, "long"))*timeline.Millisecond, m.Old-from)
		r := timeline.TimeRun{Old: from, OldEnd: from + long, New: at, NewEnd: at + long, Exact: true, Sure: rapid.IntRange(500, 1000).Draw(t, "sure")}
		if !onlyExact && rapid.Bool().Draw(t, "anew") {
			r.Exact, r.NewEnd = false, at+long*timeline.Time(rapid.Int64Range(80, 120).Draw(t, "speed"))/100
		}
		m.Runs, at = append(m.Runs, r), r.NewEnd
	}
	m.New = at
	return m
}

// No cue vanishes, whatever the music does: each is in the song or set aside, and is
// counted once; and what was taken is all that is new.
func TestNothingVanishes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, m := anySong(t), anyMap(t, false)
		var o carry.Options
		if rapid.Bool().Draw(t, "take") {
			o.Take = []string{carry.TakeAll}
		}
		heard := carry.Recording{}
		if rapid.Bool().Draw(t, "beats heard") {
			heard.Beats = timeline.SteadyBeatMap(sec/7, sec*52/100, timeline.Metre{Num: 4, Den: 4}, 40)
		}
		p, err := carry.Propose(s, "s1", m, carry.Recording{}, heard, o)
		require.NoError(t, err)
		n := p.Counts()
		require.Equal(t, len(s.Song("s1").Cues), n.Sure+n.Look+n.Lost)
		next, err := s.Edit(p.Edit())
		require.NoError(t, err)
		is := next.Song("s1")
		aside := map[timeline.ID]*timeline.Aside{}
		for _, a := range is.Asides {
			aside[a.Was] = a
		}
		for _, c := range s.Song("s1").Cues {
			require.NotEqual(t, is.Cue(c.ID) == nil, aside[c.ID] == nil, "cue %s at %s", c.ID, c.At)
			if a := aside[c.ID]; a != nil {
				r, err := a.Record(c.ID)
				require.NoError(t, err)
				require.True(t, timeline.KindOf("cue").Equal(c, r), "it is kept as it was")
			}
		}
		require.Equal(t, len(s.Song("s1").Cues)-n.Lost+n.Taken, len(is.Cues))
		for _, c := range is.Cues {
			at, ok := c.At.In(is.Beats)
			require.True(t, ok)
			if x := item(p, c.ID); x != nil {
				require.LessOrEqual(t, max(at-x.Is.At, x.Is.At-at), timeline.EntryStep, "it stands where the proposal says")
			}
		}
	})
}

func item(p *carry.Proposal, id timeline.ID) *carry.Item {
	for i := range p.Items {
		if p.Items[i].Ref.ID == id {
			return &p.Items[i]
		}
	}
	return nil
}

// The same music: nothing changes.
func TestTheSameMusicChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySong(t)
		p, err := carry.Propose(s, "s1", mapOf(exact(0, 64, 0)), carry.Recording{}, carry.Recording{}, carry.Options{})
		require.NoError(t, err)
		next, err := s.Edit(p.Edit())
		require.NoError(t, err)
		require.Empty(t, timeline.Diff(s, next))
	})
}

// There and back: what was exact on the way stands where it stood. A window that was
// cut at an end of a stretch, on either way, begins elsewhere and says so.
func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, m := anySong(t), anyMap(t, true)
		there, err := carry.Propose(s, "s1", m, carry.Recording{}, carry.Recording{}, carry.Options{})
		require.NoError(t, err)
		mid, err := s.Edit(there.Edit())
		require.NoError(t, err)
		back := &timeline.TimeMap{Old: m.New, New: m.Old}
		for _, r := range m.Runs {
			back.Runs = append(back.Runs, timeline.TimeRun{Old: r.New, OldEnd: r.NewEnd, New: r.Old, NewEnd: r.OldEnd, Exact: true, Sure: r.Sure})
		}
		slices.SortFunc(back.Runs, func(a, b timeline.TimeRun) int { return int((a.New - b.New) / timeline.Millisecond) })
		if back.Check() != nil {
			t.Skip("a stretch is heard twice: there is no way back")
		}
		again, err := carry.Propose(mid, "s1", back, carry.Recording{}, carry.Recording{}, carry.Options{})
		require.NoError(t, err)
		end, err := mid.Edit(again.Edit())
		require.NoError(t, err)
		for _, c := range s.Song("s1").Cues {
			if x, y := item(there, c.ID), item(again, c.ID); x.Status == carry.Exact && y.Status == carry.Exact && x.Open == 0 && y.Open == 0 {
				was, _ := c.At.In(s.Song("s1").Beats)
				is, _ := end.Song("s1").Cue(c.ID).At.In(end.Song("s1").Beats)
				require.LessOrEqual(t, max(was-is, is-was), timeline.EntryStep, "cue %s at %s", c.ID, c.At)
			}
		}
	})
}
