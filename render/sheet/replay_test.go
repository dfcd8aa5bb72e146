package sheet

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// windowed draws a show of two devices, which may be clones, with random arm,
// condition and warm-up windows, and short hits as probes.
func windowed(rt *rapid.T) *timeline.Show {
	base := func(id string) timeline.Base { return timeline.Base{ID: timeline.ID(id)} }
	d := timeline.NewDraft(timeline.NewShow("s", "s", rapid.SampledFrom(timeline.Rates()).Draw(rt, "rate")))
	d.Put("", &timeline.Article{Base: base("flame"), Name: "flame", Family: timeline.PropaneFlame, Control: timeline.SlotControl, Open: timeline.FromMillis(200)},
		&timeline.DeviceType{Base: base("bar"), Name: "bar", Slots: []timeline.Slot{
			{Block: 1, Number: 1, Role: timeline.EffectSlot, From: 255, To: 255}, {Block: 1, Number: 2, Role: timeline.ArmSlot, From: 64, To: 127, Off: 7},
			{Block: 1, Number: 3, Role: timeline.ConditionSlot, From: 128, To: 255}, {Block: 1, Number: 4, Role: timeline.WarmUpSlot, From: 255, To: 255}}},
		&timeline.SongHead{Base: base("g"), Slug: "g", Title: "g", Start: timeline.Timecode{H: 1}, Length: 30 * timeline.Second},
		&timeline.Set{Base: base("main"), Entries: []timeline.Entry{{Song: "g"}}}, &timeline.Group{Base: base("both"), Members: []timeline.ID{"f1", "f2"}})
	for i, at := range []int{10, rapid.SampledFrom([]int{10, 20}).Draw(rt, "second device")} {
		n := fmt.Sprint(i + 1)
		d.Put("", &timeline.Device{Base: base("d" + n), Name: "bar " + n, Type: "bar", Starts: []timeline.Patch{{Universe: 1, Slot: at}}, Shares: []timeline.ID{"d1"}},
			&timeline.Placed{Base: base("f" + n), Name: "flame " + n, Article: "flame"}, &timeline.Wire{Base: base("w" + n), Placed: timeline.ID("f" + n), Driver: timeline.ID("d" + n), Output: 1})
	}
	step := rapid.SampledFrom([]int64{97, 200}).Draw(rt, "step") // off the frames, or on them, so that windows touch there
	targets := []timeline.ID{"f1", "f2", "both"}
	for _, role := range []timeline.SlotRole{timeline.EffectSlot, timeline.ArmSlot, timeline.ConditionSlot, timeline.WarmUpSlot} {
		d.Put("g", &timeline.Lane{Base: base(string(role)), Name: string(role), Role: role, Target: "both"})
		for i := range rapid.IntRange(0, 7).Draw(rt, string(role)) {
			c := &timeline.Cue{Base: base(fmt.Sprintf("%s-%d", role, i)), Lane: timeline.ID(role), Target: rapid.SampledFrom(targets).Draw(rt, "target"),
				At: timeline.AtTime(timeline.FromMillis(rapid.Int64Range(0, 300).Draw(rt, "at") * step / 2))}
			if role != timeline.EffectSlot {
				c.Open = timeline.FromMillis(rapid.SampledFrom([]int64{0, 1, 10, 30, 75}).Draw(rt, "open") * step)
			}
			d.Put("g", c)
		}
	}
	return d.Show()
}

// slotEvent is a line of the printed list that moves a slot.
type slotEvent struct {
	frame int64
	up    bool
}

// printedSlots reads the CSV of a cue list as somebody would who programs a desk
// from it: what moves each slot, line by line.
func printedSlots(t require.TestingT, p *timeline.Plan) map[string][]slotEvent {
	list, err := report.NewCueList(p, report.Filter{})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, cueList{CueList: list}.WriteCSV(&b))
	lines, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	slots, names := map[string][]slotEvent{}, []string(nil)
	for _, line := range lines {
		if names == nil {
			if slices.Contains(line, "action") {
				names = line
			}
			continue
		}
		action := line[slices.Index(names, "action")]
		on := strings.HasSuffix(action, " up") || strings.HasSuffix(action, " on")
		if !on && !strings.HasSuffix(action, " down") && !strings.HasSuffix(action, " off") {
			continue
		}
		tc, err := timeline.ParseTimecode(line[slices.Index(names, "timecode")])
		require.NoError(t, err)
		frame, err := p.Rate.Frame(tc)
		require.NoError(t, err)
		for _, slot := range strings.Split(line[slices.Index(names, "outputs")], " + ") {
			slots[slot] = append(slots[slot], slotEvent{frame, on})
		}
	}
	return slots
}

// onAt reports whether the printed lines leave a slot on at a frame.
func onAt(events []slotEvent, frame int64) bool {
	on := false
	for _, e := range events {
		if e.frame <= frame {
			on = e.up
		}
	}
	return on
}

// Replaying the printed list slot by slot gives the state that rules go by, at
// every frame: as the plan's windows have it, and as the rules say of hits.
func TestPrintedWindowsAreWhatRulesUse(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := timeline.Compile(windowed(rt), nil)
		slots := printedSlots(rt, p)
		song := &p.Songs[0]
		for frame := song.First(); frame < song.Last(); frame++ {
			is := map[string]bool{}
			for i := range song.Windows {
				w := &song.Windows[i]
				for _, o := range report.NewLabeller(p.Show).Window(w, true) {
					is[o.Label] = is[o.Label] || w.UpFrame <= frame && (!w.Closes() || frame < w.DownFrame)
				}
			}
			for slot, on := range is {
				require.Equal(rt, on, onAt(slots[slot], frame), "%s at %s", slot, p.Rate.Label(frame))
			}
		}
		for slot, events := range slots {
			for i := 1; i < len(events); i++ {
				require.True(rt, events[i].up != events[i-1].up || events[i] == events[i-1], "%s is moved to where it is: %v", slot, events)
			}
		}
		found := map[string]bool{}
		for _, f := range rule.Check(p, rule.Facts{}) {
			for _, v := range f.Values {
				if v.Name == "who" && (f.Rule == "arm-up" || f.Rule == "condition-off") {
					for _, who := range strings.Split(v.Text, ", ") {
						found[fmt.Sprintf("%s %s %s", f.Rule, f.Ref.ID, who)] = true
					}
				}
			}
		}
		for i := range song.Commands {
			c := &song.Commands[i]
			for slot, name := range map[int]string{1: "arm-up", 2: "condition-off"} {
				at := c.Unit.Drives[0].Device.Starts[0]
				at.Slot += slot
				label := "DMX " + at.String()
				off, near := false, false // at some frame of the hit, or within one of it
				for frame := c.Frame - 1; frame <= c.Close+1; frame++ {
					on := onAt(slots[label], frame)
					near = near || !on
					off = off || !on && frame >= c.Frame && frame < c.Close
				}
				says := found[fmt.Sprintf("%s %s %s (%s)", name, c.Cue.ID, c.Unit.Placed.Name, label)]
				if off || !near {
					require.Equal(rt, off, says, "%s of %s at %s", name, c.Unit.Placed.Name, p.Rate.Label(c.Frame))
				}
			}
		}
	})
}

// Two arms that overlap are one: the list lowers the arm at the end of the
// second, and a hit between the two ends finds it up.
func TestOverlappingArmsOnPaper(t *testing.T) {
	s := overlapping(t, 5, 5, 7, 13)
	list, err := report.NewCueList(timeline.Compile(s, nil), report.Filter{})
	require.NoError(t, err)
	var got []string
	for _, l := range list.Lines {
		got = append(got, l.Timecode+" "+l.Action)
	}
	require.Equal(t, []string{"01:00:05:00 arm up", "01:00:15:00 hit", "01:00:20:00 arm down"}, got)
	for _, f := range rule.Check(timeline.Compile(s, nil), rule.Facts{}) {
		require.NotEqual(t, "arm-up", f.Rule)
	}
	// One without an end inside another ends with it: neither a later gap is hidden, nor is it "never lowered".
	s = overlapping(t, 5, 5, 8, 0)
	found := map[string]bool{}
	for _, f := range rule.Check(timeline.Compile(s, nil), rule.Facts{}) {
		found[f.Rule] = true
	}
	require.True(t, found["arm-up"], "it is down at 10 s, and the hit is at 15 s")
	require.False(t, found["arm-left-up"], "the list lowers it at 10 s")
}

// overlapping is a show with two arm windows and a hit at 15 s; times and
// lengths in seconds.
func overlapping(t *testing.T, at, open, then, thenOpen int64) *timeline.Show {
	s, err := timeline.NewShow("s", "s", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		base := func(id string) timeline.Base { return timeline.Base{ID: timeline.ID(id)} }
		sec := func(n int64) timeline.Time { return timeline.Time(n) * timeline.Second }
		d.Put("", &timeline.Article{Base: base("flame"), Name: "flame", Family: timeline.PropaneFlame, Control: timeline.SlotControl, Open: sec(1)},
			&timeline.DeviceType{Base: base("bar"), Name: "bar", Slots: []timeline.Slot{{Block: 1, Number: 1, Role: timeline.EffectSlot, From: 255, To: 255}, {Block: 1, Number: 2, Role: timeline.ArmSlot, From: 64, To: 127}}},
			&timeline.Device{Base: base("d"), Type: "bar", Starts: []timeline.Patch{{Universe: 1, Slot: 10}}}, &timeline.Placed{Base: base("f"), Name: "flame", Article: "flame"},
			&timeline.Wire{Base: base("w"), Placed: "f", Driver: "d", Output: 1}, &timeline.SongHead{Base: base("g"), Slug: "g", Start: timeline.Timecode{H: 1}, Length: 30 * timeline.Second},
			&timeline.Set{Base: base("main"), Entries: []timeline.Entry{{Song: "g"}}})
		d.Put("g", &timeline.Lane{Base: base("fire"), Target: "f", Role: timeline.EffectSlot}, &timeline.Lane{Base: base("arm"), Target: "f", Role: timeline.ArmSlot},
			&timeline.Cue{Base: base("a1"), Lane: "arm", At: timeline.AtTime(sec(at)), Open: sec(open)}, &timeline.Cue{Base: base("a2"), Lane: "arm", At: timeline.AtTime(sec(then)), Open: sec(thenOpen)},
			&timeline.Cue{Base: base("q"), Lane: "fire", At: timeline.AtTime(sec(15))})
		return nil
	})
	require.NoError(t, err)
	return s
}
