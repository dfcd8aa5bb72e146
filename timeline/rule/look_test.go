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

// Derived: at 120 beats a minute in 4/4, hits at 0, 2,
// 4, 4 and 8 s have a longest gap of 4 s, 2 bars. A minute is our judgement.
func TestLongestGap(t *testing.T) {
	most := func(text string) timeline.Edit {
		return showSetting("longest-gap", func(s *timeline.Setting) { s.Values = []string{"most=" + text} })
	}
	hits := edits(cue("a", "j1", 0), cue("a", "j1", 2*sec), cue("a", "j1", 4*sec), cue("a", "j2", 4*sec), cue("a", "j1", 8*sec))
	with := func(more ...timeline.Edit) []timeline.Edit { return append(slices.Clone(hits), more...) }
	beats := field("song", "a", "beats", "1.1 at=0.000000 metre=4/4;31.1 at=60.000000")
	runCases(t, "longest-gap", []ruleCase{
		{"trade example, most 4 s", with(beats, most("4")), nil},
		{"trade example, most 3.9999 s", with(beats, most("3.9999")), []string{"song:a: no hit for 4 s (2 bars) from here"}},
		{"without a beat map", with(most("3")), []string{"song:a: no hit for 4 s from here"}},
		{"a minute", edits(field("song", "a", "frames", "9600000"), cue("a", "j1", 0), cue("a", "j1", 60*sec)), nil},
		{"more than a minute", edits(field("song", "a", "frames", "9600000"), cue("a", "j1", 0), cue("a", "j1", 60*sec+timeline.EntryStep)), []string{"song:a: no hit for 60.0001 s"}},
		{"before the first and after the last", edits(most("1"), cue("a", "j1", 30*sec)), nil},
	})
	f := ofRule("longest-gap", Check(timeline.Compile(stage(t, with(beats, most("3"))...), nil), Facts{}))[0]
	require.Equal(t, 4*sec, f.At, "it stands at the hit before the gap")
}

// The gap against looking at all pairs of hits.
func TestLongestGapEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s, err := anySet(rt, t).Edit(showSetting("longest-gap", func(s *timeline.Setting) { s.Values = []string{"most=1"} }))
		require.NoError(rt, err)
		p := timeline.Compile(s, nil)
		want, got := map[string]string{}, map[string]string{}
		for i := range p.Songs {
			var worst timeline.Time
			commands := p.Songs[i].Commands
			for _, a := range commands {
				next := never
				for _, b := range commands {
					if b.Hit > a.Hit && b.Hit < next {
						next = b.Hit
					}
				}
				if next != never {
					worst = max(worst, next-a.Hit)
				}
			}
			if worst > sec {
				want[string(p.Songs[i].Song.ID)] = seconds("", worst).Text
			}
		}
		for _, f := range ofRule("longest-gap", Check(p, Facts{})) {
			got[string(f.Ref.ID)] = f.Values[0].Text
		}
		require.Equal(rt, want, got)
	})
}

// ITU-R BT.1359-1: sound 45 ms before the picture is noticed.
func TestLeadSpread(t *testing.T) {
	spread := func(text string) timeline.Edit { return field("article", "jet", "spread", text) }
	runCases(t, "lead-spread", []ruleCase{
		{"45 ms", edits(spread("0.0450"), cue("a", "j1", 10*sec)), nil},
		{"more", edits(spread("0.0451"), cue("a", "j1", 10*sec), cue("b", "j2", 10*sec)), []string{"article:jet: jet may hit 45.1 ms before or after the music; more than 45 ms is noticed; 2 commands"}},
		{"not played", edits(spread("0.3")), nil},
		{"a limit of one's own", edits(spread("0.3"), showSetting("lead-spread", func(s *timeline.Setting) { s.Values = []string{"most=0.3"} }), cue("a", "j1", 10*sec)), nil},
		{"for one unit", edits(spread("0.3"), showSetting("lead-spread", func(s *timeline.Setting) { s.Values, s.Scope = []string{"most=0.3"}, []string{"placed=j1"} }), cue("a", "jets", 10*sec)), []string{"article:jet: 1 command"}},
	})
}

// Derived from ANSI E1.11 with its times from memory: a packet of 512 slots lasts 22.676 ms, one of
// 24 slots 1.204 ms.
func TestDMXFrame(t *testing.T) {
	apart := func(us int64) []timeline.Edit {
		return edits(cue("a", "f1", 10*sec), cue("a", "f2", 10*sec+timeline.Time(us)*timeline.EntryStep/100))
	}
	slots := showSetting("dmx-frame", func(s *timeline.Setting) { s.Values = []string{"slots=24"} })
	runCases(t, "dmx-frame", []ruleCase{
		{"22.6 ms", apart(22_600), []string{"cue:a/a-f2-10022-6: universe 1: 1 command within one packet of 22.7 ms of the one before, the nearest after 22.6 ms"}},
		{"22.7 ms", apart(22_700), nil},
		{"at once", apart(0), nil},
		{"24 slots, 1.3 ms", append(apart(1_300), slots), nil},
		{"24 slots, 1.2 ms", append(apart(1_200), slots), []string{"cue:a/a-f2-10001-2: packet of 1.2 ms"}},
		{"another universe", append(apart(5_000), put(&timeline.Device{Base: base{ID: "bar2"}, Type: "bar", Starts: []timeline.Patch{{Universe: 2, Slot: 10}}}), field("wire", "w-f2", "unit", "bar2")), nil},
		{"another space", append(apart(5_000), put(&timeline.Device{Base: base{ID: "bar2"}, Type: "bar", Space: "B", Starts: []timeline.Patch{{Universe: 1, Slot: 10}}}), field("wire", "w-f2", "unit", "bar2")), nil},
		{"relays have no packets", edits(cue("a", "j1", 10*sec), cue("a", "j2", ms(10_005))), nil},
		{"many are one note", edits(cue("a", "f1", 10*sec), cue("a", "f2", ms(10_020)), cue("a", "f1", ms(10_040)), cue("a", "f2", ms(10_050))), []string{"cue:a/a-f2-10020: 3 commands: nearest after 10 ms"}},
		{"without an address", append(apart(5_000), field("device", "bar1", "starts", "")), nil},
	})
}

// Counting instants of flames against comparing all pairs.
func TestDMXFrameEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		list := edits()
		at := timeline.Time(0)
		for range rapid.IntRange(0, 12).Draw(rt, "cues") {
			at += ms(rapid.Int64Range(0, 40).Draw(rt, "apart"))
			list = append(list, cue("a", rapid.SampledFrom([]timeline.ID{"f1", "f2", "sp", "j1"}).Draw(rt, "lane"), at))
		}
		p := timeline.Compile(stage(t, list...), nil)
		commands := p.Songs[0].Commands
		within := map[timeline.Time]bool{}
		for _, a := range commands {
			for _, b := range commands {
				if a.Unit.Drives[0].Device != nil && b.Unit.Drives[0].Device != nil && a.At < b.At && b.At-a.At < ms(22676)/1000 {
					within[b.At] = true
				}
			}
		}
		found := ofRule("dmx-frame", Check(p, Facts{}))
		if len(within) == 0 {
			require.Empty(rt, found)
			return
		}
		require.Len(rt, found, 1)
		require.Equal(rt, fmt.Sprint(len(within)), found[0].Values[1].Text)
	})
}

func TestRepetition(t *testing.T) {
	two := showSetting("repetition", func(s *timeline.Setting) { s.Values = []string{"units=2"} })
	far := showSetting("repetition", func(s *timeline.Setting) { s.Values = []string{"units=2", "songs=2"} })
	a, b := cue("a", "jets", 10*sec), cue("b", "jets", 20*sec)
	third := put(&timeline.SongHead{Base: base{ID: "c"}, Slug: "c", Start: timeline.Timecode{H: 3}, Length: sec})
	entries := func(text string) timeline.Edit { return field("set", "main", "entries", text) }
	runCases(t, "repetition", []ruleCase{
		{"the same look", edits(two, a, b), []string{"cue:b/b-jets-20000: 2 units at once, as in song 1 \"Song A\" at 01:00:10:00"}},
		{"the other order", edits(two, a, b, entries("b;a")), []string{"cue:a/a-jets-10000: as in song 1 \"Song B\""}},
		{"from two cues", edits(two, a, cue("b", "j1", 20*sec), cue("b", "j2", 20*sec)), []string{"cue:b/b-j1-20000"}},
		{"a single unit is no look", edits(two, cue("a", "j1", 10*sec), cue("b", "j1", 10*sec)), nil},
		{"open for another time", edits(two, a, cue("b", "jets", 20*sec, sec)), nil},
		{"one unit more", edits(two, a, b, cue("b", "bang", 20*sec)), nil},
		{"two units of another kind", edits(two, a, cue("b", "c1", 20*sec), cue("b", "c2", 20*sec)), nil},
		{"twice in one song", edits(two, a, cue("a", "jets", 40*sec)), nil},
		{"two looks are one note", edits(two, a, b, cue("a", "jets", 20*sec, sec), cue("b", "jets", 30*sec, sec)), []string{"cue:b/b-jets-20000: 2 such looks"}},
		{"eight units are asked for", edits(a, b), nil},
		{"alternatives", edits(two, a, b, entries("a alt=x;b alt=x")), nil},
		{"a song between", edits(two, third, a, b, entries("a;c;b")), nil},
		{"a song between, two compared", edits(far, third, a, b, entries("a;c;b")), []string{"cue:b/b-jets-20000: as in song 1"}},
	})
}

// Looks against writing them out as words.
func TestRepetitionEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		within, least := rapid.IntRange(0, 3).Draw(rt, "within"), rapid.IntRange(1, 2).Draw(rt, "units")
		s, err := anySet(rt, t).Edit(showSetting("repetition", func(s *timeline.Setting) {
			s.Values = []string{fmt.Sprintf("songs=%d", within), fmt.Sprintf("units=%d", least)}
		}))
		require.NoError(rt, err)
		p := timeline.Compile(s, nil)
		want, got := map[string]bool{}, map[string]bool{}
		for j := range p.Songs {
			here := slowLooks(&p.Songs[j], least)
			for i := max(0, j-within); i < j; i++ {
				together := slices.ContainsFunc(choices(p), func(o []int) bool { return slices.Contains(o, i) && slices.Contains(o, j) })
				for look := range slowLooks(&p.Songs[i], least) {
					if together && here[look] {
						want[fmt.Sprint(p.Songs[j].Number)] = true
					}
				}
			}
		}
		for _, f := range ofRule("repetition", Check(p, Facts{})) {
			got[fmt.Sprint(f.Number)] = true
		}
		require.Equal(rt, sortedKeys(want), sortedKeys(got))
	})
}

func slowLooks(p *timeline.PlanSong, least int) map[string]bool {
	at := map[timeline.Time][]string{}
	for _, c := range p.Commands {
		at[c.Hit] = append(at[c.Hit], fmt.Sprint(c.Unit.Placed.ID, c.Article.ID, c.Open))
	}
	looks := map[string]bool{}
	for _, parts := range at {
		slices.Sort(parts)
		if len(parts) >= least {
			looks[strings.Join(parts, " ")] = true
		}
	}
	return looks
}

// Lead spread against every command of every song.
func TestLeadSpreadEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		list := edits(showSetting("lead-spread", func(s *timeline.Setting) {
			s.Values = []string{fmt.Sprintf("most=0.%02d", rapid.IntRange(0, 9).Draw(rt, "most"))}
			s.Scope = rapid.SampledFrom([][]string{nil, {"placed=j1"}, {"song=s0"}}).Draw(rt, "scope")
		}))
		for _, a := range []timeline.ID{"jet", "bang"} {
			list = append(list, field("article", a, "spread", fmt.Sprintf("0.%02d", rapid.IntRange(0, 9).Draw(rt, "spread"))))
		}
		s, err := anySet(rt, t).Edit(list...)
		require.NoError(rt, err)
		p := timeline.Compile(s, nil)
		own, err := timeline.ParseTime(strings.TrimPrefix(s.Setting("lead-spread").Values[0], "most="))
		require.NoError(rt, err)
		first := map[*timeline.Unit]timeline.ID{} // the song in which a unit first plays
		want, got := map[string]bool{}, map[string]bool{}
		for _, ps := range p.Songs {
			for _, c := range ps.Commands {
				if first[c.Unit] == "" {
					first[c.Unit] = ps.Song.ID
				}
				most := ms(45)
				switch scope := strings.Join(s.Setting("lead-spread").Scope, ""); {
				case scope == "", scope == "placed=j1" && c.Unit.Placed.ID == "j1", scope == "song=s0" && first[c.Unit] == "s0":
					most = own
				}
				if c.Article.Spread > most {
					want[string(c.Article.ID)] = true
				}
			}
		}
		for _, f := range ofRule("lead-spread", Check(p, Facts{})) {
			got[string(f.Ref.ID)] = true
		}
		require.Equal(rt, sortedKeys(want), sortedKeys(got))
	})
}
