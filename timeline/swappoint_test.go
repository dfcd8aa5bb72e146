package timeline

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawing is a show of songs with so many hits of one jet each, a second
// apart, that draw from one supply.
func drawing(t require.TestingT, kgEach, usable, reserve float64, entries []Entry, hits ...int) *Plan {
	s, err := NewShow("show1", "x", Rate25).Edit(func(d *Draft) error {
		d.Put("", &Article{Base: Base{ID: "jet"}, Name: "jet", Family: CO2Jet, Control: RelayControl, UseEach: kgEach, Medium: "CO2"},
			&Placed{Base: Base{ID: "j1"}, Article: "jet"}, &Placed{Base: Base{ID: "j2"}, Article: "jet"},
			&Group{Base: Base{ID: "both"}, Members: []ID{"j1", "j2"}},
			&Supply{Base: Base{ID: "cyl"}, Medium: "CO2", Fill: usable, Units: 1, Usable: 1, Reserve: reserve, Feeds: []ID{"j1", "j2"}},
			&Set{Base: Base{ID: "main"}, Name: "main", Entries: entries})
		for i, n := range hits {
			song := ID(fmt.Sprintf("s%d", i+1))
			d.Put("", &SongHead{Base: Base{ID: song}, Slug: string(song), Length: Minute})
			d.Put(song, &Lane{Base: Base{ID: "l"}, Target: "j1", Role: EffectSlot})
			for k := range n {
				d.Put(song, &Cue{Base: Base{ID: ID(fmt.Sprintf("q%02d", k+1))}, Lane: "l", At: AtTime(Time(k+1) * Second)})
			}
		}
		return nil
	})
	require.NoError(t, err)
	return Compile(s, nil)
}

// Derived: 24 hits of 1.2 kg are 28.8 kg; of 18.16 kg usable,
// with a reserve of 15 %, it is swapped after hit 12.
func TestSwapPointBeforeTheReserve(t *testing.T) {
	p := drawing(t, 1.2, 18.16, 0.15, []Entry{{Song: "s1"}}, 24)
	s := p.SwapPoints()[0]
	require.InDelta(t, 28.8, s.Used, 1e-9)
	require.Len(t, s.Points, 1)
	pt := s.Points[0]
	require.Equal(t, 12, pt.Hit)
	require.Equal(t, ID("q12"), pt.After.Command.Cue.ID)
	require.Equal(t, ID("q13"), pt.Before.Command.Cue.ID)
	require.Equal(t, 3.76, pt.LeftKg)
	require.Equal(t, Second, pt.Free)
	require.Equal(t, 3.76, s.LeftKg)
	require.Equal(t, 15, emptyAfter(s), "without a swap it is empty after hit 15")
}

// emptyAfter counts the hits that a supply feeds before it has too little.
func emptyAfter(s SupplySwaps) int {
	n := 0
	for _, l := range s.Levels {
		if l.LeftKg >= 0 {
			n++
		}
	}
	return n
}

// A swap over two songs says how long there is for it, changeover included.
func TestSwapPointBetweenSongs(t *testing.T) {
	p := drawing(t, 1, 3, 0, []Entry{{Song: "s1", Gap: 30 * Second}, {Song: "s2"}}, 3, 2)
	pt := p.SwapPoints()[0].Points
	require.Len(t, pt, 1)
	require.Equal(t, 0, pt[0].After.Song)
	require.Equal(t, 1, pt[0].Before.Song)
	require.Equal(t, 88*Second, pt[0].Free, "57 s to the end, 30 s changeover, 1 s into the next")
}

// Of alternatives the one that draws most counts, and only that one.
func TestSwapPointsOfAlternatives(t *testing.T) {
	p := drawing(t, 1, 3, 0, []Entry{{Song: "s1", Alt: "a"}, {Song: "s2", Alt: "a"}, {Song: "s3"}}, 1, 2, 1)
	s := p.SwapPoints()[0]
	require.Empty(t, s.Points, "two of the second song and one of the third are just what it holds")
	require.Zero(t, s.LeftKg)
}

// What a group draws on one cue is one hit; one that is more than a full supply
// gives is said, not swapped for ever.
func TestSwapPointsOfGroups(t *testing.T) {
	p := drawing(t, 1, 3, 0, []Entry{{Song: "s1"}}, 3)
	s, err := p.Show.Edit(set("lane", "s1", "l", "target", "both"))
	require.NoError(t, err)
	swaps := Compile(s, nil).SwapPoints()[0]
	require.Len(t, swaps.Points, 2)
	require.Equal(t, 1.0, swaps.Points[0].LeftKg)
	require.False(t, swaps.Short)
	small := drawing(t, 4, 3, 0, []Entry{{Song: "s1"}}, 1).SwapPoints()[0]
	require.True(t, small.Short)
	require.Empty(t, small.Points)
}

// The units of one cue have leads of their own, so that another cue's command
// comes between them: no swap does.
func TestSwapPointsNeverPartACue(t *testing.T) {
	p := drawing(t, 1, 3, 0, []Entry{{Song: "s1"}}, 0)
	s, err := p.Show.Edit(set("lane", "s1", "l", "target", "both"), func(d *Draft) error {
		slow := *d.Show().Stock.Article("jet")
		slow.ID, slow.Lead = "slow", 800*Millisecond
		d.Put("", &slow, &Placed{Base: Base{ID: "j2"}, Article: "slow"})
		d.Put("s1", &Lane{Base: Base{ID: "l1"}, Target: "j1", Role: EffectSlot},
			&Cue{Base: Base{ID: "a"}, Lane: "l1", At: AtTime(Second)}, &Cue{Base: Base{ID: "b"}, Lane: "l1", At: AtTime(2 * Second)},
			&Cue{Base: Base{ID: "c"}, Lane: "l", At: AtTime(4 * Second)},                  // j2 at 3.2 s, j1 at 4 s
			&Cue{Base: Base{ID: "d"}, Lane: "l1", At: AtTime(3*Second + 500*Millisecond)}) // between them
		return nil
	})
	require.NoError(t, err)
	swaps := Compile(s, nil).SwapPoints()[0]
	require.Len(t, swaps.Points, 1)
	require.Equal(t, ID("b"), swaps.Points[0].After.Command.Cue.ID)
	require.Equal(t, ID("c"), swaps.Points[0].Before.Command.Cue.ID)
	require.Equal(t, 1.0, swaps.Points[0].LeftKg)
	require.Zero(t, swaps.LeftKg)
	require.False(t, swaps.Short)
}

// Whatever is drawn: between two swaps a supply never falls below its reserve,
// unless it is said to be short, and a swap one hit later would be too late.
func TestSwapPointsAreTheLatest(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		each := float64(rapid.IntRange(1, 40).Draw(rt, "each")) / 10
		usable := float64(rapid.IntRange(0, 200).Draw(rt, "usable")) / 10
		reserve := float64(rapid.IntRange(0, 10).Draw(rt, "reserve")) / 20
		n := rapid.IntRange(0, 30).Draw(rt, "hits")
		s := drawing(rt, each, usable, reserve, []Entry{{Song: "s1"}}, n).SwapPoints()[0]
		fits := 0 // a slow plain twin: whole hits above the reserve
		for left := milligrams(usable) - milligrams(each); left >= milligrams(s.Reserve); left -= milligrams(each) {
			fits++
		}
		require.Equal(rt, fits == 0 && n > 0, s.Short)
		if fits == 0 {
			return
		}
		require.Len(rt, s.Points, max(0, (n+fits-1)/fits-1))
		for i, pt := range s.Points {
			require.Equal(rt, (i+1)*fits, pt.Hit)
		}
	})
}
