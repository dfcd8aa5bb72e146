package sheet

import (
	"cmp"
	"io"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// LoadPlan is what has to stand on every output before the show starts.
type LoadPlan struct {
	Head
	Groups    []LoadGroup    `json:"groups"`
	Positions []LoadPosition `json:"positions"`
	Used      Totals         `json:"totals"`
	Circuits  string         `json:"circuit_caution"`
	celsius   string         // what the expected ohms are for
}

// LoadGroup is a bank or device with what hangs on it, or what is not wired.
type LoadGroup struct {
	Kind     string     `json:"kind"` // "igniter bank", "relay bank", "device", "not wired"
	ID       string     `json:"id,omitempty"`
	Name     string     `json:"name"`
	Type     string     `json:"type,omitempty"`
	Position string     `json:"position,omitempty"`
	Outputs  int        `json:"outputs"` // of a bank, heads of a device; 0 = not known
	Dead     bool       `json:"dead,omitempty"`
	Lines    []LoadLine `json:"lines"`
	Spare    []int      `json:"spare_outputs"`
	Used     Totals     `json:"totals"`
}

// LoadPosition is what stands at one position.
type LoadPosition struct {
	ID    string     `json:"id,omitempty"`
	Name  string     `json:"name"`
	Lines []LoadLine `json:"lines"`
	Used  Totals     `json:"totals"`
}

// loader gathers a load plan.
type loader struct {
	plan  *timeline.Plan
	loads map[*timeline.Unit][]*timeline.Load // what is on site at each unit

	loaded, misfires []timeline.Left // of earlier nights
}

// NewLoadPlan gives the load plan of what a filter shows of a plan. It counts
// what is on site, whatever number of outputs drives it and however often it is
// commanded; see Totals.
func NewLoadPlan(p *timeline.Plan, f Filter) (*LoadPlan, error) {
	if err := startsRight(p, f); err != nil {
		return nil, err
	}
	site := f.onSite(p)
	l := &loader{plan: p, loads: map[*timeline.Unit][]*timeline.Load{}}
	if p.Night != nil { // the tour's plan is not for one day
		l.loaded, l.misfires = p.Show.LeftBefore(p.Night)
	}
	for i := range site.Loads {
		u := site.Loads[i].Unit
		l.loads[u] = append(l.loads[u], &site.Loads[i])
	}
	out := &LoadPlan{Head: HeadOf(p).showing(p, Filter{Song: f.Song, Bars: f.Bars, Choice: f.Choice}), Groups: []LoadGroup{}, Used: totalsOn(site), Circuits: CircuitCaution, celsius: cableNote(p.Show)}
	for _, b := range sortedBanks(p.Show) {
		out.Groups = append(out.Groups, l.bank(b))
	}
	for _, v := range sortedDevices(p.Show) {
		out.Groups = append(out.Groups, l.device(v))
	}
	if g := l.notWired(); len(g.Lines) > 0 {
		out.Groups = append(out.Groups, g)
	}
	out.Positions = l.positions()
	return out, nil
}

// sortedBanks gives the banks by space, address and name.
func sortedBanks(s *timeline.Show) []*timeline.Bank {
	return slices.SortedStableFunc(slices.Values(s.Rig.Banks), func(a, b *timeline.Bank) int {
		return cmp.Or(strings.Compare(a.Space, b.Space), cmp.Compare(a.Address, b.Address), strings.Compare(a.Name, b.Name))
	})
}

// sortedDevices gives the devices by network, first address and name.
func sortedDevices(s *timeline.Show) []*timeline.Device {
	first := func(v *timeline.Device) int {
		if len(v.Starts) == 0 {
			return 0
		}
		return v.Starts[0].Absolute()
	}
	return slices.SortedStableFunc(slices.Values(s.Rig.Devices), func(a, b *timeline.Device) int {
		return cmp.Or(strings.Compare(a.Space, b.Space), cmp.Compare(first(a), first(b)), strings.Compare(a.Name, b.Name))
	})
}

func (l *loader) bank(b *timeline.Bank) LoadGroup {
	g := LoadGroup{Kind: "bank", ID: string(b.ID), Name: cmp.Or(b.Name, string(b.ID)), Position: positionNamed(l.plan.Show, b.Position), Dead: b.Dead || l.out("bank", b.ID)}
	if t := l.plan.Show.Stock.BankType(b.Type); t != nil {
		g.Kind, g.Type, g.Outputs = string(t.Kind)+" bank", t.Name, t.Outputs
	}
	l.fill(&g, b.ID)
	return g
}

func (l *loader) device(v *timeline.Device) LoadGroup {
	g := LoadGroup{Kind: "device", ID: string(v.ID), Name: cmp.Or(v.Name, string(v.ID)), Position: positionNamed(l.plan.Show, v.Position), Dead: v.Dead || l.out("device", v.ID)}
	if t := l.plan.Show.Stock.DeviceTypeOf(v); t != nil {
		g.Type, g.Outputs = t.Name, t.Heads()
	}
	l.fill(&g, v.ID)
	return g
}

// fill adds what hangs on a bank or device, and which outputs nothing hangs on.
func (l *loader) fill(g *LoadGroup, id timeline.ID) {
	used := map[int]bool{}
	g.Lines, g.Spare = []LoadLine{}, []int{}
	for _, u := range l.plan.Units.All {
		for i, d := range u.Drives {
			if d.Wire.Unit == id {
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
	slices.SortStableFunc(g.Lines, func(a, b LoadLine) int {
		return cmp.Or(cmp.Compare(a.Output, b.Output), strings.Compare(a.PlacedName, b.PlacedName), strings.Compare(a.Placed, b.Placed))
	})
	g.Used.done()
}

func (l *loader) notWired() LoadGroup {
	g := LoadGroup{Kind: "not wired", Name: "Not wired", Lines: []LoadLine{}, Spare: []int{}}
	for _, u := range l.plan.Units.All {
		if len(u.Drives) == 0 {
			l.add(&g.Lines, &g.Used, u, 0)
		}
	}
	g.Used.done()
	return g
}

// positionNamed names a position of a show's stage; "" where there is none.
func positionNamed(s *timeline.Show, id timeline.ID) string {
	if pos := s.Rig.Position(id); pos != nil {
		return cmp.Or(pos.Name, string(pos.ID))
	}
	return ""
}

// out reports whether the night takes a thing out of the rig.
func (l *loader) out(kind string, id timeline.ID) bool {
	return l.plan.Night != nil && slices.ContainsFunc(l.plan.Night.Rig, func(c timeline.RigChange) bool { return c.Kind == kind && c.ID == id && c.Out })
}

// positions gives what stands where, each unit once, by the positions' names;
// what has no position comes last.
func (l *loader) positions() []LoadPosition {
	list := []LoadPosition{}
	for _, u := range l.plan.Units.All {
		var p LoadPosition
		if u.Position != nil {
			p.ID, p.Name = string(u.Position.ID), cmp.Or(u.Position.Name, string(u.Position.ID))
		}
		i := slices.IndexFunc(list, func(q LoadPosition) bool { return q.ID == p.ID })
		if i < 0 {
			i = len(list)
			list = append(list, p)
		}
		l.add(&list[i].Lines, &list[i].Used, u, 0)
	}
	for i := range list {
		slices.SortStableFunc(list[i].Lines, func(a, b LoadLine) int { return strings.Compare(a.PlacedName, b.PlacedName) })
		list[i].Used.done()
	}
	slices.SortStableFunc(list, func(a, b LoadPosition) int {
		return cmp.Or(cmp.Compare(b2i(a.ID == ""), b2i(b.ID == "")), strings.Compare(a.Name, b.Name))
	})
	return list
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// WriteJSON writes the load plan as one JSON object.
func (p *LoadPlan) WriteJSON(w io.Writer) error { return WriteJSON(w, p) }
