package sheet

import (
	"fmt"
	"strconv"

	"emberbeat/timeline"
)

// NextFree says where a run of devices or banks of one type would fit.
type NextFree struct {
	Type   string     `json:"type"` // devicetype:id or banktype:id
	Count  int        `json:"count"`
	Space  string     `json:"space"`
	Blocks []FreeLine `json:"blocks"` // one for each block of slots; one for banks
}

// FreeLine is where one block of the run would start; "" is nowhere.
type FreeLine struct {
	Block     int    `json:"block"`
	Slots     int    `json:"slots"` // of all together; for banks the number of banks
	NextFree  string `json:"next_free"`
	AfterLast string `json:"after_last"`
}

// NewNextFree looks for a free run in a universe (for devices) or in an address
// space (for banks).
func NewNextFree(s *timeline.Show, typ timeline.Ref, space string, universe, count int) (*NextFree, error) {
	n := &NextFree{Type: typ.String(), Count: count, Space: space}
	switch {
	case count < 1 || count > 512:
		return nil, &timeline.ValueError{Field: "count", Value: strconv.Itoa(count), Want: "must be a whole number from 1 to 512"}
	case universe < 1 || universe > 63999:
		return nil, &timeline.ValueError{Field: "universe", Value: strconv.Itoa(universe), Want: "must be a whole number from 1 to 63999"}
	}
	if typ.Kind == "banktype" {
		u := s.AddressUse(space)
		line := FreeLine{Block: 1, Slots: count}
		line.NextFree = address(u.NextFree(count))
		line.AfterLast = address(u.AfterLast(count))
		n.Blocks = []FreeLine{line}
		return n, nil
	}
	t := s.Stock.DeviceType(typ.ID)
	u, from := s.SlotUse(space, universe), t.FirstSlot()
	for i, size := range t.Blocks() {
		line := FreeLine{Block: i + 1, Slots: size * count}
		line.NextFree = slot(universe)(u.NextFree(from, size*count))
		line.AfterLast = slot(universe)(u.AfterLast(from, size*count))
		n.Blocks = append(n.Blocks, line)
	}
	return n, nil
}

func address(a int, ok bool) string {
	if !ok {
		return ""
	}
	return strconv.Itoa(a)
}

func slot(universe int) func(int, bool) string {
	return func(s int, ok bool) string {
		if !ok {
			return ""
		}
		return fmt.Sprintf("%d.%d", universe, s)
	}
}

// Table gives the answer for people.
func (n *NextFree) Table() *Table {
	t := &Table{Columns: []Column{{"block", true}, {"long", true}, {"next free", false}, {"after last used", false}}}
	for _, b := range n.Blocks {
		t.Rows = append(t.Rows, []string{strconv.Itoa(b.Block), strconv.Itoa(b.Slots), none(b.NextFree), none(b.AfterLast)})
	}
	return t
}

func none(s string) string {
	if s == "" {
		return "none"
	}
	return s
}
