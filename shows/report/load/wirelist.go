package load

import (
	"emberbeat/timeline"
)

// WireList is a proposed wiring: what goes where, what stays spare, and the
// counts against the stock.
type WireList struct {
	Wires  []WireLine  `json:"wires"`
	Gone   int         `json:"wires_taken_away"`
	Spare  []SpareLine `json:"spare"`
	Counts []CountLine `json:"counts"`
}

// WireLine is one placed effect on one output.
type WireLine struct {
	Placed     string `json:"placed"`
	PlacedName string `json:"placed_name"`
	Unit       string `json:"unit"`
	UnitName   string `json:"unit_name"`
	Output     int    `json:"output"`
}

// SpareLine is an output that stays free.
type SpareLine struct {
	Unit     string `json:"unit"`
	UnitName string `json:"unit_name"`
	Output   int    `json:"output"`
}

// CountLine compares how many of an article are placed with the stock.
type CountLine struct {
	Article string `json:"article"`
	Name    string `json:"name"`
	Wired   int    `json:"wired"`
	Placed  int    `json:"placed"`
	Stock   int    `json:"stock"` // 0 = not given
	Over    int    `json:"over"`
}

// NewWireList puts a proposal into words.
func NewWireList(s *timeline.Show, p *timeline.WireProposal) *WireList {
	l := &WireList{Wires: []WireLine{}, Spare: []SpareLine{}, Counts: []CountLine{}, Gone: len(p.Gone)}
	for _, w := range p.Wires {
		l.Wires = append(l.Wires, WireLine{string(w.Placed), s.CalledBy(w.Placed, "placed"), string(w.Driver), s.CalledBy(w.Driver, "bank", "device"), w.Output})
	}
	for _, o := range p.Spare {
		l.Spare = append(l.Spare, SpareLine{string(o.Driver), s.CalledBy(o.Driver, "bank", "device"), o.Output})
	}
	for _, c := range p.Counts {
		l.Counts = append(l.Counts, CountLine{string(c.Article.ID), s.Called(c.Article), c.Wired, c.Placed, c.Article.Stock, c.Over()})
	}
	return l
}
