package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// pressing is small with sections in its first song and hand cues.
func pressing(t testing.TB, cues ...*HandCue) *Show {
	d := NewDraft(small(t)) // without its checks: some name what is gone
	d.Put("ember", &Section{Base: Base{ID: "a"}, Name: "Verse", At: AtTime(0)}, &Section{Base: Base{ID: "b"}, Name: "Chorus", At: AtTime(20 * Second)},
		&Section{Base: Base{ID: "c"}, Name: "Verse", At: AtTime(30 * Second), To: AtTime(40 * Second)})
	for _, h := range cues {
		d.Put("", h)
	}
	d.Put("", &Night{Base: Base{ID: "n1"}, Slug: "one", Cuts: []Cut{{Selector: Selector{"placed", "j1"}}}, Swaps: []Swap{{Selector: Selector{"article", "flame"}, To: "jet"}}, Rig: []RigChange{{Kind: "placed", ID: "c1", Out: true}}})
	return d.Show()
}

func TestHandKeys(t *testing.T) {
	s := pressing(t,
		&HandCue{Base: Base{ID: "h1"}, Key: 12, Targets: []ID{"jets", "j1"}, Presses: 3, Open: 2 * Second},
		&HandCue{Base: Base{ID: "h2"}, Key: 2, Targets: []ID{"f1"}, Presses: 1, Song: "ember", Section: "verse"},
		&HandCue{Base: Base{ID: "h3"}, Targets: []ID{"c1"}, Presses: 1, Song: "tide", Section: "Bridge"},
		&HandCue{Base: Base{ID: "h4"}, Key: 4, Set: "other", Presses: 1},
		&HandCue{Base: Base{ID: "h5"}, Key: 5, Song: "gone", Presses: 1})
	p := Compile(s, nil)
	require.Len(t, p.Keys, 3)
	two, twelve, none := &p.Keys[0], &p.Keys[1], &p.Keys[2]
	require.Equal(t, []HandSpan{{0, 20 * Second}, {30 * Second, 40 * Second}}, two.Spans, "both verses, the second to its own end")
	require.Equal(t, 0, two.Song)
	require.Equal(t, -1, twelve.Song)
	require.Empty(t, twelve.Spans)
	require.Len(t, twelve.Uses, 2, "a unit that is named twice counts once")
	require.Equal(t, 2*Second, twelve.Uses[0].Open)
	require.Equal(t, "no key", none.Cue.Label())
	require.Equal(t, []LostHand{{LostSection, "Bridge"}}, none.Lost)
	require.Equal(t, []HandSpan{{0, 30 * Second}}, none.Spans, "where its section is lost, the whole song is taken")
	require.Len(t, p.KeysOff, 2)
	require.Equal(t, "it belongs to another running order", p.KeysOff[0].Why)
	require.Equal(t, "its song is not played", p.KeysOff[1].Why)

	p = Compile(s, s.Night("n1"))
	require.Equal(t, 1, p.Keys[1].Cut)
	require.Len(t, p.Keys[1].Uses, 1)
	require.Equal(t, ID("jet"), p.Keys[0].Uses[0].Article.ID)
	require.True(t, p.Keys[0].Uses[0].Swapped)
	require.Contains(t, p.Keys[2].Lost, LostHand{LostOut, "comet 1"})

	one := NewCompiler().CompileSong(s, "tide", nil)
	require.Equal(t, 0, one.Keys[1].Song, "its place in the one song's plan")
	require.Len(t, one.Keys, 2)
}

// No hand cue ever makes a command, a window or anything else with a time: with
// them and without, songs compile to the same.
func TestHandCuesMakeNoCommands(t *testing.T) {
	plain := pressing(t)
	rapid.Check(t, func(r *rapid.T) {
		s := plain
		for i := range rapid.IntRange(0, 4).Draw(r, "keys") {
			h := &HandCue{Base: Base{ID: ID([]string{"h0", "h1", "h2", "h3"}[i])}, Key: rapid.IntRange(0, 3).Draw(r, "key"), Presses: rapid.IntRange(1, 5).Draw(r, "presses"),
				Targets: rapid.SliceOf(rapid.SampledFrom([]ID{"jets", "flames", "c1", "c2", "gone"})).Draw(r, "targets"),
				Song:    rapid.SampledFrom([]ID{"", "ember", "tide", "gone"}).Draw(r, "song"), Section: rapid.SampledFrom([]string{"", "Verse", "x"}).Draw(r, "section")}
			d := NewDraft(s)
			d.Put("", h)
			s = d.Show()
		}
		for _, id := range []ID{"", "n1"} {
			with := Compile(s, s.Night(id))
			require.Equal(r, Compile(plain, plain.Night(id)).Text(), with.Text())
			require.Len(r, s.HandCues, len(with.Keys)+len(with.KeysOff))
			for i := 1; i < len(with.Keys); i++ {
				require.LessOrEqual(r, with.Keys[i-1].Cue.compare(with.Keys[i].Cue), 0)
			}
		}
	})
}

func TestByHand(t *testing.T) {
	s := pressing(t,
		&HandCue{Base: Base{ID: "h1"}, Key: 1, Targets: []ID{"jets"}, Presses: 3, Open: FromMillis(500)},
		&HandCue{Base: Base{ID: "h2"}, Key: 2, Targets: []ID{"j1", "f1"}, Presses: 2, Song: "tide"})
	anyTime, songs := Compile(s, nil).ByHand(s.Rig.Supply("cyl"))
	require.Equal(t, int64(3_000_000), anyTime, "derived: 3 presses x 2 jets x 0.5 s x 1 kg/s")
	require.Equal(t, []int64{0, 1_000_000}, songs, "derived: 2 presses x 0.5 s; the flame has no CO2")
}

func TestPlannedRefills(t *testing.T) {
	s, err := small(t).Edit(func(d *Draft) error {
		d.Put("", &Set{Base: Base{ID: "main"}, Name: "main", Entries: []Entry{{Song: "ember", Gap: 8 * Second}, {Song: "tide", Alt: "a"}, {Song: "tide", Alt: "a"}},
			Refills: []Refill{{Supply: "cyl", After: "ember", Kg: 5, Minutes: 2}, {Supply: "cyl", After: "tide"}}},
			&Night{Base: Base{ID: "n1"}, Slug: "one", Refills: []Refill{{Supply: "cyl", After: "ember", Out: true}}},
			&Night{Base: Base{ID: "n2"}, Slug: "two", Refills: []Refill{{Supply: "cyl", After: "ember"}}, Cuts: []Cut{{Selector: Selector{"song", "tide"}}}})
		return nil
	})
	require.NoError(t, err)
	p := Compile(s, nil)
	require.Len(t, p.Refills, 2)
	require.True(t, p.Refills[0].Counts)
	require.Equal(t, 5.0, p.Refills[0].Holds())
	require.Equal(t, 60*Second, p.Start(&p.Refills[0]))
	require.False(t, p.Refills[1].Counts, "its song may not be played")
	require.Len(t, Compile(s, s.Night("n1")).Refills, 1, "the night leaves the set's out")
	p = Compile(s, s.Night("n2"))
	require.Equal(t, -1, p.Refills[0].Song)
	require.Equal(t, Ref{Kind: "night", ID: "n2"}, p.Refills[1].From)
	require.Equal(t, 10.0, p.Refills[1].Holds(), "full")
}

// A change of an article, or of the type that drives it, says which keys rest
// on it.
func TestTouchesKeys(t *testing.T) {
	p := Compile(pressing(t, &HandCue{Base: Base{ID: "h1"}, Key: 1, Targets: []ID{"j1"}, Presses: 1}, &HandCue{Base: Base{ID: "h2"}, Key: 2, Targets: []ID{"f1"}, Presses: 1}), nil)
	for ref, want := range map[Ref][]Ref{
		{Kind: "article", ID: "jet"}:    {{Kind: "handcue", ID: "h1"}},
		{Kind: "devicetype", ID: "bar"}: {{Kind: "handcue", ID: "h2"}},
		{Kind: "article", ID: "comet"}:  nil,
	} {
		require.Equal(t, want, p.Touches([]Ref{ref}).Keys)
	}
}
