package app

import (
	"emberbeat/timeline"
)

// slotsInUniverse is how many slots a DMX universe has.
const slotsInUniverse = 512

// claim is one slot of one device as it stands in a universe.
type claim struct {
	device *timeline.Device
	block  int           // from 1
	number int           // in the block, from 1
	slot   timeline.Slot // what it means; Role "" for a gap in the block
}

// universeMap says who claims each slot of a universe.
type universeMap struct {
	space    string
	universe int
	by       [slotsInUniverse + 1][]claim
}

// universeKey names a universe of an address space.
type universeKey struct {
	space    string
	universe int
}

// universe gives the map of a universe as the show stands.
func (a *App) universe(space string, n int) *universeMap {
	b := &a.book
	if b.mapsOf != a.work.plan {
		b.mapsOf, b.maps = a.work.plan, map[universeKey]*universeMap{}
	}
	key := universeKey{space, n}
	if b.maps[key] == nil {
		b.maps[key] = newUniverseMap(a.work.shown, space, n)
	}
	return b.maps[key]
}

func newUniverseMap(s *timeline.Show, space string, n int) *universeMap {
	m := &universeMap{space: space, universe: n}
	for _, v := range s.Rig.Devices {
		t := s.Stock.DeviceTypeOf(v)
		if t == nil || v.Space != space {
			continue
		}
		for _, run := range v.Runs(t) {
			if run.Given && run.Start.Universe == n {
				m.take(t, v, run)
			}
		}
	}
	return m
}

// take enters a block of a device, or a slot with an address of its own.
func (m *universeMap) take(t *timeline.DeviceType, v *timeline.Device, run timeline.SlotRun) {
	block, first := run.Block, max(run.Number, 1)
	for k := range run.Size {
		at := run.Start.Slot + k
		if at < 1 || at > slotsInUniverse {
			continue
		}
		c := claim{device: v, block: block, number: first + k}
		for _, s := range t.Slots {
			if s.Block == block && s.Number <= c.number && c.number < s.Number+s.Width() {
				c.slot = s
			}
		}
		m.by[at] = append(m.by[at], c)
	}
}

// clash gives two devices that claim a slot and do not declare to share it, or nil.
func (m *universeMap) clash(slot int) []claim {
	if slot < 1 || slot > slotsInUniverse {
		return nil
	}
	list := m.by[slot]
	for i := range list {
		for _, o := range list[i+1:] {
			if o.device != list[i].device && !shared(o.device, list[i].device) {
				return []claim{list[i], o}
			}
		}
	}
	return nil
}

// claimed reports whether a device claims a slot.
func (m *universeMap) claimed(slot int, v *timeline.Device) bool {
	for _, c := range m.by[slot] {
		if c.device == v {
			return true
		}
	}
	return false
}

// shared reports whether either device declares that it may overlap the other.
func shared(v, w *timeline.Device) bool {
	for _, id := range v.Shares {
		if id == w.ID {
			return true
		}
	}
	for _, id := range w.Shares {
		if id == v.ID {
			return true
		}
	}
	return false
}

// universes lists the universes that devices use, by space and number; 1 of the first space is always there.
func universesOf(s *timeline.Show) []universeKey {
	var list []universeKey
	seen := map[universeKey]bool{}
	add := func(k universeKey) {
		if !seen[k] {
			seen[k] = true
			list = append(list, k)
		}
	}
	for _, v := range s.Rig.Devices {
		for _, p := range v.Starts {
			add(universeKey{v.Space, p.Universe})
		}
	}
	if len(list) == 0 {
		add(universeKey{"", 1})
	}
	return list
}
