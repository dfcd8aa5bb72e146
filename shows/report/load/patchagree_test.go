package load

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
	_ "emberbeat/timeline/testtool" // the seed of random walks
)

// twoBlocks is a rig of devices with two blocks of slots each.
func twoBlocks(last int, devices ...*timeline.Device) *timeline.Show {
	d := timeline.NewDraft(timeline.NewShow("s", "s", timeline.Rate25))
	d.Put("", &timeline.DeviceType{Base: timeline.Base{ID: "two"}, Name: "two", Slots: []timeline.Slot{{Block: 1, Number: 1, Role: timeline.EffectSlot, To: 255}, {Block: 1, Number: 2}, {Block: 2, Number: 1}}},
		&timeline.Setting{Base: timeline.Base{ID: "patch-end"}, Values: []string{fmt.Sprintf("last-slot=%d", last)}})
	for i, v := range devices {
		v.ID, v.Name, v.Type = timeline.ID(fmt.Sprintf("d%d", i)), fmt.Sprintf("d%d", i), "two"
		d.Put("", v)
	}
	return d.Show()
}

// saidOfPatch gives how often rules and patch sheet find a device in a clash,
// past the end, or sharing as declared.
func saidOfPatch(s *timeline.Show, id timeline.ID) (byRules, onSheet map[string]int) {
	byRules, onSheet = map[string]int{}, map[string]int{}
	p := timeline.Compile(s, nil)
	for _, f := range rule.Check(p, rule.Facts{}) {
		other := timeline.Ref{Kind: "device", ID: id}
		switch f.Rule {
		case "patch-end":
			if f.Ref == other {
				byRules["end"]++
			}
		case "patch-overlap", "shared-patch":
			if f.Ref == other || f.Others[0] == other {
				byRules[f.Rule]++
			}
			if f.Ref == other && f.Others[0] == other {
				byRules[f.Rule]++ // both of its blocks say so
			}
		}
	}
	words := map[string]string{"CLASH: runs past": "end", "CLASH with": "patch-overlap", "shared with": "shared-patch"}
	for _, u := range NewPatchSheet(p).Universes {
		for _, b := range u.Blocks {
			for _, n := range b.Notes {
				for start, word := range words {
					if b.Device == string(id) && strings.HasPrefix(n, start) {
						onSheet[word]++
					}
				}
			}
		}
	}
	return byRules, onSheet
}

// Rules, patch sheet and the edit that gives addresses decide alike who clashes:
// with others, with itself, past the last slot the show has, and as declared.
func TestOneDecisionOnThePatch(t *testing.T) {
	at := func(slots ...int) (list []timeline.Patch) {
		for _, n := range slots {
			list = append(list, timeline.Patch{Universe: 1, Slot: n})
		}
		return list
	}
	for name, c := range map[string]struct {
		last    int
		devices []*timeline.Device
		want    map[string]int
	}{
		"a short universe":        {110, []*timeline.Device{{Starts: at(110, 100)}}, map[string]int{"end": 1}},
		"that it fits":            {110, []*timeline.Device{{Starts: at(109, 100)}}, map[string]int{}},
		"itself":                  {512, []*timeline.Device{{Starts: at(10, 11)}}, map[string]int{"patch-overlap": 2}},
		"another, declared":       {512, []*timeline.Device{{Starts: at(10, 20), Shares: []timeline.ID{"d1"}}, {Starts: at(11, 30)}}, map[string]int{"shared-patch": 1}},
		"another, declared there": {512, []*timeline.Device{{Starts: at(10, 20)}, {Starts: at(11, 30), Shares: []timeline.ID{"d0"}}}, map[string]int{"shared-patch": 1}},
		"another":                 {512, []*timeline.Device{{Starts: at(10, 20)}, {Starts: at(11, 30)}}, map[string]int{"patch-overlap": 1}},
	} {
		t.Run(name, func(t *testing.T) {
			byRules, onSheet := saidOfPatch(twoBlocks(c.last, c.devices...), "d0")
			require.Equal(t, c.want, byRules)
			require.Equal(t, c.want, onSheet)
		})
	}
	rapid.Check(t, func(rt *rapid.T) {
		var devices []*timeline.Device
		for range rapid.IntRange(1, 4).Draw(rt, "devices") {
			v := &timeline.Device{Starts: at(rapid.IntRange(1, 9).Draw(rt, "one"), rapid.IntRange(1, 9).Draw(rt, "two"))}
			if rapid.Bool().Draw(rt, "shares") {
				v.Shares = []timeline.ID{rapid.SampledFrom([]timeline.ID{"d0", "d1", "d2"}).Draw(rt, "with")}
			}
			devices = append(devices, v)
		}
		s := twoBlocks(rapid.IntRange(7, 9).Draw(rt, "last"), devices...)
		for _, v := range s.Rig.Devices {
			byRules, onSheet := saidOfPatch(s, v.ID)
			require.Equal(rt, byRules, onSheet)
			_, err := s.Edit(timeline.MoveDevices([]timeline.ID{v.ID}, v.Starts))
			require.Equal(rt, byRules["end"]+byRules["patch-overlap"] > 0, err != nil, "%s: %v %v", v.ID, byRules, err)
		}
	})
}
