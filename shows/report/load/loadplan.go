package load

import (
	"cmp"
	"io"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// Plan is what has to stand on every output before the show starts.
type Plan struct {
	report.Head
	Groups    []Group       `json:"groups"`
	Positions []Position    `json:"positions"`
	Used      report.Totals `json:"totals"`
	Circuits  string        `json:"circuit_caution"`
	Celsius   string        `json:"-"` // what the expected ohms are for
}

// Group is a bank or device with what hangs on it, or what is not wired.
type Group struct {
	Kind     string        `json:"kind"` // "igniter bank", "relay bank", "device", "not wired"
	ID       string        `json:"id,omitempty"`
	Name     string        `json:"name"`
	Type     string        `json:"type,omitempty"`
	Position string        `json:"position,omitempty"`
	Outputs  int           `json:"outputs"` // of a bank, heads of a device; 0 = not known
	Dead     bool          `json:"dead,omitempty"`
	Lines    []Line        `json:"lines"`
	Spare    []int         `json:"spare_outputs"`
	Used     report.Totals `json:"totals"`
}

// Position is what stands at one position.
type Position struct {
	ID    string        `json:"id,omitempty"`
	Name  string        `json:"name"`
	Lines []Line        `json:"lines"`
	Used  report.Totals `json:"totals"`
}

// loader gathers a load plan.
type loader struct {
	plan  *timeline.Plan
	loads map[*timeline.Unit][]*timeline.Load // what is on site at each unit

	loaded, misfires []timeline.Left // of earlier nights
}

// NewPlan gives the load plan of what a filter shows of a plan. It counts
// what is on site, whatever number of outputs drives it and however often it is
// commanded; see Totals.
func NewPlan(p *timeline.Plan, f report.Filter) (*Plan, error) {
	if err := report.StartsRight(p, f); err != nil {
		return nil, err
	}
	site := f.OnSite(p)
	l := &loader{plan: p, loads: map[*timeline.Unit][]*timeline.Load{}}
	if p.Night != nil { // the tour's plan is not for one day
		l.loaded, l.misfires = p.Show.LeftBefore(p.Night)
	}
	for i := range site.Loads {
		u := site.Loads[i].Unit
		l.loads[u] = append(l.loads[u], &site.Loads[i])
	}
	out := &Plan{Head: report.HeadOf(p).Showing(p, report.Filter{Song: f.Song, Bars: f.Bars, Choice: f.Choice}), Groups: []Group{}, Used: report.TotalsOn(site), Circuits: CircuitCaution, Celsius: cableNote(p.Show)}
	for _, b := range report.SortedBanks(p.Show) {
		out.Groups = append(out.Groups, l.bank(b))
	}
	for _, v := range report.SortedDevices(p.Show) {
		out.Groups = append(out.Groups, l.device(v))
	}
	if g := l.notWired(); len(g.Lines) > 0 {
		out.Groups = append(out.Groups, g)
	}
	out.Positions = l.positions()
	return out, nil
}

func (l *loader) bank(b *timeline.Bank) Group {
	g := Group{Kind: "bank", ID: string(b.ID), Name: l.plan.Called(b), Position: report.PositionNamed(l.plan.Show, b.Position), Dead: b.Dead || l.out("bank", b.ID)}
	if t := l.plan.Show.Stock.BankType(b.Type); t != nil {
		g.Kind, g.Type, g.Outputs = string(t.Kind)+" bank", t.Name, t.Outputs
	}
	l.fill(&g, b.ID)
	return g
}

func (l *loader) device(v *timeline.Device) Group {
	g := Group{Kind: "device", ID: string(v.ID), Name: l.plan.Called(v), Position: report.PositionNamed(l.plan.Show, v.Position), Dead: v.Dead || l.out("device", v.ID)}
	if t := l.plan.Show.Stock.DeviceTypeOf(v); t != nil {
		g.Type, g.Outputs = t.Name, t.Heads()
	}
	l.fill(&g, v.ID)
	return g
}

// fill adds what hangs on a bank or device, and which outputs nothing hangs on.
func (l *loader) fill(g *Group, id timeline.ID) {
	used := map[int]bool{}
	g.Lines, g.Spare = []Line{}, []int{}
	for _, u := range l.plan.Units.All {
		for i, d := range u.Drives {
			if d.Wire.Driver == id {
				used[d.Wire.Output] = true
				l.add(&g.Lines, &g.Used, u, i)
			}
		}
	}
	for o := 1; o <= g.Outputs; o++ {
		if !used[o] {
			g.Spare = append(g.Spare, o)
		}
	}
	slices.SortStableFunc(g.Lines, func(a, b Line) int {
		return cmp.Or(cmp.Compare(a.Output, b.Output), strings.Compare(a.PlacedName, b.PlacedName), strings.Compare(a.Placed, b.Placed))
	})
	g.Used.Done()
}

func (l *loader) notWired() Group {
	g := Group{Kind: "not wired", Name: "Not wired", Lines: []Line{}, Spare: []int{}}
	for _, u := range l.plan.Units.All {
		if len(u.Drives) == 0 {
			l.add(&g.Lines, &g.Used, u, 0)
		}
	}
	g.Used.Done()
	return g
}

// out reports whether the night takes a thing out of the rig.
func (l *loader) out(kind string, id timeline.ID) bool {
	return l.plan.Night != nil && slices.ContainsFunc(l.plan.Night.Rig, func(c timeline.RigChange) bool { return c.Kind == kind && c.ID == id && c.Out })
}

// positions gives what stands where, each unit once, by the positions' names;
// what has no position comes last.
func (l *loader) positions() []Position {
	list := []Position{}
	for _, u := range l.plan.Units.All {
		var p Position
		if u.Position != nil {
			p.ID, p.Name = string(u.Position.ID), l.plan.Called(u.Position)
		}
		i := slices.IndexFunc(list, func(q Position) bool { return q.ID == p.ID })
		if i < 0 {
			i = len(list)
			list = append(list, p)
		}
		l.add(&list[i].Lines, &list[i].Used, u, 0)
	}
	for i := range list {
		slices.SortStableFunc(list[i].Lines, func(a, b Line) int { return strings.Compare(a.PlacedName, b.PlacedName) })
		list[i].Used.Done()
	}
	slices.SortStableFunc(list, func(a, b Position) int {
		return cmp.Or(cmp.Compare(wording.OneIf(a.ID == ""), wording.OneIf(b.ID == "")), strings.Compare(a.Name, b.Name))
	})
	return list
}

// wording.WriteJSON writes the load plan as one JSON object.
func (p *Plan) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, p) }
