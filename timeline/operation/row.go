package operation

import (
	"cmp"
	"fmt"
	"strconv"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/row"
)

// rowOperations put effects onto the stage in rows.
func rowOperations() []*Operation { return []*Operation{putRows()} }

// PuttingRows are the arguments of effects that are put onto the stage in rows.
type PuttingRows struct {
	row.Rows
	At []string // where the first bank or device starts
}

func (r *PuttingRows) start() { r.Universe, r.From = 1, 1 }

func putRows() *Operation {
	type A = PuttingRows
	named := func(name, help string, at func(*A) *string, kinds ...string) field.Field {
		f := field.Text(name, help, at)
		f.Ref = kinds
		return f
	}
	rows := field.List("rows", `rows, each in quotes: "12 jets, lip, 1.5 m apart"`, func(a *A) *[]row.Row { return &a.Rows.Rows }, row.Row.String, row.Parse)
	whatType := kindAndID("type", "adds as many banks or devices of a type as it takes, and wires them", func(a *A) (string, timeline.ID) { return a.Type.Kind, a.Type.ID },
		func(a *A, kind string, id timeline.ID) { a.Type = timeline.Ref{Kind: kind, ID: id} }, "devicetype", "banktype")
	universe := field.Parsed("universe", "universe to look for a free run in", func(a *A) *int { return &a.Universe }, strconv.Itoa, wholeCount)
	from := field.Parsed("from", "first output of each bank", func(a *A) *int { return &a.From }, strconv.Itoa, wholeCount)
	universe.Type, from.Type = field.WholeType, field.WholeType
	text := func(name, help string, at func(*A) *string) field.Field {
		return trimmed(field.Text(name, help, at), at)
	}
	return tells(does(Operation{Verb: "row", Menu: "Row of effects…", Title: "Rows of effects", Button: "Put up",
		Tip:  "puts effects onto the stage in rows: positions, names, group, addresses and wires in one step, shown before it is done",
		Help: "puts effects onto the stage in rows",
		Args: []Argument{
			{Field: rows, Word: "ROW…", Label: "Rows", Hint: "12 jets, lip, 1.5 m apart; 4 pots, riser, 2 m apart, from=-3,4,1", Need: `no row is given; write one such as "12 jets, lip, 1.5 m apart"`},
			{Field: named("article", "article of rows that say none, by name or id", func(a *A) *string { return &a.Article }, "article"), Label: "Article", read: asWritten},
			{Field: text("group", "group of rows that say none (default: one for each row, of its name)", func(a *A) *string { return &a.Group }), Label: "Group", Hint: "the name of each row"},
			{Field: ids("bank", "wires them to free outputs of this bank or device; several by repeating it", func(a *A) *[]timeline.ID { return &a.Banks }, "bank", "device"), Label: "Banks"},
			{Field: from, Label: "From output", About: []string{"output"}},
			{Field: whatType, Label: "Add of type", Kinded: true},
			{Field: text("name", "name of what is added, before the number (default: the type's)", func(a *A) *string { return &a.Name }), Label: "Name of it", Hint: "the type's"},
			{Field: text("space", "address space of what is added", func(a *A) *string { return &a.Space }), Label: "Space"},
			{Field: universe, Label: "Universe"},
			startsAt(func(a *A) *[]string { return &a.At }),
		}},
		func(at At, a *A) (timeline.Edit, error) {
			p, err := a.plan(at)
			if err != nil {
				return nil, err
			}
			return p.Edit(), nil
		},
		func(_ *timeline.Show, a *A) string { return "put up " + timeline.Counted(len(a.Rows.Rows), "row") }),
		func(at At, a *A) (Outcome, error) {
			p, err := a.plan(at)
			if err != nil {
				return Outcome{}, err
			}
			return rowsTold(p), nil
		})
}

// plan works the rows out.
func (a *PuttingRows) plan(at At) (*row.Plan, error) {
	k := a.Rows
	if k.Universe < 1 || k.Universe > timeline.LastUniverse {
		return nil, &timeline.ValueError{Field: "universe", Value: strconv.Itoa(k.Universe), Want: "must be a whole number from 1 to " + strconv.Itoa(timeline.LastUniverse)}
	}
	var err error
	if k.Type.Kind == "banktype" {
		k.Address, err = address(a.At)
	} else {
		k.Starts, err = starts(a.At)
	}
	if err != nil {
		return nil, err
	}
	if len(a.At) > 0 && k.Type.ID == "" {
		return nil, fmt.Errorf("{at} says where something starts, and nothing is added; give {type} with it")
	}
	return k.Plan(at.Plan, func(kind string) timeline.ID { return at.NewID(kind, "") })
}

// rowsTold tells of each effect what it becomes.
func rowsTold(p *row.Plan) Outcome {
	out := Outcome{Columns: columns("Effect", "Article", "Position", "#x, m", "#y, m", "#z, m", "#Pan, °", "#Tilt, °", "Group", "Hangs on"), Lines: p.Lines}
	for _, e := range p.Effects {
		position := e.Position
		if e.NewPosition {
			position += " (new)"
		}
		out.Rows = append(out.Rows, []string{e.Name, e.Article, position, fmt.Sprintf("%.3f", e.At.X), fmt.Sprintf("%.3f", e.At.Y), fmt.Sprintf("%.3f", e.At.Z),
			fmt.Sprintf("%g", e.Pan), fmt.Sprintf("%g", e.Tilt), e.Group, cmp.Or(e.Output, "nothing yet")})
	}
	return out
}
