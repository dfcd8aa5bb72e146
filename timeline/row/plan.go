package row

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

// Rows says which rows are put onto the stage, and what is so for all of them.
type Rows struct {
	Rows    []Row
	Article string // of rows that say none
	Group   string // of rows that say none; "" = each row has one of its own name, where it has several effects

	Banks []timeline.ID // that are there, or devices, in order: the effects are wired to their free outputs
	From  int           // first output of each; 0 = 1
	Type  timeline.Ref  // of banks or devices that are added and wired, as many as the effects need; none = none
	Name  string        // of what is added; "" = the type's
	Space string
	// Starts and Address are where the first of them starts: of devices, of banks;
	// none and 0 = the next free run, in Universe or the one after the last.
	Starts   []timeline.Patch
	Address  int
	Universe int
}

// Effect tells of one effect what it becomes.
type Effect struct {
	Name, Article, Position string
	NewPosition             bool
	At                      figure.Vec
	Pan, Tilt               float64
	Group, Output           string
}

// Plan is what rows come to.
type Plan struct {
	Effects []Effect
	Lines   []string // what else is to be known
	Next    *timeline.Show
	edit    timeline.Edit
}

// Edit gives the edit that puts everything onto the stage as one step.
func (p *Plan) Edit() timeline.Edit { return p.edit }

// Plan works rows out in a show, whose names are meant as in the plan. newID hands
// in ids that no record of a kind has.
func (k *Rows) Plan(p *timeline.Plan, newID func(kind string) timeline.ID) (*Plan, error) {
	if len(k.Rows) == 0 {
		return nil, errors.New("no row is given")
	}
	m := &maker{Rows: k, plan: p, newID: newID, groups: map[string][]timeline.ID{},
		places: map[string]func() string{}, names: map[string]func() string{}}
	for i := range k.Rows {
		if err := m.row(&k.Rows[i]); err != nil {
			return nil, fmt.Errorf("row %d: %w", i+1, err)
		}
	}
	edits := []timeline.Edit{func(d *timeline.Draft) error { d.Put("", m.put...); return nil }}
	for _, name := range m.order {
		edits = append(edits, m.group(name))
	}
	edits = append(edits, m.add(), m.wire())
	edit := func(d *timeline.Draft) error {
		for _, e := range edits {
			if e == nil {
				continue
			}
			if err := e(d); err != nil {
				return err
			}
		}
		return nil
	}
	// What is worked out is kept: ids that were handed in once are the ones of the
	// edit that is made.
	next, err := p.Show.Edit(edit)
	if err != nil {
		return nil, err
	}
	m.out.Next, m.out.edit = next, func(d *timeline.Draft) error {
		var put []timeline.Record
		for _, c := range timeline.Diff(p.Show, next) {
			put = append(put, c.After)
		}
		d.Put("", put...)
		return nil
	}
	m.tell()
	return &m.out, nil
}

// maker works rows out.
type maker struct {
	*Rows
	plan  *timeline.Plan
	newID func(kind string) timeline.ID
	out   Plan

	put           []timeline.Record
	placed        []timeline.ID
	order         []string // names of groups
	groups        map[string][]timeline.ID
	names, places map[string]func() string
	added         []timeline.ID
	wired         *timeline.WireProposal
}

// next gives the next name of a row, numbered on over all rows of one name.
func next(kept map[string]func() string, name string, taken func() []string) string {
	if kept[name] == nil {
		kept[name] = timeline.Numbered(name, taken())
	}
	return kept[name]()
}

func (m *maker) row(r *Row) error {
	article, err := m.article(cmp.Or(r.Article, m.Article))
	if err != nil {
		return err
	}
	rig := m.plan.Show.Rig
	var stands []*timeline.StagePosition
	if r.On != "" {
		if stands, err = m.on(r); err != nil {
			return err
		}
	} else {
		stem := single(cmp.Or(r.Place, r.Name), r.Count)
		for _, v := range r.places() {
			name := stem
			if r.Count > 1 {
				name = next(m.places, stem, func() []string { return names(rig.Positions, func(p *timeline.StagePosition) string { return p.Name }) })
			}
			p := &timeline.StagePosition{Base: timeline.Base{ID: m.newID("position")}, Name: name, X: v.X, Y: v.Y, Z: v.Z}
			stands, m.put = append(stands, p), append(m.put, p)
		}
	}
	stem := single(r.Name, len(stands))
	group := cmp.Or(r.Group, m.Group)
	if group == "" && len(stands) > 1 {
		group = r.Name
	}
	for i, p := range stands {
		name := stem
		if len(stands) > 1 {
			name = next(m.names, stem, func() []string { return names(rig.Placed, func(p *timeline.Placed) string { return p.Name }) })
		}
		e := &timeline.Placed{Base: timeline.Base{ID: m.newID("placed")}, Name: name, Article: article.ID, Position: p.ID, Pan: r.pan(i, len(stands)), Tilt: r.Tilt}
		m.put, m.placed = append(m.put, e), append(m.placed, e.ID)
		m.out.Effects = append(m.out.Effects, Effect{Name: name, Article: m.plan.Show.Called(article), Position: p.Name, NewPosition: r.On == "",
			At: figure.Vec{X: p.X, Y: p.Y, Z: p.Z}, Pan: e.Pan, Tilt: e.Tilt, Group: group})
		if group != "" {
			if m.groups[group] == nil {
				m.order = append(m.order, group)
			}
			m.groups[group] = append(m.groups[group], e.ID)
		}
	}
	return nil
}

func names[R any](list []*R, of func(*R) string) []string {
	all := make([]string, len(list))
	for i, r := range list {
		all[i] = of(r)
	}
	return all
}

func (m *maker) article(text string) (*timeline.Article, error) {
	if text == "" {
		return nil, errors.New("it says no article; add {article} with one of the stock, or write article= in the line")
	}
	ref, err := m.plan.FindRecord("article:" + strings.TrimPrefix(text, "article:"))
	if err != nil {
		return nil, err
	}
	return m.plan.Show.Stock.Article(ref.ID), nil
}

// on finds the positions that a row stands on, from the audience's left.
func (m *maker) on(r *Row) ([]*timeline.StagePosition, error) {
	start, many := strings.CutSuffix(strings.ToLower(r.On), "*")
	var list []*timeline.StagePosition
	for _, p := range m.plan.Show.Rig.Positions {
		name := strings.ToLower(p.Name)
		if name == start || many && strings.HasPrefix(name, start) {
			list = append(list, p)
		}
	}
	slices.SortStableFunc(list, func(a, b *timeline.StagePosition) int {
		return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y))
	})
	switch {
	case len(list) == 0:
		return nil, fmt.Errorf("no position is called %q", r.On)
	case r.Count != 0 && r.Count != len(list):
		return nil, fmt.Errorf("%d positions are called %q, and the row has %d effects", len(list), r.On, r.Count)
	case len(list) > most:
		return nil, fmt.Errorf("%d positions are called %q; a row has up to %d effects", len(list), r.On, most)
	}
	return list, nil
}

// group puts the effects of rows into a group: a new one, or behind those of the one
// that is there.
func (m *maker) group(name string) timeline.Edit {
	return func(d *timeline.Draft) error {
		for _, g := range m.plan.Show.Rig.Groups {
			if strings.EqualFold(g.Name, name) {
				more := *g
				more.Members = append(slices.Clone(g.Members), m.groups[name]...)
				d.Put("", &more)
				m.out.Lines = append(m.out.Lines, fmt.Sprintf("group %q is there with %s; these stand behind them", g.Name, timeline.Counted(len(g.Members), "effect")))
				return nil
			}
		}
		d.Put("", &timeline.Group{Base: timeline.Base{ID: m.newID("group")}, Name: name, Members: m.groups[name]})
		return nil
	}
}

// add adds the banks or devices that the effects need; nil for none.
func (m *maker) add() timeline.Edit {
	if m.Type.ID == "" {
		return nil
	}
	stock := m.plan.Show.Stock
	newID := func(kind string) func() timeline.ID {
		return func() timeline.ID {
			id := m.newID(kind)
			m.added = append(m.added, id)
			return id
		}
	}
	needed := func(each int) int { return (len(m.placed) + each - 1) / max(each, 1) }
	if t := stock.BankType(m.Type.ID); t != nil && m.Type.Kind == "banktype" {
		return timeline.AddBanks(timeline.BankRun{Type: t.ID, Count: needed(t.Outputs), Name: cmp.Or(m.Name, m.plan.Show.Called(t)), Space: m.Space, Address: m.Address}, newID("bank"))
	}
	t := stock.DeviceType(m.Type.ID)
	if t == nil {
		return func(*timeline.Draft) error { return errors.New("{type} is gone") }
	}
	add := timeline.AddDevices(timeline.DeviceRun{Type: t.ID, Count: needed(t.Heads()), Name: cmp.Or(m.Name, m.plan.Show.Called(t)), Space: m.Space, Starts: m.Starts, Universe: m.Universe}, newID("device"))
	if t.Heads() != 1 {
		return add
	}
	return func(d *timeline.Draft) error { // each stands where its effect does
		if err := add(d); err != nil {
			return err
		}
		for i, id := range m.added {
			v := *d.Show().Rig.Device(id)
			v.Position = d.Show().Rig.PlacedEffect(m.placed[i]).Position
			d.Put("", &v)
		}
		return nil
	}
}

// wire wires the effects, in the order of the rows; nil where there is nothing to
// wire them to.
func (m *maker) wire() timeline.Edit {
	if m.Type.ID == "" && len(m.Banks) == 0 {
		return nil
	}
	return func(d *timeline.Draft) error {
		p, err := d.Show().ProposeWires(timeline.WireRun{Placed: m.placed, Units: append(slices.Clone(m.Banks), m.added...), From: m.From, Pattern: timeline.WireStraight})
		if err != nil {
			return err
		}
		m.wired = p
		return p.Edit(func() timeline.ID { return m.newID("wire") })(d)
	}
}

// tell fills in which output each effect hangs on, and counts.
func (m *maker) tell() {
	s := m.out.Next
	outputs := map[timeline.ID]string{}
	if m.wired != nil {
		for _, w := range m.wired.Wires {
			outputs[w.Placed] = fmt.Sprintf("%s output %d", s.CalledBy(w.Driver, "bank", "device"), w.Output)
		}
		for _, c := range m.wired.Counts {
			if over := c.Over(); over > 0 {
				m.out.Lines = append(m.out.Lines, fmt.Sprintf("%s: %d placed, %d in stock: %d too few", s.Called(c.Article), c.Placed, c.Article.Stock, over))
			}
		}
	}
	for i, id := range m.placed {
		m.out.Effects[i].Output = outputs[id]
	}
	for _, id := range m.added {
		if v := s.Rig.Device(id); v != nil {
			var starts []string
			for _, p := range v.Starts {
				starts = append(starts, p.String())
			}
			m.out.Lines = append(m.out.Lines, fmt.Sprintf("%s is new, from %s", s.Called(v), strings.Join(starts, ", ")))
		}
		if b := s.Rig.Bank(id); b != nil {
			m.out.Lines = append(m.out.Lines, fmt.Sprintf("%s is new, address %d", s.Called(b), b.Address))
		}
	}
}
