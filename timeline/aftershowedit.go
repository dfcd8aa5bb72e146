package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// AfterShow is what is entered after a night's show.
type AfterShow struct {
	AllFired bool                         // what timecode commanded and nothing has been entered about was fired
	Outputs  map[OutcomeState][]OutputRef // what became of single outputs
	Cleared  []OutputRef                  // misfires that have been cleared
	By, Note string                       // who cleared them
	Weights  []Fill                       // what was left in supplies
	Forget   bool                         // take away all that was entered before
}

// AfterShow gives the edit that enters what became of a night. What was entered
// before stays where nothing else is said, so that entering the same again
// changes nothing. The plan must be that of the night; what was loaded is looked up
// in the night as it was played where that is kept, and what became of it is
// entered in the night as it is now.
func (p *Plan) AfterShow(in AfterShow) (Edit, error) {
	if p.Night == nil {
		return nil, fmt.Errorf("no night is chosen; what became of a show is entered for its night")
	}
	if !p.AsPlayed && p.Show.KeptFor(p.Night.ID) != nil {
		p = Compile(p.Show.AsPlayed(p.Night))
	}
	n := *p.Night
	if in.Forget {
		n.Outcomes, n.Weights = nil, nil
	}
	e := &afterEntry{plan: p, night: &n}
	n.Outcomes = n.EachOutcome()
	for _, state := range outcomeStates {
		for _, at := range in.Outputs[state] {
			if err := e.enter(at, state); err != nil {
				return nil, err
			}
		}
	}
	if in.AllFired {
		e.allFired()
	}
	if err := e.clear(in); err != nil {
		return nil, err
	}
	if err := e.weigh(in.Weights); err != nil {
		return nil, err
	}
	slices.SortStableFunc(n.Outcomes, func(a, b Outcome) int {
		return cmp.Or(strings.Compare(string(a.Driver), string(b.Driver)), cmp.Compare(a.Output, b.Output), strings.Compare(string(a.Placed), string(b.Placed)), strings.Compare(string(a.Article), string(b.Article)))
	})
	return EditNight(n.ID, func(_ *Show, is *Night) error {
		is.Outcomes, is.Weights = n.Outcomes, n.Weights
		return nil
	}), nil
}

// afterEntry builds the night's record.
type afterEntry struct {
	plan  *Plan
	night *Night
	named []Outcome // in this entry, so that nothing is said twice
}

// enter says what became of all that hangs on an output.
func (e *afterEntry) enter(at OutputRef, state OutcomeState) error {
	found := false
	for _, u := range e.plan.Units.All {
		if !slices.ContainsFunc(u.Drives, func(d Drive) bool { return d.Wire.Driver == at.Driver && d.Wire.Output == at.Output }) {
			continue
		}
		for _, a := range e.plan.articlesAt(u) {
			found = true
			o := Outcome{Driver: at.Driver, Output: at.Output, State: state, Placed: u.Placed.ID, Article: a.ID, Pieces: 1}
			if i := slices.IndexFunc(e.named, o.sameLoad); i >= 0 && e.named[i].State != state {
				return fmt.Errorf("%s was %s and %s; say one", e.plan.Show.CalledOutput(at), e.named[i].State, state)
			}
			e.named = append(e.named, o)
			e.put(o)
		}
	}
	if !found {
		return fmt.Errorf("nothing hangs on %s tonight; %s", e.plan.Show.CalledOutput(at), e.plan.outputChoices(at.Driver))
	}
	return nil
}

// put enters an outcome in the place of what was said about the load. What
// stays in its state stays as it was, cleared or not.
func (e *afterEntry) put(o Outcome) {
	list := e.night.Outcomes
	i := slices.IndexFunc(list, o.sameLoad)
	switch {
	case i < 0:
		e.night.Outcomes = append(list, o)
	case list[i].State != o.State:
		e.night.Outcomes = slices.Clone(list)
		e.night.Outcomes[i] = o
	}
}

// allFired enters as fired what timecode commanded and nobody has said anything
// about: of what is used up, and hangs on an output that works.
func (e *afterEntry) allFired() {
	for _, u := range e.plan.Units.All {
		i := slices.IndexFunc(u.Drives, func(d Drive) bool { return !d.Dead })
		if i < 0 {
			continue
		}
		for _, a := range e.plan.commanded(u) {
			o := Outcome{Driver: u.Drives[i].Wire.Driver, Output: u.Drives[i].Wire.Output, State: Fired, Placed: u.Placed.ID, Article: a.ID, Pieces: 1}
			if a.UsedUp() && !slices.ContainsFunc(e.night.Outcomes, o.sameLoad) {
				e.night.Outcomes = append(e.night.Outcomes, o)
			}
		}
	}
}

func (e *afterEntry) clear(in AfterShow) error {
	if len(in.Cleared) == 0 {
		return nil
	}
	if strings.TrimSpace(in.By) == "" {
		return fmt.Errorf("a misfire is cleared by somebody; give a name")
	}
	e.night.Outcomes = slices.Clone(e.night.Outcomes)
	for _, at := range in.Cleared {
		found := false
		for i := range e.night.Outcomes {
			if o := &e.night.Outcomes[i]; o.State == Misfired && o.Driver == at.Driver && o.Output == at.Output {
				o.ClearedBy, o.ClearedNote, found = in.By, in.Note, true
			}
		}
		if !found {
			return fmt.Errorf("no misfire was entered for %s on this night; %s", e.plan.Show.CalledOutput(at), misfiresOf(e.plan.Show, e.night))
		}
	}
	return nil
}

func misfiresOf(s *Show, n *Night) string {
	var names []string
	called := s.Names()
	for _, o := range n.Outcomes {
		if o.State == Misfired {
			names = append(names, called.output(OutputRef{o.Driver, o.Output}))
		}
	}
	if len(names) == 0 {
		return "it has none"
	}
	return "it has " + listSome(names)
}

func (e *afterEntry) weigh(list []Fill) error {
	for _, f := range list {
		if e.plan.Show.Rig.Supply(f.Supply) == nil {
			return fmt.Errorf("supply %q is not in the rig: %s", f.Supply, KindOf("supply").choices(e.plan.Show.Names(), []ID{""}, string(f.Supply)))
		}
		if err := e.plan.Show.Rig.Supply(f.Supply).holds(e.plan.Show.CalledBy(f.Supply, "supply"), f.Kg); err != nil {
			return err
		}
		e.night.Weights = slices.DeleteFunc(slices.Clone(e.night.Weights), func(o Fill) bool { return o.Supply == f.Supply })
		e.night.Weights = append(e.night.Weights, f)
	}
	slices.SortStableFunc(e.night.Weights, func(a, b Fill) int { return strings.Compare(string(a.Supply), string(b.Supply)) })
	return nil
}

// commanded lists the articles that timecode commands at a unit, as they are
// first played.
func (p *Plan) commanded(u *Unit) []*Article {
	var list []*Article
	for i := range p.Songs {
		ps := p.Songs[i].SongPlan
		at, found := slices.BinarySearchFunc(ps.Uses, u.Index, func(x UnitUse, index int) int { return cmp.Compare(x.Unit.Index, index) })
		if !found {
			continue
		}
		for _, k := range ps.Uses[at].Commands {
			if a := ps.Commands[k].Article; !slices.Contains(list, a) {
				list = append(list, a)
			}
		}
	}
	return list
}

// articlesAt lists what is loaded at a unit: what is commanded or meant by hand
// there, else what stands there.
func (p *Plan) articlesAt(u *Unit) []*Article {
	list := p.commanded(u)
	for i := range p.Keys {
		for j := range p.Keys[i].Uses {
			if x := &p.Keys[i].Uses[j]; x.Unit == u && !slices.Contains(list, x.Article) {
				list = append(list, x.Article)
			}
		}
	}
	if len(list) == 0 && u.Article != nil && !u.Out {
		list = append(list, u.Article)
	}
	return list
}

// outputChoices says what outputs of a bank or device something hangs on.
func (p *Plan) outputChoices(unit ID) string {
	var used []int
	for _, u := range p.Units.All {
		for _, d := range u.Drives {
			if d.Wire.Driver == unit {
				used = append(used, d.Wire.Output)
			}
		}
	}
	if len(used) == 0 {
		return fmt.Sprintf("nothing is wired to %s", p.Show.unitName(unit))
	}
	slices.Sort(used)
	var names []string
	for _, n := range slices.Compact(used) {
		names = append(names, fmt.Sprint(n))
	}
	return fmt.Sprintf("of %s something hangs on %s", p.Show.unitName(unit), listSome(names))
}

// FindOutput finds the output a user means: `bank:output` with the id or name
// of a bank or device.
func (p *Plan) FindOutput(text string) (OutputRef, error) {
	i := strings.LastIndexByte(text, ':')
	if i < 0 {
		return OutputRef{}, fmt.Errorf("output %s: write bank:output, such as bank-a:7", quoted(text))
	}
	at, err := parseOutputRef("x" + text[i:])
	if err != nil {
		return OutputRef{}, fmt.Errorf("output %s: %q is no output; write a number from 1", quoted(text), text[i+1:])
	}
	ref, err := KindOf("bank").pick(p.Show, []ID{""}, text[:i])
	if err != nil {
		dev, devErr := KindOf("device").pick(p.Show, []ID{""}, text[:i])
		if devErr != nil {
			return OutputRef{}, fmt.Errorf("output %s: %w", quoted(text), err)
		}
		ref = dev
	}
	at.Driver = ref.ID
	return at, nil
}
