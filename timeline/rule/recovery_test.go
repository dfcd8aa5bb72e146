package rule

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// Derived: command at 10.000, open 1.5, recovery 2.0:
// the next at 13.500 fits, at 13.499 it does not.
func TestRecovery(t *testing.T) {
	first := cue("a", "j1", 10*sec)
	extra := put(&timeline.Setting{Base: base{ID: "recovery"}, Values: []string{"extra=0.5"}})
	runCases(t, "recovery", []ruleCase{
		{"trade example that fits", edits(first, cue("a", "j1", ms(13500))), nil},
		{"trade example that fails", edits(first, cue("a", "j1", ms(13499))), []string{"cue:a/a-j1-13499: j1: 3.499 s after its last command: need 3.5 s"}},
		{"another unit", edits(first, cue("a", "j2", ms(10001))), nil},
		// 10.019 s rounds to frame 250 (10.00), 13.519 to 338 (13.52): the busy time ends at 13.50 there.
		{"exact fits, rounded fits", edits(cue("a", "j1", ms(10019)), cue("a", "j1", ms(13519))), nil},
		// 10.021 rounds up to 10.04, 13.521 up to 13.52; 10.021+3.5 fits exactly, 10.04+3.5 does not.
		{"exact fits, rounding to frames does not", edits(cue("a", "j1", ms(10021)), cue("a", "j1", ms(13521))), []string{"cue:a/a-j1-13521: rounding to frames leaves it 20 ms short"}},
		{"still open counts without recovery", edits(field("article", "jet", "recovery", "0"), first, cue("a", "j1", ms(11480))), []string{"cue:a/a-j1-11480"}},
		{"closed without recovery", edits(field("article", "jet", "recovery", "0"), first, cue("a", "j1", ms(11500))), nil},
		{"a long one before the last", edits(cue("a", "j1", 10*sec, 8*sec), cue("a", "j1", 11*sec), cue("a", "j1", 15*sec)), []string{"cue:a/a-j1-11000", "cue:a/a-j1-15000: 5 s after"}},
		{"single-use articles have a rule of their own", edits(cue("a", "c1", 10*sec), cue("a", "c1", ms(10200))), nil},
		{"units of one cue are one finding", edits(cue("a", "jets", 10*sec), cue("a", "jets", 12*sec)), []string{"cue:a/a-jets-12000: j1, j2: 2 s after"}},
		{"a margin of one's own", edits(extra, first, cue("a", "j1", ms(13900))), []string{"cue:a/a-j1-13900: need 4 s"}},
		{"and the nearest that has it", edits(extra, first, cue("a", "j1", 14*sec)), nil},
	})
}

// The songs of a set follow each other: song A lasts 60 s, song B starts at
// 60 s of the set.
func TestRecoveryAcrossSongs(t *testing.T) {
	last := cue("a", "j1", 58*sec)
	entries := func(text string) timeline.Edit { return field("set", "main", "entries", text) }
	third := func(d *timeline.Draft) error {
		h := *d.Show().Song("b")
		h.ID, h.Slug, h.Start = "c", "c", timeline.Timecode{H: 3}
		d.Put("", &h.SongHead)
		d.Put("c", &timeline.Lane{Base: base{ID: "j1"}, Target: "j1", Role: timeline.EffectSlot})
		return nil
	}
	short := field("song", "b", "frames", fmt.Sprint(48000)) // one second
	runCases(t, "recovery", []ruleCase{
		{"free at 61.5", edits(last, cue("b", "j1", ms(1500))), nil},
		{"and not before", edits(last, cue("b", "j1", ms(1480))), []string{"cue:b/b-j1-1480: 3.48 s after: the last command is in song 1 \"Song A\""}},
		{"a pause of 20 ms helps", edits(last, entries("a gap=0.02;b"), cue("b", "j1", ms(1480))), nil},
		{"the other order", edits(last, entries("b;a"), cue("b", "j1", ms(1480))), nil},
		{"alternatives are not both played", edits(last, entries("a alt=x;b alt=x"), cue("b", "j1", 0)), nil},
		{"over a song between", edits(third, short, entries("a;b;c"), last, cue("c", "j1", 0)), []string{"cue:c/c-j1-0: 3 s after: song 1"}},
		{"which may be left out for an alternative", edits(third, entries("a;b alt=x;c alt=x"), last, cue("c", "j1", 0)), []string{"cue:c/c-j1-0: 2 s after: song 1"}},
		{"every command in the busy time", edits(cue("a", "j1", 55*sec, 10*sec), cue("b", "j1", sec), cue("b", "j1", ms(6900))), []string{"cue:b/b-j1-1000", "cue:b/b-j1-6900: 11.9 s after"}},
		{"a song left out of the set", edits(last, entries("a out;b"), cue("b", "j1", 0)), nil},
	})
	require.Empty(t, fixed(t, "recovery", stage(t, last, cue("b", "j1", ms(100))), ""))
}

// Applying the fix of a finding brings the cue to a time that fits, exactly
// and rounded, at every rate, on beats and off them.
func TestRecoveryFix(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		rate := rapid.SampledFrom(timeline.Rates()).Draw(rt, "rate")
		list := edits(field("show", "show", "rate", rate.String()), cue("a", "j1", ms(rapid.Int64Range(10_000, 10_050).Draw(rt, "first"))))
		second := ms(rapid.Int64Range(10_100, 13_600).Draw(rt, "second"))
		if rapid.Bool().Draw(rt, "on beat") {
			list = append(list, field("song", "a", "beats", "1.1 at=0.000000 metre=4/4;30.1 at=58.000000"), func(d *timeline.Draft) error {
				d.Put("a", &timeline.Cue{Base: base{ID: "beat"}, Lane: "j1", At: timeline.AtBar(d.Show().Song("a").Beats.Snap(second, timeline.NewRat(1, 3)))})
				return nil
			})
		} else {
			list = append(list, cue("a", "j1", second))
		}
		require.Empty(t, fixed(t, "recovery", stage(t, list...), ""))
	})
}

// slowRecovery finds what the rule finds, by trying every choice of
// alternatives and comparing every pair of commands. It gives the cues that
// come too early, with what they fail against: this song or an earlier one.
func slowRecovery(p *timeline.Plan) []string {
	found := map[string]bool{}
	for _, order := range choices(p) {
		at := map[int]timeline.Time{}
		var now timeline.Time
		for _, i := range order {
			at[i] = now
			now += p.Songs[i].Duration + p.Songs[i].Entry.Gap
		}
		for n, j := range order {
			for _, i := range order[:n+1] {
				slowPairs(p, i, j, at[j]-at[i], found)
			}
		}
	}
	var list []string
	for f := range found {
		list = append(list, f)
	}
	slices.Sort(list)
	return list
}

func slowPairs(p *timeline.Plan, i, j int, apart timeline.Time, found map[string]bool) {
	for n := range p.Songs[j].Commands {
		c := &p.Songs[j].Commands[n]
		earlier := p.Songs[i].Commands
		if i == j {
			earlier = earlier[:n]
		}
		for k := range earlier {
			e := &earlier[k]
			if e.Unit == c.Unit && (c.At+apart < e.At+e.Open+e.Article.Recovery || c.Rounded+apart < e.Rounded+e.Open+e.Article.Recovery) {
				found[fmt.Sprintf("%s in %d, same song %v", c.Cue.ID, p.Songs[j].Number, i == j)] = true
			}
		}
	}
}

// choices gives every order in which the songs of a plan can be played: one
// of each set of alternatives.
func choices(p *timeline.Plan) [][]int {
	orders := [][]int{nil}
	members := map[string][]int{}
	for i := range p.Songs {
		members[p.Songs[i].Entry.Alt] = append(members[p.Songs[i].Entry.Alt], i)
	}
	for alt, list := range members {
		var next [][]int
		for _, o := range orders {
			if alt == "" {
				next = append(next, append(slices.Clone(o), list...))
				continue
			}
			for _, i := range list {
				next = append(next, append(slices.Clone(o), i))
			}
		}
		orders = next
	}
	for _, o := range orders {
		slices.Sort(o)
	}
	return orders
}

// anySet draws a show of a few short songs with alternatives and gaps, and
// cues on three units that often come too early.
func anySet(rt *rapid.T, t testing.TB) *timeline.Show {
	songs := rapid.IntRange(1, 6).Draw(rt, "songs")
	var entries []string
	list := edits(field("show", "show", "rate", rapid.SampledFrom(timeline.Rates()).Draw(rt, "rate").String()))
	for i := range songs {
		id := timeline.ID(fmt.Sprintf("s%d", i))
		entry := string(id)
		if gap := rapid.IntRange(0, 3).Draw(rt, "gap"); gap > 0 {
			entry += fmt.Sprintf(" gap=%d.5", gap)
		}
		if alt := rapid.SampledFrom([]string{"", "", "x", "y"}).Draw(rt, "alt"); alt != "" {
			entry += " alt=" + alt
		}
		entries = append(entries, entry)
		length := rapid.IntRange(1, 6).Draw(rt, "length")
		list = append(list, put(&timeline.SongHead{Base: base{ID: id}, Title: string(id), Slug: string(id), Start: timeline.Timecode{H: uint8(5 + i)}, Length: timeline.Time(length) * sec}))
		for _, lane := range []timeline.ID{"j1", "jets", "bang"} {
			list = append(list, func(d *timeline.Draft) error {
				d.Put(id, &timeline.Lane{Base: base{ID: lane}, Target: lane, Role: timeline.EffectSlot})
				return nil
			})
		}
		for range rapid.IntRange(0, 4).Draw(rt, "cues") {
			at := timeline.Time(rapid.Int64Range(-20, int64(length)*25+20).Draw(rt, "frame")) * ms(20)
			at += timeline.Time(rapid.Int64Range(-1, 1).Draw(rt, "off")) * timeline.EntryStep
			open := ms(rapid.SampledFrom([]int64{0, 0, 500, 4000}).Draw(rt, "open"))
			list = append(list, cue(id, rapid.SampledFrom([]timeline.ID{"j1", "jets", "bang"}).Draw(rt, "lane"), at, open))
		}
	}
	list = append(list, field("set", "main", "entries", strings.Join(entries, ";")))
	return stage(t, list...)
}

func TestRecoveryEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := timeline.Compile(anySet(rt, t), nil)
		found := map[string]bool{}
		for _, f := range ofRule("recovery", Check(p, Facts{})) {
			found[fmt.Sprintf("%s in %d, same song %v", f.Ref.ID, f.Number, !strings.Contains(f.Text, "is in song"))] = true
		}
		var list []string
		for f := range found {
			list = append(list, f)
		}
		slices.Sort(list)
		require.Equal(rt, slowRecovery(p), list)
	})
}
