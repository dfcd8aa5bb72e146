package timeline

import (
	"cmp"
	"fmt"
	"slices"

	"emberbeat/timeline/field"
)

// WirePattern says in which order placed effects take outputs.
type WirePattern string

// The wire patterns.
const (
	WireStraight  WirePattern = "straight"  // as named; a bank is filled before the next
	WireFan       WirePattern = "fan"       // from the middle outwards
	WireMirror    WirePattern = "mirror"    // both ends first, so that a pair has neighbouring outputs
	WireAlternate WirePattern = "alternate" // as named, turn by turn over the banks
)

// WirePatterns lists the wire patterns.
func WirePatterns() []WirePattern {
	return []WirePattern{WireStraight, WireFan, WireMirror, WireAlternate}
}

// WireRun says which placed effects to wire to which outputs.
type WireRun struct {
	Placed  []ID
	Units   []ID // banks or devices, in order
	From    int  // first output of each; 0 = 1
	Pattern WirePattern
	Rewire  bool // take away the wires the placed effects have now

	Together bool // all on output From of the one unit, beside what hangs there, and said to fire together
}

// WireProposal is a wiring worked out: what goes where, and what is left over.
type WireProposal struct {
	Run    WireRun
	Wires  []*Wire     // without ids
	Gone   []*Wire     // taken away
	Beside []*Wire     // of what hangs on the output that all of them take
	Spare  []OutputRef // outputs of the units that stay free, from the first one on
	Counts []WireCount
}

// WireCount is how many of one article a wiring uses, against the stock.
type WireCount struct {
	Article *Article
	Wired   int // placed effects of this wiring
	Placed  int // placed effects of the whole rig
}

// Over is how many more are placed than the stock holds; 0 where that is not
// given.
func (c WireCount) Over() int {
	if c.Article.Stock == 0 {
		return 0
	}
	return max(0, c.Placed-c.Article.Stock)
}

// ProposeWires works out a wiring in one step. Outputs that are in use, and
// dead units, are passed over. It is an error when a placed effect has a wire
// already and Rewire is not set, when an output is of the wrong kind, or when
// there are too few.
func (s *Show) ProposeWires(run WireRun) (*WireProposal, error) {
	p := &WireProposal{Run: run}
	placed, err := s.toWire(run)
	if err != nil {
		return nil, err
	}
	for _, w := range s.Rig.Wires {
		if slices.Contains(run.Placed, w.Placed) {
			if !run.Rewire {
				return nil, &ValueError{Kind: "wire", Field: "placed", Value: s.CalledBy(w.Placed, "placed"), Want: fmt.Sprintf("is wired to output %d of %s already; take that wire away or wire it anew", w.Output, s.unitName(w.Driver))}
			}
			p.Gone = append(p.Gone, w)
		}
	}
	outputs, err := s.outputsFor(run, p.Gone)
	if err != nil {
		return nil, err
	}
	if len(outputs) < len(placed) {
		return nil, &ValueError{Kind: "wire", Field: "output", Value: fmt.Sprint(len(placed)), Want: fmt.Sprintf("placed effects need as many outputs, and %s has %d free from output %d on; %d too few", s.unitNames(run.Units), len(outputs), max(run.From, 1), len(placed)-len(outputs))}
	}
	for i, e := range placed {
		if err := s.controls(e, outputs[i].Driver); err != nil {
			return nil, err
		}
		p.Wires = append(p.Wires, &Wire{Placed: e.ID, Driver: outputs[i].Driver, Output: outputs[i].Output, Together: run.Together})
	}
	if !run.Together {
		p.Spare = slices.Clone(outputs[len(placed):])
	} else if p.Beside = s.on(outputs[0], p.Gone); len(placed)+len(p.Beside) < 2 {
		return nil, &ValueError{Kind: "wire", Field: "together", Value: s.Called(placed[0]), Want: fmt.Sprintf("hangs alone on output %d of %s; name all that fires with it, or the output that has it", outputs[0].Output, s.unitName(outputs[0].Driver))}
	}
	slices.SortStableFunc(p.Spare, func(a, b OutputRef) int {
		return cmp.Or(cmp.Compare(slices.Index(run.Units, a.Driver), slices.Index(run.Units, b.Driver)), cmp.Compare(a.Output, b.Output))
	})
	p.Counts = s.wireCounts(placed)
	return p, nil
}

// toWire gives the placed effects in the order in which they take outputs.
func (s *Show) toWire(run WireRun) ([]*Placed, error) {
	var placed []*Placed
	for i, id := range run.Placed {
		e := s.Rig.PlacedEffect(id)
		switch {
		case e == nil:
			return nil, &ValueError{Kind: "wire", Field: "placed", Value: string(id), Want: "names no placed of this show"}
		case slices.Contains(run.Placed[:i], id):
			return nil, &ValueError{Kind: "wire", Field: "placed", Value: s.CalledBy(id, "placed"), Want: "is named twice; name it once"}
		}
		placed = append(placed, e)
	}
	if len(placed) == 0 {
		return nil, &ValueError{Kind: "wire", Field: "placed", Value: "", Want: "is empty; name one placed effect or more"}
	}
	switch run.Pattern {
	case "", WireStraight, WireAlternate:
		return placed, nil
	case WireFan:
		return flatten(rings(placed)), nil
	case WireMirror:
		r := rings(placed)
		slices.Reverse(r)
		return flatten(r), nil
	}
	return nil, &ValueError{Kind: "wire", Field: "pattern", Value: string(run.Pattern), Want: "is not one of: " + field.Listed(WirePatterns())}
}

func (s *Show) wireCounts(placed []*Placed) []WireCount {
	var counts []WireCount
	for _, e := range placed {
		a := s.Stock.Article(e.Article)
		if a == nil {
			continue
		}
		i := slices.IndexFunc(counts, func(c WireCount) bool { return c.Article == a })
		if i < 0 {
			i, counts = len(counts), append(counts, WireCount{Article: a})
		}
		counts[i].Wired++
	}
	for i := range counts {
		for _, e := range s.Rig.Placed {
			if e.Article == counts[i].Article.ID {
				counts[i].Placed++
			}
		}
	}
	return counts
}

// Edit gives the edit that makes the wiring. newID hands in ids that no wire of
// the show has.
func (p *WireProposal) Edit(newID func() ID) Edit {
	return func(d *Draft) error {
		for _, w := range p.Gone {
			if err := d.Remove(Ref{Kind: "wire", ID: w.ID}); err != nil {
				return err
			}
		}
		for _, w := range p.Wires {
			c := *w
			c.ID = newID()
			d.Put("", &c)
		}
		return nil
	}
}
