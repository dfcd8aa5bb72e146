package patch

import (
	"emberbeat/timeline"
)

// slotsInUniverse is how many slots a DMX universe has.
const slotsInUniverse = 512

// claim is one slot of one device as it stands in a universe.
type claim struct {
	of     timeline.Claim // the run of slots that it is one of
	device *timeline.Device
	block  int           // from 1
	number int           // in the block, from 1
	slot   timeline.Slot // what it means; Role "" for a gap in the block
}

// Universe names a universe of an address space.
type Universe struct {
	Space  string
	Number int
}

// Map says who claims each slot of a universe.
type Map struct {
	of      Universe
	last    int // the last slot that the universe has
	by      [slotsInUniverse + 1][]claim
	clashes []timeline.Clash // of this universe that nobody has declared
}

// Map gives the map of a universe as the show stands.
func (p *Patch) Map(u Universe) *Map {
	if plan := p.h.Plan(); p.mapsOf != plan {
		p.mapsOf, p.maps = plan, map[Universe]*Map{}
	}
	if p.maps[u] == nil {
		p.maps[u] = newMap(p.h.Show(), u)
	}
	return p.maps[u]
}

func newMap(s *timeline.Show, u Universe) *Map {
	m := &Map{of: u, last: s.LastSlot()}
	for _, c := range timeline.Clashes(timeline.Claims(s)) {
		if !c.Declared && c.A.Device.Space == u.Space && c.A.Run.Start.Universe == u.Number {
			m.clashes = append(m.clashes, c)
		}
	}
	for _, v := range s.Rig.Devices {
		t := s.Stock.DeviceTypeOf(v)
		if t == nil || v.Space != u.Space {
			continue
		}
		for _, run := range v.Runs(t) {
			if run.Given && run.Start.Universe == u.Number {
				m.take(t, v, run)
			}
		}
	}
	return m
}

// take enters a block of a device, or a slot with an address of its own.
func (m *Map) take(t *timeline.DeviceType, v *timeline.Device, run timeline.SlotRun) {
	block, first := run.Block, max(run.Number, 1)
	for k := range run.Size {
		at := run.Start.Slot + k
		if at < 1 || at > slotsInUniverse {
			continue
		}
		c := claim{of: timeline.Claim{Device: v, Type: t, Run: run}, device: v, block: block, number: first + k}
		for _, s := range t.Slots {
			if s.Block == block && s.Number <= c.number && c.number < s.Number+s.Width() {
				c.slot = s
			}
		}
		m.by[at] = append(m.by[at], c)
	}
}

// Clash gives the first clash that a slot is part of, or nil.
func (m *Map) Clash(slot int) *timeline.Clash {
	for i := range m.clashes {
		if c := &m.clashes[i]; c.From <= slot && slot <= c.To {
			return c
		}
	}
	return nil
}

// clashing reports whether two claims of a slot are not declared to share it.
func (m *Map) clashing(slot int, x, y *claim) bool {
	for i := range m.clashes {
		c := &m.clashes[i]
		if c.From <= slot && slot <= c.To && (c.A.Is(&x.of) && c.B.Is(&y.of) || c.A.Is(&y.of) && c.B.Is(&x.of)) {
			return true
		}
	}
	return false
}

// Claimed reports whether a device claims a slot.
func (m *Map) Claimed(slot int, v *timeline.Device) bool {
	for _, c := range m.by[slot] {
		if c.device == v {
			return true
		}
	}
	return false
}

// universesOf lists the universes that devices use, by space and number; 1 of the first space is always there.
func universesOf(s *timeline.Show) []Universe {
	var list []Universe
	seen := map[Universe]bool{}
	add := func(k Universe) {
		if !seen[k] {
			seen[k] = true
			list = append(list, k)
		}
	}
	for _, v := range s.Rig.Devices {
		for _, p := range v.Starts {
			add(Universe{v.Space, p.Universe})
		}
		for _, c := range v.Slots { // one with an address of its own may stand alone in a universe
			if c.At != (timeline.Patch{}) {
				add(Universe{v.Space, c.At.Universe})
			}
		}
	}
	if len(list) == 0 {
		add(Universe{"", 1})
	}
	return list
}
