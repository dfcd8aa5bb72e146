package snap

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
	"emberbeat/timeline/grid"
	_ "emberbeat/timeline/testtool" // the seed of random walks
)

const ms = timeline.Millisecond

func beatsOf() *timeline.BeatMap {
	return timeline.SteadyBeatMap(timeline.Second/3, timeline.Second/2, timeline.Metre{Num: 3, Den: 4}, 40)
}

func drawAttacks(t *rapid.T) []grid.Attack {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) grid.Attack {
		return grid.Attack{At: timeline.Time(rapid.Int64Range(0, int64(20*timeline.Second)).Draw(t, "at")), Strength: rapid.Float64Range(0, 1).Draw(t, "strength")}
	}), 0, 60).Draw(t, "attacks")
}

// What a time is drawn to is what draws it most of all that may catch and is in reach, as a plain look at each of them finds; a step of the
// grid is exact, and a hit is one that is heard and strong enough.
func TestNearIsWhatAPlainLookFinds(t *testing.T) {
	steps := []timeline.Rat{{}, timeline.NewRat(2, 1), timeline.NewRat(1, 1), timeline.NewRat(1, 3)}
	rapid.Check(t, func(t *rapid.T) {
		attacks := drawAttacks(t)
		at := timeline.Time(rapid.Int64Range(0, int64(20*timeline.Second)).Draw(t, "time"))
		radius := timeline.Time(rapid.Int64Range(0, int64(timeline.Second)).Draw(t, "radius"))
		to := rapid.SampledFrom(Tos()).Draw(t, "to")
		least := rapid.SampledFrom(Strengths()).Draw(t, "weakest")
		step := rapid.SampledFrom(steps).Draw(t, "step")
		nearAgrees(t, attacks, at, radius, to, least, step)
	})
}

// Each way it can end is met, whatever is drawn above.
func TestNearEndsEachWay(t *testing.T) {
	hit := []grid.Attack{{At: 5 * timeline.Second, Strength: 1}}
	beat, second := timeline.NewRat(1, 1), timeline.Second
	require.Equal(t, "nothing", nearAgrees(t, hit, 5*second, second, Off, Weak, beat))
	require.Equal(t, "nothing", nearAgrees(t, hit, 9*second, second, Hits, Weak, beat))
	require.Equal(t, "hit", nearAgrees(t, hit, 5*second+second/10, second, Hits, Weak, beat))
	require.Equal(t, "grid", nearAgrees(t, hit, 9*second, second, Beats, Weak, beat))
	require.Equal(t, "grid", nearAgrees(t, hit, 9*second, second, Both, Weak, beat))
}

// nearAgrees holds what a time is drawn to against a plain look at all that may
// catch it, and says how it ended.
func nearAgrees(t require.TestingT, attacks []grid.Attack, at, radius timeline.Time, to To, least Strength, step timeline.Rat) string {
	beats := beatsOf()
	got := New(beats, to, step, attacks, least).Near(at, radius)
	var costs []timeline.Time
	for _, a := range attacks {
		d := apart(a.At.RoundTo(timeline.EntryStep), at)
		class := Of(a.Strength)
		allowed := class == Strong || class == Middle && least != Strong || least == Weak
		if to != Off && to != Beats && allowed && d <= radius {
			costs = append(costs, d*map[Strength]timeline.Time{Strong: 1, Middle: 2, Weak: 4}[class])
		}
	}
	if d := apart(beats.At(beats.Snap(at, step)), at); to != Off && to != Hits && d <= radius {
		costs = append(costs, 2*d)
	}
	if len(costs) == 0 {
		require.Equal(t, Caught{At: at.RoundTo(timeline.EntryStep)}, got)
		return "nothing"
	}
	least1 := slices.Min(costs)
	require.NotEmpty(t, got.Name)
	require.LessOrEqual(t, apart(got.At, at), radius)
	if got.On {
		require.False(t, got.Hit)
		require.Equal(t, beats.At(got.Bar), got.At)
		require.Equal(t, least1, 2*apart(got.At, at))
		return "grid"
	}
	require.True(t, got.Hit)
	require.True(t, slices.ContainsFunc(attacks, func(a grid.Attack) bool {
		w := map[Strength]timeline.Time{Strong: 1, Middle: 2, Weak: 4}[Of(a.Strength)]
		return a.At.RoundTo(timeline.EntryStep) == got.At && apart(got.At, at)*w == least1
	}))
	return "hit"
}

// A stronger hit draws from farther, and what is caught is named by its beat, its distance from it, and its strength.
func TestStrongerHitsDrawFromFarther(t *testing.T) {
	beats := timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 100)
	at41 := beats.At(timeline.BarBeat{Bar: 41, Beat: timeline.NewRat(1, 1)})
	hits := func(list ...grid.Attack) []grid.Attack { return list }
	for _, c := range []struct {
		to      To
		weakest Strength
		attacks []grid.Attack
		at      timeline.Time
		name    string
		off     timeline.Time // from 41.2
	}{
		{Hits, Weak, hits(grid.Attack{At: at41 + 12*ms, Strength: 0.9}), at41, "hit 41.2 +12 ms, strong", 12 * ms},
		{Hits, Weak, hits(grid.Attack{At: at41 - 7*ms, Strength: 0.5}), at41, "hit 41.2 −7 ms, middle", -7 * ms},
		{Hits, Weak, hits(grid.Attack{At: at41, Strength: 0.1}), at41 + 9*ms, "hit on 41.2, weak", 0},
		{Hits, Middle, hits(grid.Attack{At: at41, Strength: 0.1}), at41 + 9*ms, "", 9 * ms},
		{Hits, Weak, hits(grid.Attack{At: at41 - 10*ms, Strength: 0.9}, grid.Attack{At: at41 + 6*ms, Strength: 0.5}), at41, "hit 41.2 −10 ms, strong", -10 * ms},
		{Hits, Weak, hits(grid.Attack{At: at41 - 10*ms, Strength: 0.5}, grid.Attack{At: at41 + 6*ms, Strength: 0.5}), at41, "hit 41.2 +6 ms, middle", 6 * ms},
		{Both, Weak, hits(grid.Attack{At: at41 + 12*ms, Strength: 0.9}), at41 + 3*ms, "bar 41.2", 0},
		{Both, Weak, hits(grid.Attack{At: at41 + 12*ms, Strength: 0.9}), at41 + 5*ms, "hit 41.2 +12 ms, strong", 12 * ms},
		{Both, Weak, hits(grid.Attack{At: at41 + 12*ms, Strength: 0.1}), at41 + 7*ms, "bar 41.2", 0},
		{Beats, Weak, hits(grid.Attack{At: at41 + 12*ms, Strength: 0.9}), at41 + 12*ms, "bar 41.2", 0},
		{Off, Weak, hits(grid.Attack{At: at41 + 12*ms, Strength: 0.9}), at41 + 12*ms, "", 12 * ms},
	} {
		got := New(beats, c.to, timeline.NewRat(1, 1), c.attacks, c.weakest).Near(c.at, 40*ms)
		require.Equal(t, c.name, got.Name, "%v", c)
		require.Equal(t, at41+c.off, got.At, "%v", c)
	}
	got := New(nil, Hits, timeline.Rat{}, hits(grid.Attack{At: 62512 * ms, Strength: 1}), Weak).Near(62500*ms, 40*ms)
	require.Equal(t, "hit 1:02.512, strong", got.Name, "without beats by its time")
}

// Grid and hits come before marks, these before cues, and the playhead last.
func TestOrderOfTargets(t *testing.T) {
	beats := timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 100)
	song := &timeline.Song{SongHead: timeline.SongHead{Beats: beats}}
	song.Markers = []*timeline.Marker{{Base: timeline.Base{ID: "m"}, Name: "here", At: timeline.AtTime(10030 * ms)}}
	song.Sections = []*timeline.Section{{Base: timeline.Base{ID: "s"}, Name: "Chorus", At: timeline.AtTime(20030 * ms)}}
	song.Cues = []*timeline.Cue{{Base: timeline.Base{ID: "c"}, At: timeline.AtTime(10020 * ms)}, {Base: timeline.Base{ID: "d"}, At: timeline.AtTime(30020 * ms)}}
	head := 40*timeline.Second + 60*ms
	attacks := []grid.Attack{{At: 10035 * ms, Strength: 0.1}}
	for _, c := range []struct {
		to   To
		at   timeline.Time
		name string
	}{
		{Beats, 10025 * ms, "bar 6.1"}, {Both, 10035 * ms, "hit 6.1 +35 ms, weak"}, {Hits, 10025 * ms, "hit 6.1 +35 ms, weak"}, {Off, 10025 * ms, "here"},
		{Off, 20025 * ms, "Chorus"}, {Off, 30025 * ms, "cue"}, {Off, head, "playhead"}, {Off, 35 * timeline.Second, ""},
	} {
		got := New(beats, c.to, timeline.NewRat(1, 1), attacks, Weak).Mark(song, nil).Play(head).Near(c.at, 40*ms)
		require.Equal(t, c.name, got.Name, "%v", c)
	}
	require.Empty(t, New(beats, Off, timeline.Rat{}, nil, Weak).Mark(song, map[timeline.ID]bool{"d": true}).Near(30025*ms, 40*ms).Name, "what is moved catches nothing")
}

// A cue on a hit stands at its time, which no grid moves; one on the grid stands on its beat.
func TestAnchorOfWhatIsCaught(t *testing.T) {
	beats := beatsOf()
	bar := timeline.BarBeat{Bar: 4}
	require.Equal(t, timeline.AtBar(bar), Caught{At: beats.At(bar), Bar: bar, On: true, Name: "bar 4.1"}.Moment(beats, true))
	require.Equal(t, timeline.AtTime(beats.At(bar)), Caught{At: beats.At(bar), Bar: bar, On: true}.Moment(beats, false))
	require.Equal(t, timeline.AtTime(5*timeline.Second), Caught{At: 5 * timeline.Second, Hit: true}.Moment(beats, true))
	require.True(t, Caught{At: 5 * timeline.Second}.Moment(beats, true).OnBeat)
}

// Cues are put onto hits within the distance, each place is given once, and every cue that stays says why; what is put there stays there.
func TestQuantise(t *testing.T) {
	beats := beatsOf()
	rapid.Check(t, func(t *rapid.T) {
		song := &timeline.Song{SongHead: timeline.SongHead{Beats: beats}}
		for i, at := range rapid.SliceOfN(rapid.Int64Range(0, 20000), 1, 30).Draw(t, "cues") {
			song.Cues = append(song.Cues, &timeline.Cue{Base: timeline.Base{ID: timeline.ID(fmt.Sprint(i))}, Lane: "l", At: timeline.AtTime(timeline.Time(at) * ms)})
		}
		x := New(beats, rapid.SampledFrom([]To{Beats, Hits, Both}).Draw(t, "to"), timeline.NewRat(1, 1), drawAttacks(t), Weak)
		n := rapid.IntRange(1, len(song.Cues)).Draw(t, "chosen")
		moves := x.Quantise(song, song.Cues[:n], Within)
		require.Len(t, moves, n)
		place := map[timeline.Time]bool{}
		for _, m := range moves {
			was, _ := m.Cue.At.In(beats)
			is, _ := m.Is.At.In(beats)
			require.Equal(t, m.Stays == "", m.Onto != "")
			if m.Stays != "" {
				require.Same(t, m.Cue, m.Is)
				continue
			}
			require.Equal(t, (was + m.By).RoundTo(timeline.EntryStep), is.RoundTo(timeline.EntryStep))
			require.False(t, place[is], "two cues at one place")
			place[is] = true
			if !m.Is.At.OnBeat {
				require.LessOrEqual(t, apart(m.By, 0), Within+timeline.EntryStep)
			}
			again, ok := x.Put(is, Within)
			require.True(t, ok)
			require.Equal(t, is.RoundTo(timeline.EntryStep), again.At.RoundTo(timeline.EntryStep), "what is put there stays there")
		}
		for _, c := range song.Cues[n:] {
			at, _ := c.At.In(beats)
			require.False(t, place[at], "where another cue stands, none goes")
		}
	})
}
