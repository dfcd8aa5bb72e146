package rule

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
	_ "emberbeat/timeline/testtool"
)

// bars gives the stage two more flame bars, of one head with an arm each, and
// groups over all and some of them.
func bars(lead, hold timeline.Time) timeline.Edit {
	return func(d *timeline.Draft) error {
		d.Put("", &timeline.DeviceType{Base: base{ID: "one"}, Name: "one flame", ArmLead: lead, ArmHold: hold, Slots: []timeline.Slot{
			{Block: 1, Number: 1, Role: timeline.EffectSlot, From: 255, To: 255}, {Block: 1, Number: 2, Role: timeline.ArmSlot, From: 64, To: 127}}})
		for i, id := range []timeline.ID{"g1", "g2", "g3"} {
			d.Put("", &timeline.Device{Base: base{ID: "dev-" + id}, Name: "one " + string(id), Type: "one", Starts: []timeline.Patch{{Universe: 2, Slot: 10 + 4*i}}},
				&timeline.Placed{Base: base{ID: id}, Name: string(id), Article: "flame"}, &timeline.Wire{Base: base{ID: "w-" + id}, Placed: id, Driver: "dev-" + id, Output: 1})
		}
		d.Put("", &timeline.Group{Base: base{ID: "ones"}, Name: "ones", Members: []timeline.ID{"g1", "g2", "g3"}}, &timeline.Group{Base: base{ID: "pair"}, Name: "pair", Members: []timeline.ID{"g1", "g2"}})
		for _, target := range []timeline.ID{"g1", "g2", "g3", "ones", "pair"} {
			d.Put("a", &timeline.Lane{Base: base{ID: target}, Name: string(target), Target: target, Role: timeline.EffectSlot})
		}
		return nil
	}
}

// unarmed are the findings that arms are there to solve.
func unarmed(s *timeline.Show) []string {
	var list []string
	for _, f := range Check(timeline.Compile(s, nil), Facts{}) {
		if slices.Contains([]string{"arm-up", "condition-off", "arm-left-up"}, f.Rule) {
			list = append(list, f.Ref.String()+": "+f.Text)
		}
	}
	return list
}

func laid(t require.TestingT, s *timeline.Show) *timeline.Show {
	l, err := s.Lay("a")
	require.NoError(t, err)
	next, err := s.Edit(l.Edit())
	require.NoError(t, err)
	again, err := next.Lay("a")
	require.NoError(t, err)
	require.True(t, again.Empty(), "what is laid is laid once")
	return next
}

// owned lists the windows of a song that were laid: lane, target, from and until.
func owned(s *timeline.Show) []string {
	var list []string
	cues := slices.Clone(s.Song("a").Cues)
	slices.SortFunc(cues, func(a, b *timeline.Cue) int { return int(a.At.Time - b.At.Time) })
	for _, c := range cues {
		if c.Owned() {
			lane := s.Song("a").Lane(c.Lane)
			list = append(list, fmt.Sprintf("%s %s %s..%s", lane.Role, s.NamedTarget(timeline.ID(string(c.Target)+map[bool]string{true: string(lane.Target)}[c.Target == ""])), c.At.Time.Text(2), (c.At.Time+c.Open).Text(2)))
		}
	}
	return list
}

// Half a frame of 25, 20 ms, stands on both sides of what a hit needs. The flame
// is open for 1 s; the bar of the stage asks for an arm .5 s and a fan 1 s before.
func TestLay(t *testing.T) {
	marker := func(name string, at timeline.Time) timeline.Edit {
		return func(d *timeline.Draft) error {
			d.Put("a", &timeline.Marker{Base: base{ID: "m"}, Name: name, At: timeline.AtTime(at)})
			return nil
		}
	}
	entry := put(&timeline.Venue{Base: base{ID: "v"}, Name: "hall", Slug: "v", Performers: []timeline.PlanMark{{Name: "singer", Radius: 1, Song: "a", From: 15 * sec}}})
	ones := bars(sec, 0)
	for _, c := range []struct {
		name  string
		edits []timeline.Edit
		want  []string
	}{
		{"one hit", edits(cue("a", "f1", 10*sec)), []string{`condition "flames" 8.98..11.02`, `arm "flames" 9.48..11.02`}},
		{"joined over a gap of 8 s", edits(ones, cue("a", "ones", 10*sec), cue("a", "ones", 20*sec)), []string{`arm "ones" 8.98..21.02`}},
		{"not over one of 10.9 s", edits(ones, cue("a", "ones", 10*sec), cue("a", "ones", ms(22900))), []string{`arm "ones" 8.98..11.02`, `arm "ones" 21.88..23.92`}},
		{"nor over the show's own", edits(ones, put(&timeline.Setting{Base: base{ID: "arm-up"}, Values: []string{"gap=5"}}), cue("a", "ones", 10*sec), cue("a", "ones", 20*sec)), []string{`arm "ones" 8.98..11.02`, `arm "ones" 18.98..21.02`}},
		{"nor over a hold point", edits(ones, marker("Hold for the lift", 15*sec), cue("a", "ones", 10*sec), cue("a", "ones", 20*sec)), []string{`arm "ones" 8.98..11.02`, `arm "ones" 18.98..21.02`}},
		{"nor over a re-entry", edits(ones, marker("re-entry 2", 15*sec), cue("a", "ones", 10*sec), cue("a", "ones", 20*sec)), []string{`arm "ones" 8.98..11.02`, `arm "ones" 18.98..21.02`}},
		{"other markers part nothing", edits(ones, marker("Household", 15*sec), marker("drums", 16*sec), cue("a", "ones", 10*sec), cue("a", "ones", 20*sec)), []string{`arm "ones" 8.98..21.02`}},
		{"nor over a performer's entry", edits(ones, entry, cue("a", "ones", 10*sec), cue("a", "ones", 20*sec)), []string{`arm "ones" 8.98..11.02`, `arm "ones" 18.98..21.02`}},
		{"a chase is armed as its group", edits(ones, cue("a", "g1", 10*sec), cue("a", "g2", 11*sec)), []string{`arm "g1" 8.98..11.02`, `arm "g2" 9.98..12.02`}},
		{"who has no hit is not armed", edits(ones, cue("a", "pair", 10*sec)), []string{`arm "pair" 8.98..11.02`}},
		{"served by hand", edits(cue("a", "f1", 10*sec), cue("a", "arm", ms(9500), ms(1500)), cue("a", "fan", 9*sec, 2*sec)), nil},
		{"half served by hand", edits(cue("a", "f1", 10*sec), cue("a", "arm", ms(9500), sec), cue("a", "fan", 9*sec, 2*sec)), []string{`arm "flames" 9.48..11.02`}},
		{"a margin of one's own", edits(ones, put(&timeline.Setting{Base: base{ID: "arm-up"}, Values: []string{"least=2"}}), cue("a", "g3", 10*sec)), []string{`arm "g3" 7.98..11.02`}},
	} {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, owned(laid(t, stage(t, c.edits...)))) })
	}
}

func TestGapIsTheRulesDefault(t *testing.T) {
	for _, name := range []string{"arm-up", "condition-off"} {
		r, _ := Lookup(name)
		for _, s := range r.Settings {
			if s.Name == "gap" {
				n, err := s.parseNumber(s.Default)
				require.NoError(t, err)
				require.Equal(t, timeline.LaidGap, n.time)
			}
		}
		require.Contains(t, r.settingNames(), "gap")
	}
}

// Laid windows follow the hits of any step; what is done to a window itself makes
// it a person's.
func TestLaidWindowsFollow(t *testing.T) {
	set := func(id timeline.ID, field, text string) timeline.Edit {
		return func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "cue", Song: "a", ID: id}, field, timeline.Value{Text: text})
		}
	}
	s := laid(t, stage(t, bars(sec, 0), cue("a", "ones", 10*sec)))
	require.Equal(t, []string{`arm "ones" 8.98..11.02`}, owned(s))
	window := s.Song("a").Cues[slices.IndexFunc(s.Song("a").Cues, func(c *timeline.Cue) bool { return c.Owned() })].ID

	moved, err := s.Edit(set("a-ones-10000", "at", "0:30"))
	require.NoError(t, err)
	require.Equal(t, []string{`arm "ones" 28.98..31.02`}, owned(moved))
	require.NotNil(t, moved.Song("a").Cue(window), "it is the same window")

	both, err := s.Edit(set("a-ones-10000", "at", "0:30"), set(window, "at", "0:28"))
	require.NoError(t, err)
	require.Equal(t, owned(moved), owned(both), "moved along with its hit")

	more, err := s.Edit(cue("a", "ones", 40*sec))
	require.NoError(t, err)
	require.Equal(t, []string{`arm "ones" 8.98..11.02`, `arm "ones" 38.98..41.02`}, owned(more))

	none, err := s.Edit(func(d *timeline.Draft) error {
		return d.Remove(timeline.Ref{Kind: "cue", Song: "a", ID: "a-ones-10000"})
	})
	require.NoError(t, err)
	require.Empty(t, none.Song("a").Cues, "a window goes with its last hit")

	mine, err := s.Edit(set(window, "at", "0:05"))
	require.NoError(t, err)
	require.Empty(t, owned(mine))
	after, err := mine.Edit(set("a-ones-10000", "at", "0:30"))
	require.NoError(t, err)
	require.Equal(t, mine.Song("a").Cue(window), after.Song("a").Cue(window), "one that was moved by hand is never touched")
}

// Whatever the rig asks for and wherever hits lie: nothing is unarmed after arms,
// no arm is left up, what a person made stays as it was, and no slot is on longer
// than the gap for nothing or over a place where it must not be.
func TestNothingIsUnarmedAfterArms(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		at := func(label string) timeline.Time { return ms(100 * rapid.Int64Range(30, 550).Draw(rt, label)) }
		list := edits(bars(ms(100*rapid.Int64Range(0, 30).Draw(rt, "lead")), ms(100*rapid.Int64Range(20, 300).Draw(rt, "hold"))))
		for range rapid.IntRange(0, 12).Draw(rt, "hits") {
			list = append(list, cue("a", rapid.SampledFrom([]timeline.ID{"g1", "g2", "g3", "ones", "pair", "f1", "f2"}).Draw(rt, "lane"), at("at"), ms(100*rapid.Int64Range(1, 40).Draw(rt, "open"))))
		}
		hold := at("hold")
		list = append(list, func(d *timeline.Draft) error {
			d.Put("a", &timeline.Marker{Base: base{ID: "m"}, Name: "Hold", At: timeline.AtTime(hold)})
			return nil
		})
		var hand []*timeline.Cue
		if rapid.Bool().Draw(rt, "by hand") {
			list = append(list, cue("a", "arm", at("arm"), ms(100*rapid.Int64Range(1, 20).Draw(rt, "for"))))
		}
		s := stage(t, list...)
		for _, c := range s.Song("a").Cues {
			if l := s.Song("a").Lane(c.Lane); l.Window() {
				hand = append(hand, c)
			}
		}
		s = laid(rt, s)
		for range 3 {
			require.Empty(rt, unarmed(s))
			requireNeeded(rt, s, hold, len(hand) > 0)
			for _, c := range hand {
				require.Same(rt, c, s.Song("a").Cue(c.ID))
			}
			var hits []*timeline.Cue
			for _, c := range s.Song("a").Cues {
				if !s.Song("a").Lane(c.Lane).Window() {
					hits = append(hits, c)
				}
			}
			if len(hits) == 0 {
				return
			}
			next := *rapid.SampledFrom(hits).Draw(rt, "moved")
			next.At = timeline.AtTime(at("to"))
			var err error
			s, err = s.Edit(func(d *timeline.Draft) error { d.Put("a", &next); return nil })
			require.NoError(rt, err)
		}
	})
}

// requireNeeded looks at each slot by itself, without what lays them: between two
// times at which a hit needs it, and at its ends, it is on for nothing no longer
// than the gap, and not over the hold.
func requireNeeded(t require.TestingT, s *timeline.Show, hold timeline.Time, hand bool) {
	if hand {
		return // what a person made may be up for nothing
	}
	plan := timeline.Compile(s, nil).Songs[0].SongPlan
	for i := range plan.Windows {
		w := &plan.Windows[i]
		var needs []timeline.TimeSpan
		for k := range plan.Commands {
			c := &plan.Commands[k]
			for _, d := range c.Unit.Drives {
				for _, n := range d.Needs() {
					if n.Device == w.Device && slices.Contains(w.Slots, n.Slot) && c.At >= w.Up && c.At <= w.Down {
						needs = append(needs, timeline.TimeSpan{From: c.At - n.Lead - ms(21), To: c.End() + ms(21)})
					}
				}
			}
		}
		require.NotEmpty(t, needs, "%s is raised for nothing", w.Device.Name)
		slices.SortFunc(needs, func(a, b timeline.TimeSpan) int { return int(a.From - b.From) })
		on := w.Up
		for _, n := range append(needs, timeline.TimeSpan{From: w.Down, To: w.Down}) {
			require.LessOrEqual(t, n.From-on, timeline.LaidGap)
			require.False(t, on < hold && hold < n.From, "%s stays on over the hold", w.Device.Name)
			on = max(on, n.To)
		}
	}
}
