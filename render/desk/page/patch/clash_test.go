package patch

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render/desk/page"
	"emberbeat/shows/report/load"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// patchedRig draws a show of a few devices of two types, crowded together in two universes: declared clones, blocks past the end, slots with addresses
// of their own (also on top of their own device), and at times a last slot below 512.
func patchedRig(rt *rapid.T) *timeline.Show {
	id := func(s string) timeline.Base { return timeline.Base{ID: timeline.ID(s)} }
	slots := func(block, n int) (list []timeline.Slot) {
		for i := range n {
			list = append(list, timeline.Slot{Block: block, Number: i + 1, Role: timeline.EffectSlot, From: 255, To: 255})
		}
		return list
	}
	recs := []timeline.Record{
		&timeline.DeviceType{Base: id("one"), Name: "one", Slots: slots(1, 4)},
		&timeline.DeviceType{Base: id("two"), Name: "two", Hazardous: true, Slots: append(slots(1, 3), slots(2, 2)...)},
	}
	end := 512
	if last := rapid.SampledFrom([]string{"", "110", "9", "700"}).Draw(rt, "last slot"); last != "" {
		recs = append(recs, &timeline.Setting{Base: id("patch-end"), Values: []string{"last-slot=" + last}})
		fmt.Sscan(last, &end)
	}
	address := func() timeline.Patch {
		slot := rapid.IntRange(1, 14).Draw(rt, "slot")
		if rapid.IntRange(0, 4).Draw(rt, "near the end") == 0 {
			slot = min(end, 512) - rapid.IntRange(0, 4).Draw(rt, "before the end")
		}
		return timeline.Patch{Universe: rapid.IntRange(1, 2).Draw(rt, "universe"), Slot: slot}
	}
	n := rapid.IntRange(1, 7).Draw(rt, "devices")
	for i := range n {
		v := &timeline.Device{Base: id(fmt.Sprintf("d%d", i)), Name: fmt.Sprintf("device %d", i), Type: "one", Space: rapid.SampledFrom([]string{"", "", "wireless"}).Draw(rt, "space")}
		v.Starts = []timeline.Patch{address()}
		if rapid.Bool().Draw(rt, "two blocks") {
			v.Type, v.Starts = "two", append(v.Starts, address())
		}
		if rapid.IntRange(0, 2).Draw(rt, "moved") == 0 {
			v.Slots = []timeline.SlotChange{{Block: 1, Number: 2, At: address()}}
		}
		if rapid.IntRange(0, 2).Draw(rt, "shares") == 0 {
			v.Shares = []timeline.ID{timeline.ID(fmt.Sprintf("d%d", rapid.IntRange(0, n-1).Draw(rt, "with")))}
		}
		recs = append(recs, v)
	}
	s, err := timeline.NewShow("patched", "Patched", timeline.Rate25).Edit(func(d *timeline.Draft) error { d.Put("", recs...); return nil })
	require.NoError(rt, err)
	return s
}

// said is what one of those who are asked says of a rig: pairs of devices that share slots undeclared and declared, and devices that run past the end.
type said struct{ clash, declared, past map[string]bool }

func newSaid() said { return said{map[string]bool{}, map[string]bool{}, map[string]bool{}} }

func (s said) pair(declared bool, a, b string) {
	to := s.clash
	if declared {
		to = s.declared
	}
	to[min(a, b)+" and "+max(a, b)] = true
}

// bySlots counts slot by slot, without the pairs that the program makes: a plain twin.
func bySlots(s *timeline.Show) said {
	out := newSaid()
	type place struct {
		space          string
		universe, slot int
	}
	type user struct {
		device *timeline.Device
		run    int
	}
	last := 512
	if set := s.Setting("patch-end"); set != nil {
		fmt.Sscanf(set.Values[0], "last-slot=%d", &last)
	}
	by := map[place][]user{}
	for _, v := range s.Rig.Devices {
		for i, r := range v.Runs(s.Stock.DeviceTypeOf(v)) {
			for k := range r.Size {
				p := place{v.Space, r.Start.Universe, r.Start.Slot + k}
				if p.slot > min(last, 512) {
					out.past[v.Name] = true
				}
				by[p] = append(by[p], user{v, i})
			}
		}
	}
	for _, list := range by {
		for i, a := range list {
			for _, b := range list[i+1:] {
				out.pair(slices.Contains(a.device.Shares, b.device.ID) || slices.Contains(b.device.Shares, a.device.ID), a.device.Name, b.device.Name)
			}
		}
	}
	return out
}

// byRule is what the rules find.
func byRule(p *timeline.Plan) said {
	out := newSaid()
	name := func(r timeline.Ref) string { return p.Show.Rig.Device(r.ID).Name }
	for _, f := range rule.Check(p, rule.Facts{}) {
		switch f.Rule {
		case "patch-overlap", "shared-patch":
			out.pair(f.Rule == "shared-patch", name(f.Ref), name(f.Others[0]))
		case "patch-end":
			out.past[name(f.Ref)] = true
		}
	}
	return out
}

// bySheet is what the patch sheet notes.
func bySheet(p *timeline.Plan) said {
	out := newSaid()
	for _, u := range load.NewPatchSheet(p).Universes {
		for _, b := range u.Blocks {
			for _, note := range b.Notes {
				if o, ok := strings.CutPrefix(note, "CLASH with "); ok {
					out.pair(false, b.DeviceName, o)
				} else if o, ok := strings.CutPrefix(note, "shared with "); ok {
					out.pair(true, b.DeviceName, strings.TrimSuffix(o, ", as declared"))
				} else if strings.HasPrefix(note, "CLASH: runs past") {
					out.past[b.DeviceName] = true
				}
			}
		}
	}
	return out
}

// byMap is what the maps of the universes show; a map draws what lies within it.
func byMap(p *Patch) said {
	out := newSaid()
	for _, key := range universesOf(p.h.Show()) {
		m := p.Map(key)
		for slot := range m.by {
			clash := false
			for i := range m.by[slot] {
				for k := range i {
					x, y := &m.by[slot][i], &m.by[slot][k]
					clash = clash || m.clashing(slot, x, y)
					out.pair(!m.clashing(slot, x, y), x.device.Name, y.device.Name)
				}
			}
			if clash != (m.Clash(slot) != nil) {
				out.clash[fmt.Sprintf("slot %d is drawn otherwise than it is said", slot)] = true
			}
		}
	}
	return out
}

// Rule, patch sheet, map and table of the window and the edit that gives addresses say the same of any rig: who shares slots with whom, and who runs
// past the end.
func TestEverybodySeesTheSameClashes(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := patchedRig(rt)
		p := timeline.Compile(s, nil)
		want := bySlots(s)
		require.Equal(rt, want, byRule(p), "rule")
		require.Equal(rt, want, bySheet(p), "sheet")

		pages := &Patch{h: shown{plan: p}}
		seen := byMap(pages)
		require.Equal(rt, want.clash, seen.clash, "map")
		require.Equal(rt, want.declared, seen.declared, "map")

		for _, v := range s.Rig.Devices {
			clashes := false
			for pair := range want.clash {
				x, y, _ := strings.Cut(pair, " and ")
				clashes = clashes || x == v.Name || y == v.Name
			}
			state := "fits"
			switch said := pages.deviceState(v); {
			case strings.HasPrefix(said, "runs past"):
				state = "past"
			case strings.HasPrefix(said, "overlaps at"):
				state = "clashes"
			case said != "":
				state = said
			}
			require.Equal(rt, cmp.Or(map[bool]string{want.past[v.Name]: "past"}[true], map[bool]string{clashes: "clashes"}[true], "fits"), state, "table: "+v.Name)
			if len(v.Slots) > 0 && clashes {
				continue // a moved slot stays where it is, whatever lies on it: only blocks are numbered
			}
			_, err := s.Edit(timeline.MoveDevices([]timeline.ID{v.ID}, v.Starts))
			moved := len(v.Slots) > 0 && want.past[v.Name]
			if !moved {
				require.Equal(rt, clashes || want.past[v.Name], err != nil, "edit: %s: %v", v.Name, err)
			}
		}
	})
}

// shown is a host that shows a plan and does nothing else.
type shown struct {
	page.Host
	plan *timeline.Plan
}

func (s shown) Show() *timeline.Show { return s.plan.Show }
func (s shown) Plan() *timeline.Plan { return s.plan }
