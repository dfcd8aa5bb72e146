package operation

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// wireOperations join placed effects to outputs and supplies, and part them.
func wireOperations() []*Operation { return []*Operation{wireUp(), unwire(), feed()} }

// Wiring are the arguments of placed effects that are wired to outputs.
type Wiring struct {
	Placed  []timeline.ID
	Order   timeline.Order
	Banks   []timeline.ID // or devices, in order
	Pattern timeline.WirePattern
	From    int // first output of each
	Rewire  bool

	Together bool // all on one output, the first
}

func (w *Wiring) start() {
	w.Order, w.Pattern, w.From = timeline.OrderAll, timeline.WireStraight, 1
}

// Propose works the wiring out for a show.
func (w *Wiring) Propose(s *timeline.Show) (*timeline.WireProposal, error) {
	if len(w.Banks) == 0 {
		return nil, errors.New(noBank)
	}
	placed, err := s.Rig.Arrange(w.Placed, w.Order)
	if err != nil {
		return nil, err
	}
	return s.ProposeWires(timeline.WireRun{Placed: placed, Units: w.Banks, From: w.From, Pattern: w.Pattern, Rewire: w.Rewire, Together: w.Together})
}

const noBank = "no bank is chosen; add {bank} with the name of a bank or device"

func wireUp() *Operation {
	type A = Wiring
	banks := ids("bank", "bank or device, by name or id; several by repeating it", func(w *A) *[]timeline.ID { return &w.Banks }, "bank", "device")
	from := field.Parsed("from", "first output of each bank", func(w *A) *int { return &w.From }, strconv.Itoa, func(s string) (int, error) {
		n, err := strconv.Atoi(strings.TrimSpace(s))
		if err != nil || n < 1 {
			return 0, fmt.Errorf("%s is no output; outputs count from 1", strings.TrimSpace(s))
		}
		return n, nil
	})
	from.Type = field.WholeType
	return tells(does(Operation{Verb: "wire", Menu: "Wire…", Title: "Wire placed effects to outputs", Button: "Wire",
		Tip:  "wires any number of placed effects to the free outputs of any number of banks in one step, shown before it is done",
		Help: "wires placed effects, or groups of them, to free outputs",
		Args: []Argument{
			{Field: placedOrGroups(func(w *A) *[]timeline.ID { return &w.Placed }), Word: "PLACED…", Label: "Effects", Need: "no placed effect is chosen", read: readPlaced},
			{Field: field.Choice("order", "arrange them first: "+field.Listed(timeline.Orders()), func(w *A) *timeline.Order { return &w.Order }, timeline.Orders()), Label: "Order"},
			{Field: banks, Label: "Banks", Need: noBank},
			{Field: field.Choice("pattern", "straight, fan, mirror or alternate", func(w *A) *timeline.WirePattern { return &w.Pattern }, timeline.WirePatterns()), Label: "Pattern"},
			{Field: from, Label: "From output", About: []string{"output"}},
			{Field: field.Flag("rewire", "take away the wires the effects have now", func(w *A) *bool { return &w.Rewire }), Label: "Wired ones", Hint: "take their wires away first"},
			{Field: field.Flag("together", "all on that one output, beside what hangs there: they fire together", func(w *A) *bool { return &w.Together }), Label: "Together", Hint: "all on that one output"},
		}},
		func(at At, w *A) (timeline.Edit, error) {
			p, err := w.Propose(at.Show)
			if err != nil {
				return nil, err
			}
			return p.Edit(func() timeline.ID { return at.NewID("wire", "") }), nil
		},
		func(s *timeline.Show, w *A) string {
			n := len(w.Placed)
			if kept, err := s.Rig.Arrange(w.Placed, w.Order); err == nil {
				n = len(kept)
			}
			return "wire " + timeline.Counted(n, "effect")
		}),
		func(at At, w *A) (Outcome, error) {
			p, err := w.Propose(at.Show)
			if err != nil {
				return Outcome{}, err
			}
			return wiringTold(at.Show, p), nil
		})
}

// wiringTold tells which effect goes to which output, what stays spare, and the
// counts against the stock.
func wiringTold(s *timeline.Show, p *timeline.WireProposal) Outcome {
	out := Outcome{Columns: columns("Effect", "Bank", "#Output")}
	for _, w := range p.Wires {
		out.Rows = append(out.Rows, []string{s.CalledBy(w.Placed, "placed"), s.CalledBy(w.Driver, "bank", "device"), strconv.Itoa(w.Output)})
	}
	if len(p.Gone) > 0 {
		out.Lines = append(out.Lines, "taken away: "+timeline.Counted(len(p.Gone), "wire"))
	}
	out.Lines = append(out.Lines, besides(s, p))
	for _, c := range p.Counts {
		stock := "stock not given"
		if c.Article.Stock > 0 {
			stock = fmt.Sprintf("%d in stock", c.Article.Stock)
		}
		if over := c.Over(); over > 0 {
			stock += fmt.Sprintf(": %d too few", over)
		}
		out.Lines = append(out.Lines, fmt.Sprintf("%s: %d wired, %d placed, %s", s.Called(c.Article), c.Wired, c.Placed, stock))
	}
	return out
}

// besides tells which outputs stay spare, or what hangs on the output that all of
// them take.
func besides(s *timeline.Show, p *timeline.WireProposal) string {
	if p.Run.Together {
		names := make([]string, len(p.Beside))
		for i, w := range p.Beside {
			names[i] = s.CalledBy(w.Placed, "placed")
		}
		if len(names) == 0 {
			return "they fire together"
		}
		slices.Sort(names)
		return "they fire together with " + strings.Join(names, ", ")
	}
	spare, last := "spare:", ""
	for _, o := range p.Spare {
		if name := s.CalledBy(o.Driver, "bank", "device"); name != last {
			spare, last = spare+" "+name, name
		}
		spare += " " + strconv.Itoa(o.Output)
	}
	if len(p.Spare) == 0 {
		spare += " none"
	}
	return spare
}

// placedOrGroups holds placed effects.
func placedOrGroups[A any](at func(*A) *[]timeline.ID) field.Field {
	return ids("placed", "placed effects; a group stands for its members", at, "placed", "group")
}

// readPlaced finds placed effects; a group stands for its members.
func readPlaced(p *timeline.Plan, text string) (field.Value, error) {
	ref, err := p.FindOneOf(text, "placed", "group")
	if err != nil || ref.Kind == "placed" {
		return field.Value{Text: string(ref.ID)}, err
	}
	v := field.Value{Items: []string{}}
	for _, id := range p.Show.Rig.Group(ref.ID).Members {
		v.Items = append(v.Items, string(id))
	}
	return v, nil
}

// Unwiring are the arguments of wires that are taken away.
type Unwiring struct{ Wires []timeline.ID }

func unwire() *Operation {
	type A = Unwiring
	return does(Operation{Verb: "unwire", Menu: "Unwire", Title: "Take wires away", Button: "Take away", Plays: true,
		Tip:  "takes the wires of the chosen outputs or placed effects away",
		Help: "takes the wires of placed effects, or groups of them, away",
		Args: []Argument{{Field: ids("wire", "wires; a placed effect or group stands for all that it has", func(w *A) *[]timeline.ID { return &w.Wires }, "placed", "group", "wire"),
			Word: "NAME…", NoForm: true, read: readWires}}},
		func(_ At, w *A) (timeline.Edit, error) {
			if len(w.Wires) == 0 {
				return nil, errors.New("no wire is chosen")
			}
			return func(d *timeline.Draft) error {
				for _, id := range w.Wires {
					if err := d.Remove(timeline.Ref{Kind: "wire", ID: id}); err != nil {
						return err
					}
				}
				return nil
			}, nil
		},
		func(_ *timeline.Show, w *A) string { return "take away " + timeline.Counted(len(w.Wires), "wire") })
}

// readWires finds a wire, or all that a placed effect or the members of a group
// have.
func readWires(p *timeline.Plan, text string) (field.Value, error) {
	ref, err := p.FindOneOf(text, "placed", "group", "wire")
	if err != nil || ref.Kind == "wire" {
		return field.Value{Text: string(ref.ID)}, err
	}
	placed := []timeline.ID{ref.ID}
	if ref.Kind == "group" {
		placed = p.Show.Rig.Group(ref.ID).Members
	}
	var v field.Value
	for _, w := range p.Show.Rig.Wires {
		if slices.Contains(placed, w.Placed) {
			v.Items = append(v.Items, string(w.ID))
		}
	}
	if len(v.Items) == 0 {
		return v, fmt.Errorf("%s %s has no wire", ref.Kind, p.Show.Named(ref.Kind, ref.ID))
	}
	return v, nil
}

// Feeding are the arguments of placed effects that one supply feeds, and no
// other; Off takes them off every supply.
type Feeding struct {
	Placed []timeline.ID
	Supply timeline.ID
	Off    bool
}

func feed() *Operation {
	type A = Feeding
	return tells(does(Operation{Verb: "feed", Menu: "Feed from…", Title: "Feed placed effects", Button: "Feed",
		Tip:  "has one supply feed the chosen placed effects",
		Help: "has one supply feed placed effects, or groups of them",
		Args: []Argument{
			{Field: placedOrGroups(func(f *A) *[]timeline.ID { return &f.Placed }), Word: "PLACED…", NoForm: true, read: readPlaced},
			{Field: field.Flag("off", "take them off every supply", func(f *A) *bool { return &f.Off }), Label: "Off", Hint: "take them off every supply"},
			{Field: id("supply", "the cylinder or tank that feeds them, by name or id", func(f *A) *timeline.ID { return &f.Supply }, "supply"), Label: "Supply"},
		}},
		func(at At, f *A) (timeline.Edit, error) { return f.edit(at.Show) },
		func(_ *timeline.Show, f *A) string { return "feed " + timeline.Counted(len(f.Placed), "placed effect") }),
		func(at At, f *A) (Outcome, error) { return f.told(at.Show), nil })
}

// edit has one supply feed the placed effects, and no other any more.
func (f *Feeding) edit(s *timeline.Show) (timeline.Edit, error) {
	switch {
	case len(f.Placed) == 0:
		return nil, errors.New("no placed effect is chosen")
	case f.Off && f.Supply != "":
		return nil, errors.New("{supply} and {off} exclude each other")
	case !f.Off && f.Supply == "":
		return nil, errors.New("no supply is chosen; add {supply} with its name or id, or {off} to take them off every supply")
	case !f.Off && s.Rig.Supply(f.Supply) == nil:
		return nil, &timeline.ValueError{Field: "supply", Value: string(f.Supply), Want: "names no supply of this show"}
	}
	return func(d *timeline.Draft) error {
		for _, supply := range d.Show().Rig.Supplies {
			next := *supply
			next.Feeds = slices.DeleteFunc(slices.Clone(supply.Feeds), func(id timeline.ID) bool { return slices.Contains(f.Placed, id) })
			if supply.ID == f.Supply {
				next.Feeds = append(next.Feeds, f.Placed...)
			}
			if !slices.Equal(next.Feeds, supply.Feeds) {
				d.Put("", &next)
			}
		}
		return nil
	}, nil
}

// told tells what fed each effect and what does then, and where the supply holds
// something else than the effect uses.
func (f *Feeding) told(s *timeline.Show) Outcome {
	out := Outcome{Columns: columns("Effect", "Was fed by", "Is fed by")}
	name, medium := "", ""
	if from := s.Rig.Supply(f.Supply); from != nil {
		name, medium = s.CalledBy(from.ID, "supply"), from.Medium
	}
	for _, id := range f.Placed {
		var was []string
		for _, supply := range s.Rig.Supplies {
			if slices.Contains(supply.Feeds, id) {
				was = append(was, s.CalledBy(supply.ID, "supply"))
			}
		}
		effect := s.CalledBy(id, "placed")
		out.Rows = append(out.Rows, []string{effect, strings.Join(was, ", "), name})
		p := s.Rig.PlacedEffect(id)
		if p == nil || name == "" {
			continue
		}
		if art := s.Stock.Article(p.Article); art != nil && art.Medium != medium {
			out.Lines = append(out.Lines, fmt.Sprintf("%s uses %s, and %s holds %s", effect, cmp.Or(art.Medium, "nothing"), name, cmp.Or(medium, "nothing")))
		}
	}
	return out
}
