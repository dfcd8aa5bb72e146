package load

import (
	"strconv"

	"emberbeat/shows/report/wording"
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
	runs, err := s.FreeRuns(typ, space, universe, count)
	if err != nil {
		return nil, err
	}
	for _, r := range runs {
		n.Blocks = append(n.Blocks, FreeLine(r))
	}
	return n, nil
}

// Table gives the answer for people.
func (n *NextFree) Table() *wording.Table {
	t := &wording.Table{Columns: []wording.Column{{Name: "block", Right: true}, {Name: "long", Right: true}, {Name: "next free", Right: false}, {Name: "after last used", Right: false}}}
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
