package timeline

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// jets is a show with n jets across the stage in one group, on a lane of a song
// at 120 beats a minute; a jet is open for 0.2 s and recovers in as long as
// given.
func jets(t testing.TB, n int, recovery Time) *Show {
	t.Helper()
	beats, err := NewBeatMap([]Anchor{{Bar: 1, At: 0, Metre: Metre{4, 4}}, {Bar: 31, At: 60 * Second}})
	require.NoError(t, err)
	s, err := NewShow("jets", "Jets", Rate25).Edit(func(d *Draft) error {
		d.Put("", &Article{Base: Base{ID: "jet"}, Name: "Jet", Family: CO2Jet, Control: SlotControl, Lead: FromMillis(120), Open: FromMillis(200), OpenMax: 10 * Second, Recovery: recovery},
			&Article{Base: Base{ID: "once"}, Name: "Once", Family: Comet, Control: IgniterControl, Open: FromMillis(500), SingleUse: true})
		g := &Group{Base: Base{ID: "g"}, Name: "jets"}
		for i := range n {
			id := ID(fmt.Sprintf("j%d", i+1))
			d.Put("", &StagePosition{Base: Base{ID: id}, X: float64(i)}, &Placed{Base: Base{ID: id}, Name: string(id), Article: "jet", Position: id})
			g.Members = append(g.Members, id)
		}
		d.Put("", g, &SongHead{Base: Base{ID: "s"}, Title: "S", Slug: "s", Start: Timecode{H: 1}, Length: 60 * Second, Beats: beats})
		d.Put("s", &Lane{Base: Base{ID: "l"}, Name: "jets", Target: "g", Role: EffectSlot}, &Lane{Base: Base{ID: "arm"}, Target: "g", Role: ArmSlot})
		return nil
	})
	require.NoError(t, err)
	return s
}

func bar(n int) Moment { return AtBar(BarBeat{Bar: n}) }

func beats(n, d int64) Stride { return Stride{Beats: NewRat(n, d)} }

// played lists place and targets of the cues of a group, by place.
func played(s *Show, group ID) string {
	cues := slices.DeleteFunc(slices.Clone(s.Song("s").Cues), func(c *Cue) bool { return c.Group != group })
	slices.SortStableFunc(cues, func(a, b *Cue) int { return a.At.Bar.Cmp(b.At.Bar) })
	var parts []string
	for _, c := range cues {
		target := c.Target
		if target == "" {
			target = "lane"
		}
		parts = append(parts, c.At.String()+":"+string(target))
	}
	return strings.Join(parts, " ")
}

func TestPhraseShapes(t *testing.T) {
	s := jets(t, 5, FromMillis(100))
	for _, c := range []struct {
		shape Shape
		order Order
		want  string
	}{
		{Chase, OrderAll, "2.1:j1 2.2:j2 2.3:j3 2.4:j4 3.1:j5"},
		{Chase, OrderRightToLeft, "2.1:j5 2.2:j4 2.3:j3 2.4:j2 3.1:j1"},
		{Chase, OrderEven, "2.1:j2 2.2:j4 2.3:j2 2.4:j4 3.1:j2"},
		{FanOut, OrderAll, "2.1:j3 2.2:j2 2.2:j4 2.3:j1 2.3:j5 2.4:j3 3.1:j2 3.1:j4"},
		{Mirror, OrderAll, "2.1:j1 2.1:j5 2.2:j2 2.2:j4 2.3:j3 2.4:j1 2.4:j5 3.1:j2 3.1:j4"},
		{Alternate, OrderAll, "2.1:j1 2.1:j3 2.1:j5 2.2:j2 2.2:j4 2.3:j1 2.3:j3 2.3:j5 2.4:j2 2.4:j4 3.1:j1 3.1:j3 3.1:j5"},
		{Burst, OrderAll, "2.1:lane 2.2:lane 2.3:lane 2.4:lane 3.1:lane"},
		{Sustained, OrderAll, "2.1:lane"},
	} {
		next, err := s.Edit(PutPhrase("s", &Phrase{Base: Base{ID: "p"}, Lane: "l", Group: "g", Shape: c.shape, Order: c.order, At: bar(2), Until: bar(3), Every: beats(1, 1)}, ids("q")))
		require.NoError(t, err, c.shape)
		require.Equal(t, c.want, played(next, "p"), c.shape)
	}
	next, err := s.Edit(PutPhrase("s", &Phrase{Base: Base{ID: "p"}, Lane: "l", Group: "g", Shape: Sustained, At: bar(2), Until: bar(3), Every: beats(1, 1)}, ids("q")))
	require.NoError(t, err)
	require.Equal(t, 2*Second, next.Song("s").Cues[0].Open) // four beats at 120
}

// The same seed gives the same cues, another one others; each plays once a
// round and none twice in a row.
func TestRandomPhraseRepeats(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n, places, seed := rapid.IntRange(2, 12).Draw(r, "n"), rapid.IntRange(1, 60).Draw(r, "places"), rapid.Uint64Range(0, 1e6).Draw(r, "seed")
		order := shuffled(n, places, seed)
		require.Equal(r, order, shuffled(n, places, seed))
		require.Len(r, order, places)
		for i := range order {
			if i > 0 {
				require.NotEqual(r, order[i-1], order[i])
			}
			if i%n == 0 && i+n <= places {
				round := slices.Clone(order[i : i+n])
				slices.Sort(round)
				require.Equal(r, n, len(slices.Compact(round)))
			}
		}
	})
	require.NotEqual(t, shuffled(8, 16, 1), shuffled(8, 16, 2))
}

// Run again with other settings, the cues of before are gone, the new ones stay
// the same group, and no other cue changes.
func TestPhraseRunsAgain(t *testing.T) {
	s := jets(t, 4, FromMillis(100))
	s, err := s.Edit(func(d *Draft) error {
		d.Put("s", &Cue{Base: Base{ID: "mine"}, Lane: "l", At: bar(20)})
		return nil
	}, PutPhrase("s", &Phrase{Base: Base{ID: "p"}, Lane: "l", Group: "g", Shape: Chase, At: bar(2), Until: bar(3), Every: beats(1, 1)}, ids("q")))
	require.NoError(t, err)
	mine := s.Song("s").Cue("mine")
	again := *s.Song("s").Phrases[0]
	again.Shape, again.Every = Burst, beats(2, 1)
	next, err := s.Edit(PutPhrase("s", &again, ids("z")))
	require.NoError(t, err)
	require.Equal(t, "2.1:lane 2.3:lane 3.1:lane", played(next, "p"))
	require.Len(t, next.Song("s").Cues, 4)
	require.Same(t, mine, next.Song("s").Cue("mine"))
	require.Equal(t, Burst, next.Song("s").Phrases[0].Shape)

	locked, err := next.Edit(set("cue", "s", "z001", "locked", "true"))
	require.NoError(t, err)
	_, err = locked.Edit(PutPhrase("s", &again, ids("y")))
	require.ErrorContains(t, err, "unlock it to run its phrase again")
}

// Too fast a division says so and offers the fastest that works: 0.2 s open and
// 0.5 s recovery hold a jet for 0.7 s; two beats of 0.5 s are enough, 3/2 beats
// too (derived).
func TestPhraseTooFast(t *testing.T) {
	s := jets(t, 4, FromMillis(500))
	p := &Phrase{Base: Base{ID: "p"}, Lane: "l", Group: "g", Shape: Burst, At: bar(2), Until: bar(4), Every: beats(1, 2)}
	_, err := s.Edit(PutPhrase("s", p, ids("q")))
	require.EqualError(t, err, `phrase every: "1/2 beats": is too fast: j1 is commanded for 2.1+1/2 0.2500 s after its command for 2.1, and needs 0.7000 s to close and recover; the fastest common division that works is 3/2 beats`)
	var fast *TooFastError
	require.True(t, errors.As(err, &fast))
	p.Every = *fast.Fastest
	_, err = s.Edit(PutPhrase("s", p, ids("q")))
	require.NoError(t, err)

	// A cue in the way is no question of division.
	s, err = s.Edit(func(d *Draft) error {
		d.Put("s", &Cue{Base: Base{ID: "mine"}, Lane: "l", At: AtTime(FromMillis(1900))}) // bar 2 is at 2 s
		return nil
	})
	require.NoError(t, err)
	_, err = s.Edit(PutPhrase("s", p, ids("q")))
	require.ErrorContains(t, err, "does not fit: j1 is commanded for 2.1 0.1000 s after its command for 0:01.9000, and needs 0.7000 s to close and recover; no common division works: a cue that is there already stands in the way")
}

// Whatever the phrase: where it is accepted no unit is commanded before it is
// free, exactly or on its frame; where it is refused the division offered works,
// and no common one between does.
func TestPhraseRespectsRecovery(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := jets(t, rapid.IntRange(1, 7).Draw(r, "n"), FromMillis(rapid.Int64Range(0, 2500).Draw(r, "recovery")))
		p := Phrase{Base: Base{ID: "p"}, Lane: "l", Group: "g", Shape: rapid.SampledFrom([]Shape{Chase, FanOut, Mirror, Alternate, Burst, RandomPick}).Draw(r, "shape"),
			Order: rapid.SampledFrom([]Order{OrderAll, OrderOdd, OrderInsideOut}).Draw(r, "order"), At: bar(2), Until: bar(rapid.IntRange(3, 8).Draw(r, "until")),
			Every: Stride{Beats: rapid.SampledFrom(commonDivisions[:12]).Draw(r, "every")}, Seed: rapid.IntRange(0, 9).Draw(r, "seed")}
		next, err := s.Edit(PutPhrase("s", &p, ids("q")))
		if err == nil {
			require.False(r, slowClash(next))
			return
		}
		var fast *TooFastError
		require.True(r, errors.As(err, &fast), err)
		require.NotNil(r, fast.Fastest)
		for _, every := range slower(p.Every) {
			q := p
			q.Every = every
			next, err := s.Edit(PutPhrase("s", &q, ids("q")))
			if every == *fast.Fastest {
				require.NoError(r, err)
				require.False(r, slowClash(next))
				return
			}
			require.ErrorAs(r, err, &fast)
		}
	})
}

// slowClash compares every two commands of a unit.
func slowClash(s *Show) bool {
	cmds := Compile(s, nil).Songs[0].Commands
	for i := range cmds {
		for j := range cmds {
			a, b := &cmds[i], &cmds[j]
			if i != j && a.Unit == b.Unit && a.At <= b.At && (a.Free() > b.At || a.FreeRounded() > b.Rounded) {
				return true
			}
		}
	}
	return false
}

func TestPhraseRefuses(t *testing.T) {
	s := jets(t, 3, FromMillis(100))
	s, err := s.Edit(set("placed", "", "j1", "article", "once"), set("placed", "", "j2", "article", "once"), set("placed", "", "j3", "article", "once"))
	require.NoError(t, err)
	base := Phrase{Base: Base{ID: "p"}, Lane: "l", Group: "g", Shape: Chase, At: bar(2), Until: bar(3), Every: beats(1, 1)}
	for _, c := range []struct {
		change func(*Phrase)
		want   string
	}{
		{func(p *Phrase) {}, `phrase to: "3.1": commands j1 (Once) a second time, for 2.4 after 2.1, and it can be used once; end at 2.3`},
		{func(p *Phrase) { p.Group = "gone" }, `phrase target: "gone": names no group or placed`},
		{func(p *Phrase) { p.Lane = "gone" }, `phrase lane: "gone": names no lane of this song`},
		{func(p *Phrase) { p.Lane = "arm" }, `a phrase needs a lane of hits`},
		{func(p *Phrase) { p.Until = bar(1) }, `ends before it starts`},
		{func(p *Phrase) { p.Group, p.Order = "j1", OrderEven }, `has no members in the order even`},
		{func(p *Phrase) { p.Order = "zigzag" }, `is not one of: all, left-to-right`},
	} {
		p := base
		c.change(&p)
		_, err := s.Edit(PutPhrase("s", &p, ids("q")))
		require.ErrorContains(t, err, c.want)
	}
	jetsOnly := jets(t, 3, FromMillis(100))
	long := base
	long.Shape, long.Until = Sustained, bar(10)
	_, err = jetsOnly.Edit(PutPhrase("s", &long, ids("q")))
	require.ErrorContains(t, err, `phrase open: "16.0000": does not fit j1 (Jet): it can be open from 0.0000 s to 10.0000 s`)
}
