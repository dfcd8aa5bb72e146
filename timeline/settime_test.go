package timeline

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// setOf is a show whose set has songs of so many seconds, with gaps of 10 s and
// the given words of alternatives.
func setOf(t require.TestingT, seconds []int, alts []string) *Plan {
	s, err := NewShow("show1", "x", Rate25).Edit(func(d *Draft) error {
		set := Set{Base: Base{ID: "m"}, Name: "m"}
		for i, sec := range seconds {
			id := ID(fmt.Sprintf("s%d", i))
			d.Put("", &SongHead{Base: Base{ID: id}, Title: string(id), Slug: string(id), Start: Timecode{H: uint8(i + 1)}, Length: Time(sec) * Second})
			set.Entries = append(set.Entries, Entry{Song: id, Gap: 10 * Second, Alt: alts[i]})
		}
		d.Put("", &set)
		return nil
	})
	require.NoError(t, err)
	return Compile(s, nil)
}

func TestSetTimes(t *testing.T) {
	for _, c := range []struct {
		seconds []int
		alts    []string
		starts  []int
		end     int
	}{ // all derived by hand
		{[]int{60, 30}, []string{"", ""}, []int{0, 70}, 100},
		{[]int{60, 30, 90, 20}, []string{"", "a", "a", ""}, []int{0, 70, 70, 170}, 190},
		{[]int{60, 90, 30, 20}, []string{"", "a", "a", ""}, []int{0, 70, 70, 170}, 190},
		{[]int{60, 30, 20, 90}, []string{"a", "", "a", ""}, []int{0, 70, 110, 110}, 200},
		{[]int{60, 30}, []string{"a", ""}, []int{0, 70}, 100}, // an alternative to nothing is played
		{nil, nil, []int{}, 0},
	} {
		starts, end := setOf(t, c.seconds, c.alts).SetTimes()
		got := []int{}
		for _, at := range starts {
			got = append(got, int(at/Second))
		}
		require.Equal(t, c.starts, got, "%v %v", c.seconds, c.alts)
		require.Equal(t, c.end, int(end/Second), "%v %v", c.seconds, c.alts)
	}
}

// The set lasts as long as the longest night that can be played of it: against
// playing every choice out.
func TestSetTimesEqualTheirSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(rt, "songs")
		var seconds []int
		var alts []string
		for i := range n {
			seconds = append(seconds, rapid.IntRange(1, 99).Draw(rt, fmt.Sprint("length", i)))
			alts = append(alts, rapid.SampledFrom([]string{"", "a", "b"}).Draw(rt, fmt.Sprint("alt", i)))
		}
		p := setOf(rt, seconds, alts)
		_, end := p.SetTimes()
		require.GreaterOrEqual(rt, end, longestNight(p), "no choice is longer")
	})
}

// longestNight plays every choice out.
func longestNight(p *Plan) (longest Time) {
	choices := p.Choices()
	for pick := range 1 << len(p.Songs) {
		count := map[string]int{}
		var at, end Time
		for i, alt := range choices {
			if alt != "" && pick&(1<<i) == 0 {
				continue
			}
			if alt != "" {
				count[alt]++
			}
			end = at + p.Songs[i].Duration
			at = end + p.Songs[i].Entry.Gap
		}
		legal := true
		for _, alt := range choices {
			legal = legal && (alt == "" || count[alt] == 1)
		}
		if legal {
			longest = max(longest, end)
		}
	}
	return longest
}
