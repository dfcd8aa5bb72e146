package rule

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// refilling is a stage with a cylinder for j1, 5 m from it, and a refill after
// song A; the two songs last a minute each.
func refilling(refill string, gap timeline.Time, more ...timeline.Edit) []timeline.Edit {
	return append(edits(
		put(&timeline.StagePosition{Base: base{ID: "wing"}, X: 5}, &timeline.StagePosition{Base: base{ID: "lip"}}),
		field("placed", "j1", "position", "lip"), field("placed", "j2", "position", "wing"),
		field("article", "jet", "use-each", "1"), field("article", "jet", "medium", "CO2"),
		put(&timeline.Supply{Base: base{ID: "cyl"}, Name: "cylinder", Medium: "CO2", Fill: 3, Units: 1, Usable: 1, Feeds: []timeline.ID{"j1"}, At: "wing"}),
		put(&timeline.Set{Base: base{ID: "main"}, Name: "main", Entries: []timeline.Entry{{Song: "a", Gap: gap}, {Song: "b"}}}),
		func(d *timeline.Draft) error {
			if refill == "" {
				return nil
			}
			return field("set", "main", "refills", refill)(d)
		}), more...)
}

func TestRefillWindow(t *testing.T) {
	const two = "cyl after=a minutes=2 by=x"
	draw := func(at timeline.Time) timeline.Edit { return cue("b", "j1", at) } // the command comes at the hit: the jet has no lead
	runCases(t, "refill-window", []ruleCase{
		{"done just in time", refilling(two, 100*sec, draw(20*sec)), nil},
		{"a tenth of a millisecond late", refilling(two, 100*sec, draw(20*sec-timeline.EntryStep)), []string{"supply:cyl: the refill of cylinder takes 2 min: the command at 02:00:20:00 in song 2 \"Song B\" draws from it 119.9999 s after the song"}},
		{"another supply's", refilling(two, 100*sec, cue("b", "j2", sec)), nil},
		{"minutes not given", refilling("cyl after=a", 0, draw(sec)), nil},
		{"by a key", refilling(two, 100*sec, key(1, meant("b"))), []string{"supply:cyl: key 1 in song 2"}},
		{"by a key before it", refilling(two, 100*sec, key(1, meant("a"))), nil},
		{"after the last song", refilling("cyl after=b minutes=60", 0, draw(sec)), nil},
	})
	runCases(t, "refill-gap", []ruleCase{
		{"as long as the gap", refilling(two, 120*sec), nil},
		{"a second shorter", refilling(two, 119*sec), []string{"supply:cyl: takes 2 min and the gap lasts 119 s: for 1 s of the next song"}},
		{"after the last song", refilling("cyl after=b minutes=60", 0), nil},
	})
}

func TestRefillReach(t *testing.T) {
	const two = "cyl after=a minutes=2 by=x"
	clear := func(m string) timeline.Edit { return field("article", "jet", "clear", m) }
	runCases(t, "refill-reach", []ruleCase{
		{"quiet", refilling(two, 100*sec), nil},
		{"in the zone meanwhile", refilling(two, 100*sec, clear("5.01"), cue("b", "j1", 19*sec)), []string{"supply:cyl: j1 may play while it lasts, first j1 (02:00:19:00 in song 2 \"Song B\"): 5 m away, and clear zone asks for 5.01 m"}},
		{"not in the zone", refilling(two, 100*sec, clear("5"), cue("b", "j1", 19*sec)), nil},
		{"in the zone, and it is done", refilling(two, 100*sec, clear("6"), cue("b", "j1", 20*sec)), nil},
		{"label distance", refilling(two, 100*sec, field("article", "jet", "separation", "8"), cue("b", "j1", 0)), []string{"supply:cyl: label distance asks for 8 m"}},
		{"beside it, whatever it asks", refilling(two, 100*sec, cue("b", "j2", 0)), []string{"supply:cyl: j2 may play: the distance of this rule asks for 3 m"}},
		{"and no distance", refilling(two, 100*sec, cue("b", "j2", 0), showSetting("refill-reach", func(s *timeline.Setting) { s.Values = []string{"distance=0"} })), nil},
		{"falls after the song before", refilling(two, 100*sec, clear("6"), field("article", "jet", "hang", "9"), cue("a", "j1", 52*sec)), []string{"supply:cyl: first j1 (01:00:52:00 in song 1"}},
		{"has fallen by then", refilling(two, 100*sec, clear("6"), field("article", "jet", "hang", "8"), cue("a", "j1", 52*sec)), nil},
		{"spread counts", refilling(two, 100*sec, clear("6"), field("article", "jet", "spread", "0.1"), cue("b", "j1", 20*sec)), []string{"supply:cyl"}},
		{"without minutes the gap counts", refilling("cyl after=a", 100*sec, clear("6"), field("article", "jet", "spread", "0.1"), cue("b", "j1", 0)), []string{"supply:cyl"}},
		{"and no more than the gap", refilling("cyl after=a", 100*sec, clear("6"), cue("b", "j1", 0)), nil},
		{"a key of any time", refilling(two, 100*sec, key(1, aims("j2"))), []string{"supply:cyl: first j2 (key 1)"}},
		{"a key of the song before", refilling(two, 100*sec, key(1, aims("j2"), meant("a"))), nil},
		{"no position", refilling(two, 100*sec, field("supply", "cyl", "position", ""), cue("b", "j2", 0)), nil},
	})
}

// The zone against looking at every command of the set one by one, in tenths
// of a second.
func TestRefillReachEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		minutes := rapid.IntRange(1, 3).Draw(rt, "minutes")
		gap := timeline.Time(rapid.IntRange(0, 150).Draw(rt, "gap")) * sec
		zone := rapid.SampledFrom([]string{"4", "6"}).Draw(rt, "zone")
		list := refilling(fmt.Sprintf("cyl after=a minutes=%d", minutes), gap, field("article", "jet", "clear", zone), field("article", "jet", "hang", "20"))
		near := false
		for range rapid.IntRange(0, 3).Draw(rt, "hits") {
			song, lane := rapid.SampledFrom([]timeline.ID{"a", "b"}).Draw(rt, "song"), rapid.SampledFrom([]timeline.ID{"j1", "j2"}).Draw(rt, "lane")
			hit := timeline.Time(rapid.IntRange(0, 59).Draw(rt, "hit")) * sec
			list = append(list, cue(song, lane, hit))
			from := hit
			if song == "b" {
				from += 60*sec + gap
			}
			to := from + 20*sec // falls longer than it is open
			reaches := lane == "j2" || zone == "6"
			for tenth := 60 * sec; tenth < 60*sec+timeline.Time(minutes)*60*sec; tenth += sec / 10 {
				near = near || reaches && from < tenth+sec/10 && to > tenth
			}
		}
		found := ofRule("refill-reach", Check(timeline.Compile(stage(t, list...), nil), Facts{}))
		require.Equal(rt, near, len(found) > 0)
	})
}

func TestRefillLost(t *testing.T) {
	runCases(t, "refill-lost", []ruleCase{
		{"surely", refilling("cyl after=a", 0), nil},
		{"song left out", refilling("cyl after=a", 0, field("set", "main", "entries", "b")), []string{"supply:cyl: its song \"Song A\" is not played"}},
		{"an alternative", refilling("cyl after=a", 0, field("set", "main", "entries", "a alt=x;b alt=x")), []string{"supply:cyl: it is an alternative"}},
		{"an alternative to nothing", refilling("cyl after=a", 0, field("set", "main", "entries", "a alt=x;b")), nil},
		{"no such song", refilling("cyl after=zzz", 0), []string{"supply:cyl: its song (zzz) is not played"}},
	})
	runCases(t, "refill-not-given", []ruleCase{
		{"all given", refilling("cyl after=a minutes=1 by=x", 0), nil},
		{"nothing given", refilling("cyl after=a", 0, field("supply", "cyl", "position", "")), []string{"supply:cyl: minutes (refill-window, refill-gap), who does it, the supply's position (refill-reach)"}},
	})
}

// Levels with refills: what was drawn before one is made good by it, and what
// is drawn after it counts anew.
func TestSupplyWithRefills(t *testing.T) {
	draw := func(song timeline.ID, n int) timeline.Edit {
		return func(d *timeline.Draft) error {
			for i := range n {
				if err := cue(song, "j1", timeline.Time(4*i+1)*sec)(d); err != nil {
					return err
				}
			}
			return nil
		}
	}
	const refill = "cyl after=a minutes=1 by=x"
	runCases(t, "supply-empty", []ruleCase{
		{"three and three, refilled", refilling(refill, 0, draw("a", 3), draw("b", 3)), nil},
		{"three and three, not refilled", refilling("", 0, draw("a", 3), draw("b", 3)), []string{"supply:cyl: cylinder has 0 kg left and this hit takes 1 kg"}},
		{"four before it: empty before the refill", refilling(refill, 0, draw("a", 4), draw("b", 1)), []string{"supply:cyl: cylinder has 0 kg left"}},
		{"four after it", refilling(refill, 0, draw("a", 3), draw("b", 4)), []string{"supply:cyl"}},
		{"four before and after: told for each", refilling(refill, 0, draw("a", 4), draw("b", 4)), []string{"supply:cyl", "supply:cyl"}},
		{"a smaller one", refilling("cyl after=a kg=2 minutes=1 by=x", 0, draw("a", 3), draw("b", 3)), []string{"supply:cyl"}},
		{"a refill that may not happen", refilling(refill, 0, draw("a", 3), draw("b", 1), put(&timeline.SongHead{Base: base{ID: "c"}, Slug: "c", Length: sec, Start: timeline.Timecode{H: 3}}),
			put(&timeline.Set{Base: base{ID: "main"}, Name: "main", Entries: []timeline.Entry{{Song: "a", Alt: "x"}, {Song: "c", Alt: "x"}, {Song: "b"}}, Refills: []timeline.Refill{{Supply: "cyl", After: "a"}}})), []string{"supply:cyl"}},
		{"by keys", refilling("", 0, key(1, upTo(2)), draw("a", 2)), []string{"supply:cyl: cylinder has 0 kg left"}},
		{"by keys alone", refilling("", 0, key(1, upTo(4))), []string{"supply:cyl: keys of the operator's plan may take 4 kg by the start of this song, which leaves -1 kg"}},
		{"by a key in another song, refilled", refilling(refill, 0, key(1, upTo(3), meant("a")), draw("b", 3)), nil},
	})
	s := stage(t, refilling("", 0, draw("a", 3), draw("b", 3))...)
	require.Empty(t, fixed(t, "supply-empty", s, ""), "the fix plans a refill in the gap before")
	found := ofRule("supply-empty", Check(timeline.Compile(s, nil), Facts{}))
	next, err := s.Edit(found[0].Fix.Edits...)
	require.NoError(t, err)
	require.Equal(t, []timeline.Refill{{Supply: "cyl", After: "a"}}, next.Set("main").Refills)
}
