package timeline

import (
	"strconv"
	"strings"
)

// FreeRun says where one block of a run of devices, or a run of banks, would
// start; "" is nowhere.
type FreeRun struct {
	Block     int
	Slots     int // of all together; for banks the number of banks
	NextFree  string
	AfterLast string
}

// FreeRuns looks where so many of a device type fit into a universe, block by
// block, or so many of a bank type into an address space. The error says which
// counts and universes there are.
func (s *Show) FreeRuns(typ Ref, space string, universe, count int) ([]FreeRun, error) {
	switch {
	case count < 1 || count > maxRun:
		return nil, &ValueError{Field: "count", Value: strconv.Itoa(count), Want: "must be a whole number from 1 to " + strconv.Itoa(maxRun)}
	case universe < 1 || universe > LastUniverse:
		return nil, &ValueError{Field: "universe", Value: strconv.Itoa(universe), Want: "must be a whole number from 1 to " + strconv.Itoa(LastUniverse)}
	}
	if typ.Kind == "banktype" {
		u := s.AddressUse(space)
		at := func(a int, ok bool) string {
			if !ok {
				return ""
			}
			return strconv.Itoa(a)
		}
		return []FreeRun{{Block: 1, Slots: count, NextFree: at(u.NextFree(count)), AfterLast: at(u.AfterLast(count))}}, nil
	}
	t := s.Stock.DeviceType(typ.ID)
	u, from := s.SlotUse(space, universe), t.FirstSlot()
	at := func(slot int, ok bool) string {
		if !ok {
			return ""
		}
		return Patch{universe, slot}.String()
	}
	var runs []FreeRun
	for i, size := range t.Blocks() {
		runs = append(runs, FreeRun{Block: i + 1, Slots: size * count, NextFree: at(u.NextFree(from, size*count)), AfterLast: at(u.AfterLast(from, size*count))})
	}
	return runs, nil
}

// AddressText writes where a bank or device is patched, block by block; "" for
// nowhere.
func AddressText(r Record) string {
	switch v := r.(type) {
	case *Bank:
		if v.Address > 0 {
			return strconv.Itoa(v.Address)
		}
	case *Device:
		var texts []string
		for _, p := range v.Starts {
			texts = append(texts, p.String())
		}
		return strings.Join(texts, "  ")
	}
	return ""
}
