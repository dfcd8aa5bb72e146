package operation

import (
	"fmt"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/units"
)

// asksDistance describes an operation that enters a distance: of a night's
// officer, a venue's permit or a rule set.
func asksDistance(o Operation, clause Argument, edit func(At, timeline.Distance) timeline.Edit) *Operation {
	o.Help = "what it demands to audience,\nperformers or persons; 2x is two fallout radii"
	o.Args = append(distanceArgs(func(d *timeline.Distance) *timeline.Distance { return d }), clause)
	return does(o,
		func(at At, d *timeline.Distance) (timeline.Edit, error) {
			if err := asksNothing(d); err != nil {
				return nil, err
			}
			return edit(at, *d), nil
		},
		func(s *timeline.Show, d *timeline.Distance) string { return s.DistanceAsked(*d) })
}

// clause is who asks for a distance, or where it is written.
func clause[A any](name, help string, at func(*A) *string) Argument {
	return Argument{Field: trimmed(field.Text(name, help, at), at), Label: "Clause", Hint: "who asks for it, or where it is written"}
}

func clauseOf(d *timeline.Distance) *string { return &d.Clause }

func asksNothing(d *timeline.Distance) error {
	if d.AtLeast == 0 && d.Fallout == 0 {
		return fmt.Errorf("a distance of 0 m asks for nothing; give metres, a multiple of the fallout radius, or both. Label, permit and authority come first")
	}
	return nil
}

// distanceArgs are whom a distance is to, how far and from what. On the command
// line its measure is one word, metres or a number of fallout radii; a form asks
// for both, of which the larger holds.
func distanceArgs[A any](at func(*A) *timeline.Distance) []Argument {
	return []Argument{
		{Field: field.Choice("to", "who is kept away", func(a *A) *timeline.DistanceTo { return &at(a).To }, []timeline.DistanceTo{timeline.ToAudience, timeline.ToPerformers, timeline.ToPersons}), Word: "WHOM", Label: "To"},
		{Field: measure(at), Word: "METRES", NoForm: true},
		{Field: field.Number("at-least", "m", "the larger of both holds; 0 leaves one out", 0, 10000, func(a *A) *float64 { return &at(a).AtLeast }), Label: "At least", NoVerb: true},
		{Field: field.Number("fallout-times", "× fallout", "the larger of both holds; 0 leaves one out", 0, 100, func(a *A) *float64 { return &at(a).Fallout }), Label: "Or", NoVerb: true},
		{Field: effects(at), Word: "family=NAME|article=NAME…", Optional: true, Label: "From", Hint: "every effect where none is chosen", Kinded: true, read: readEffects},
	}
}

// measure reads metres, or a number of fallout radii as 2x.
func measure[A any](at func(*A) *timeline.Distance) field.Field {
	return field.Of("metres", "metres such as 12, or 2x for two fallout radii", field.TextType,
		func(a *A) field.Value {
			d := at(a)
			if d.Fallout > 0 {
				return field.Value{Text: field.FormatNumber(d.Fallout) + "x"}
			}
			return field.Value{Text: field.FormatNumber(d.AtLeast)}
		},
		func(a *A, v field.Value) error {
			d := at(a)
			number, radii := strings.CutSuffix(v.Text, "x")
			unit := "m"
			if radii {
				unit = ""
			}
			x, err := units.Metres.Read(unit, number)
			if err != nil || !(x > 0) {
				return fmt.Errorf("is no distance; write metres such as 12, or 2x for two fallout radii")
			}
			if d.AtLeast, d.Fallout = x, 0; radii {
				d.AtLeast, d.Fallout = 0, x
			}
			return nil
		})
}

// effects are the families and articles that a distance holds for.
func effects[A any](at func(*A) *timeline.Distance) field.Field {
	f := field.Of("from", "families and articles it holds for", field.ListType,
		func(a *A) field.Value {
			d := at(a)
			var items []string
			for _, f := range d.Families {
				items = append(items, "family="+string(f))
			}
			for _, id := range d.Articles {
				items = append(items, "article="+string(id))
			}
			return field.Value{Items: items}
		},
		func(a *A, v field.Value) error {
			d := at(a)
			d.Families, d.Articles = nil, nil
			for _, item := range v.Items {
				if what, id, _ := strings.Cut(item, "="); what == "family" {
					d.Families = append(d.Families, timeline.Family(id))
				} else {
					d.Articles = append(d.Articles, timeline.ID(id))
				}
			}
			return nil
		})
	f.Ref = []string{"family", "article"}
	return f
}

func readEffects(p *timeline.Plan, text string) (field.Value, error) {
	sel, err := p.FindSelector(text)
	if err == nil && sel.What != "family" && sel.What != "article" {
		err = fmt.Errorf("distance: %q: a distance holds for family=NAME or article=NAME", text)
	}
	return field.Value{Text: sel.What + "=" + sel.ID}, err
}
