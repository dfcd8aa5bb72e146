package rule

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// key makes a hand cue of the stage.
func key(n int, change ...func(*timeline.HandCue)) timeline.Edit {
	h := &timeline.HandCue{Base: base{ID: timeline.ID(fmt.Sprintf("h%d", n))}, Key: n, Targets: []timeline.ID{"j1"}, Presses: 1}
	for _, f := range change {
		f(h)
	}
	return put(h)
}

type hand = timeline.HandCue

func aims(ids ...timeline.ID) func(*hand) { return func(h *hand) { h.Targets = ids } }
func meant(song timeline.ID) func(*hand)  { return func(h *hand) { h.Song = song } }
func upTo(n int) func(*hand)              { return func(h *hand) { h.Presses = n } }
func numbered(n int) func(*hand)          { return func(h *hand) { h.Key = n } }
func armed(by string) func(*hand)         { return func(h *hand) { h.ArmBy = by } }

func TestHandKeyNumbers(t *testing.T) {
	runCases(t, "hand-key", []ruleCase{
		{"two numbers", edits(key(1), key(2)), nil},
		{"one number twice", edits(key(1), key(2, numbered(1))), []string{"handcue:h2: key 1 and key 1 have one number"}},
		{"none", edits(key(1, numbered(0))), []string{"handcue:h1: hand cue for j1 has no key on the operator's plan"}},
		{"of another running order", edits(key(1), put(&timeline.Set{Base: base{ID: "z"}, Name: "z"}), key(2, numbered(1), func(h *hand) { h.Set = "z" })), nil},
		{"of a song that is not played", edits(key(1), key(2, numbered(1), meant("b")), field("set", "main", "entries", "a")), nil},
	})
	require.Empty(t, fixed(t, "hand-key", stage(t, key(1), key(2, numbered(1)), key(3, numbered(0)), key(4, numbered(0))), ""))
}

// Numbers against comparing every two.
func TestHandKeyEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var list []timeline.Edit
		numbers := rapid.SliceOfN(rapid.IntRange(0, 4), 0, 6).Draw(rt, "numbers")
		want := 0
		for i, n := range numbers {
			list = append(list, key(10+i, numbered(n)))
			again := n == 0
			for _, m := range numbers[:i] {
				again = again || m == n
			}
			if again {
				want++
			}
		}
		require.Len(rt, ofRule("hand-key", Check(timeline.Compile(stage(t, list...), nil), Facts{})), want)
	})
}

func TestHandLost(t *testing.T) {
	name := func(s string) func(*hand) { return func(h *hand) { h.Section = s } }
	verse := func(d *timeline.Draft) error {
		d.Put("a", &timeline.Section{Base: base{ID: "s1"}, Name: "Verse", At: timeline.AtTime(0)})
		return nil
	}
	runCases(t, "hand-lost", []ruleCase{
		{"all there", edits(verse, key(1, meant("a"), name("verse"))), nil},
		{"a section of another name", edits(verse, key(1, meant("a"), name("chorus"))), []string{"handcue:h1: its song has no such section (chorus)"}},
		{"aims at nothing", edits(key(1, aims())), []string{"handcue:h1: it aims at nothing"}},
		{"an empty group", edits(field("group", "jets", "members", ""), key(1, aims("jets", "j1"))), []string{"handcue:h1: its target has no members (jets)"}},
	})
}

// A key and timecode, or two keys, on one single-use output.
func TestHandSingleUse(t *testing.T) {
	alt := field("set", "main", "entries", "a alt=x;b alt=x")
	runCases(t, "hand-single-use", []ruleCase{
		{"its own", edits(key(1, aims("c1")), cue("a", "c2", 10*sec)), nil},
		{"timecode as well", edits(key(1, aims("c1")), cue("b", "c1", 10*sec)), []string{"handcue:h1: c1: timecode uses it up in song 2 \"Song B\" at 02:00:10:00"}},
		{"timecode before it, of another song", edits(key(1, aims("c1"), meant("b")), cue("a", "c1", 10*sec)), []string{"handcue:h1"}},
		{"in an alternative", edits(alt, key(1, aims("c1"), meant("b")), cue("a", "c1", 10*sec)), nil},
		{"two keys", edits(key(1, aims("c1")), key(2, aims("c1"))), []string{"handcue:h2: key 1 is meant for it as well"}},
		{"two keys of alternatives", edits(alt, key(1, aims("c1"), meant("a")), key(2, aims("c1"), meant("b"))), nil},
		{"pressed twice", edits(key(1, aims("c1"), upTo(2))), []string{"handcue:h1: may be pressed 2 times"}},
		{"what can be used again", edits(key(1, aims("j1"), upTo(5)), key(2, aims("j1")), cue("a", "j1", 10*sec)), nil},
		{"on one igniter output with it", edits(field("wire", "w-c2", "output", "1"), key(1, aims("c2")), cue("a", "c1", 10*sec)), []string{"handcue:h1: c2"}},
		{"both of one output by one press", edits(field("wire", "w-c2", "output", "1"), key(1, aims("c1", "c2"))), nil},
		{"disabled in timecode", edits(key(1, aims("c1")), cue("a", "c1", 10*sec), func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "cue", Song: "a", ID: "a-c1-10000"}, "disabled", timeline.Value{Text: "true"})
		}), nil},
	})
	require.Empty(t, fixed(t, "hand-single-use", stage(t, key(1, aims("c1"), upTo(3))), ""))
}

// Single use against looking at every pair of uses.
func TestHandSingleUseEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		list := edits()
		if rapid.Bool().Draw(rt, "alternatives") {
			list = edits(field("set", "main", "entries", "a alt=x;b alt=x"))
		}
		alt := len(list) > 0
		comets, songs := []timeline.ID{"c1", "c2"}, []timeline.ID{"", "a", "b"}
		type use struct{ song, comet timeline.ID }
		var timed, keys []use
		for i := range rapid.IntRange(0, 2).Draw(rt, "cues") {
			u := use{rapid.SampledFrom(songs[1:]).Draw(rt, "song"), rapid.SampledFrom(comets).Draw(rt, "comet")}
			list, timed = append(list, cue(u.song, u.comet, timeline.Time(i+1)*10*sec)), append(timed, u)
		}
		want := map[timeline.ID]bool{}
		meets := func(a, b use) bool {
			return a.comet == b.comet && (a.song == "" || b.song == "" || a.song == b.song || !alt)
		}
		for i := range rapid.IntRange(0, 3).Draw(rt, "keys") {
			u := use{rapid.SampledFrom(songs).Draw(rt, "meant"), rapid.SampledFrom(comets).Draw(rt, "target")}
			for _, o := range append(append([]use{}, timed...), keys...) {
				if meets(u, o) {
					want[timeline.ID(fmt.Sprintf("h%d", i+1))] = true
				}
			}
			list, keys = append(list, key(i+1, aims(u.comet), meant(u.song))), append(keys, u)
		}
		got := map[timeline.ID]bool{}
		for _, f := range ofRule("hand-single-use", Check(timeline.Compile(stage(t, list...), nil), Facts{})) {
			got[f.Ref.ID] = true
		}
		require.Equal(rt, want, got)
	})
}

func TestHandArms(t *testing.T) {
	runCases(t, "hand-arm", []ruleCase{
		{"nothing to arm", edits(key(1)), nil},
		{"nobody named", edits(key(1, aims("f1"))), []string{"handcue:h1: arm DMX 1.12, condition DMX 1.13 must be on before (f1)"}},
		{"somebody named", edits(key(1, aims("f1"), armed("pyro lead"))), nil},
		{"a space is nobody", edits(key(1, aims("f1"), armed(" "))), []string{"handcue:h1"}},
		{"a timecode window does not help", edits(key(1, aims("f1"), meant("a")), cue("a", "arm", 5*sec, 20*sec)), []string{"handcue:h1"}},
		{"dead", edits(key(1, aims("f1")), field("device", "bar1", "dead", "true")), nil},
	})
	runCases(t, "hand-shared-arm", []ruleCase{
		{"both heads of the bar", edits(key(1, aims("flames"), armed("x"))), nil},
		{"one head", edits(key(1, aims("f1"), armed("x"))), []string{"handcue:h1: DMX 1.12, arms f2 as well"}},
		{"timecode in its song", edits(key(1, aims("flames"), armed("x"), meant("a")), cue("a", "arm", 5*sec, 20*sec)), []string{"handcue:h1: is moved by timecode in song 1 \"Song A\", 1 window"}},
		{"timecode in another song", edits(key(1, aims("flames"), armed("x"), meant("b")), cue("a", "arm", 5*sec, 20*sec)), nil},
		{"timecode, and any time", edits(key(1, aims("flames"), armed("x")), cue("a", "arm", 5*sec, 20*sec), cue("b", "arm", 5*sec, 20*sec)), []string{"handcue:h1: in 2 songs, 2 windows"}},
	})
}

// What holds for every effect of the set holds for those of keys: outputs,
// bans, roof, audience and performers.
func TestKeysAreCheckedLikeOthers(t *testing.T) {
	walk := func(more ...timeline.Edit) []timeline.Edit {
		return append(edits(key(7, meant("a")), put(&timeline.StagePosition{Base: base{ID: "lip"}, X: 1}), field("placed", "j1", "position", "lip"), field("article", "jet", "height", "5"), field("article", "jet", "clear", "3")), more...)
	}
	runCases(t, "unwired", []ruleCase{
		{"wired", walk(), nil},
		{"not wired", walk(remove("wire", "w-j1")), []string{"placed:j1: nothing is wired to it; 1 key press of the set would do nothing"}},
		{"both", walk(remove("wire", "w-j1"), cue("b", "j1", 5*sec)), []string{"placed:j1: 1 command and 1 key press"}},
	})
	runCases(t, "wrong-control", []ruleCase{{"igniter", walk(field("wire", "w-j1", "unit", "ib"), field("wire", "w-j1", "output", "5")), []string{"wire:w-j1: jet needs a relay output"}}})
	runNight(t, "banned", []nightCase{
		{"banned", walk(field("venue", "v", "banned", "co2-jet")), []string{"article:jet: is planned with 1 key press, and Low Hall bans co2-jet"}},
		{"its song is cut", walk(field("venue", "v", "banned", "co2-jet"), field("night", "n", "cuts", "song=a")), nil},
	})
	runNight(t, "low-roof", []nightCase{
		{"high enough", walk(field("venue", "v", "trim", "7")), nil},
		{"too high", walk(field("venue", "v", "trim", "6.9")), []string{"placed:j1: jet reaches 6 m"}},
	})
	runNight(t, "separation", []nightCase{
		{"far enough", walk(field("venue", "v", "audience", "front from=-9,-3 to=9,-3")), nil},
		{"too near", walk(field("venue", "v", "audience", "front from=-9,-2.9 to=9,-2.9")), []string{"article:jet: j1: jet stands 2.9 m from audience line \"front\" and needs 3 m"}},
	})
	marks := func(s string) timeline.Edit { return field("venue", "v", "performers", s) }
	runNight(t, "performers", []nightCase{
		{"far enough", walk(marks("singer at=1,4 radius=1")), nil},
		{"always there", walk(marks("singer at=1,3.9 radius=1")), []string{"article:jet: 1 key press meanwhile"}},
		{"there in its song", walk(marks("singer at=1,3.9 radius=1 song=a from=50")), []string{"article:jet"}},
		{"there in another", walk(marks("singer at=1,3.9 radius=1 song=b")), nil},
		{"any time", append(walk(marks("singer at=1,3.9 radius=1 song=b")), key(7)), []string{"article:jet"}},
		{"a clear zone", walk(field("venue", "v", "clear-zones", "stairs at=1,2")), []string{"article:jet: clear zone \"stairs\""}},
	})
	s := stage(t, put(&timeline.Venue{Base: base{ID: "v"}, Name: "Low Hall", Slug: "v", Audience: []timeline.PlanLine{{Name: "front", From: timeline.Point{X: -9, Y: -2.9}, To: timeline.Point{X: 9, Y: -2.9}}}}, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}))
	s, err := s.Edit(walk()...)
	require.NoError(t, err)
	c := Clearances(timeline.Compile(s, s.Night("n")))
	require.Len(t, c, 2, "the permit's table has it, with one line for the audience and one for performers")
	require.True(t, c[0].Short())
}

// A hand cue in a song of which timecode plays nothing, or in a plan without
// songs, is no reason to stumble.
func TestKeysWithoutCommands(t *testing.T) {
	for _, list := range [][]timeline.Edit{
		edits(key(1, aims("c1", "f1", "sp", "j1"), meant("a"))),
		edits(key(1, aims("c1", "f1", "sp", "j1")), field("set", "main", "entries", "")),
		edits(key(1, aims("c1", "f1")), remove("wire", "w-c1"), remove("wire", "w-f1"), put(&timeline.Supply{Base: base{ID: "cyl"}, Fill: 1, Units: 1, Usable: 1, Feeds: []timeline.ID{"c1", "j1"}})),
	} {
		s := stage(t, append(list, put(&timeline.Venue{Base: base{ID: "v"}, Name: "Low Hall", Slug: "v", Volume: 100, Trim: 1, Wind: 1, Banned: []string{"comet"},
			Performers: []timeline.PlanMark{{Name: "singer"}}, Audience: []timeline.PlanLine{{Name: "front"}}}, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v", Date: "2031-05-09"}))...)
		require.NotEmpty(t, Check(timeline.Compile(s, s.Night("n")), Facts{}))
		require.NotPanics(t, func() { Clearances(timeline.Compile(s, s.Night("n"))) })
	}
}

// Gas in the room counts what keys may add: 0.5466 m³/kg of CO2 (ideal gas at
// 20 °C and 1 atm, derived), so that 8.4 kg raise 1000 m³ by 4591 ppm, over 5000 with 420 outside (derived).
func TestKeysFillTheRoom(t *testing.T) {
	room := func(more ...timeline.Edit) []timeline.Edit {
		return append(edits(field("venue", "v", "volume", "1000"), field("article", "jet", "use-each", "1.2"), field("article", "jet", "medium", "CO2")), more...)
	}
	runNight(t, "gas-in-room", []nightCase{
		{"six presses", room(key(1, upTo(6))), nil},
		{"seven presses", room(key(1, upTo(7))), []string{"venue:v: an estimate: 8.4 kg of CO2 in 1000 m³ come to about 5011 ppm"}},
		{"six and a command", room(key(1, upTo(6)), cue("a", "j1", 5*sec)), []string{"venue:v: 8.4 kg"}},
		{"of a song that is not played", room(key(1, upTo(7), meant("b")), field("set", "main", "entries", "a")), nil},
		{"no CO2", room(key(1, upTo(7)), field("article", "jet", "medium", "air")), nil},
	})
}
