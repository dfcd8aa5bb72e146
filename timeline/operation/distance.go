package operation

import (
	"fmt"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// asksDistance describes an operation that enters a distance: of a night's
// officer, or of a venue's permit. On the command line its measure is one word,
// metres or a number of fallout radii; a form asks for both, of which the larger
// holds.
func asksDistance(o Operation, edit func(At, timeline.Distance) timeline.Edit) *Operation {
	type A = timeline.Distance
	clause := reason("Clause", "who asks for it, or where it is written", func(d *A) *string { return &d.Clause })
	o.Help = "what it demands to audience,\nperformers or persons; 2x is two fallout radii"
	o.Args = []Argument{
		{Field: field.Choice("to", "who is kept away", func(d *A) *timeline.DistanceTo { return &d.To }, []timeline.DistanceTo{timeline.ToAudience, timeline.ToPerformers, timeline.ToPersons}), Word: "WHOM", Label: "To"},
		{Field: measure(), Word: "METRES", NoForm: true},
		{Field: field.Number("at-least", "m", "the larger of both holds; 0 leaves one out", 0, 10000, func(d *A) *float64 { return &d.AtLeast }), Label: "At least", NoVerb: true},
		{Field: field.Number("fallout-times", "× fallout", "the larger of both holds; 0 leaves one out", 0, 100, func(d *A) *float64 { return &d.Fallout }), Label: "Or", NoVerb: true},
		{Field: effects(), Word: "family=NAME|article=NAME…", Optional: true, Label: "From", Hint: "every effect where none is chosen", Kinded: true, read: readEffects},
		clause,
	}
	return does(o,
		func(at At, d *A) (timeline.Edit, error) {
			if d.AtLeast == 0 && d.Fallout == 0 {
				return nil, fmt.Errorf("a distance of 0 m asks for nothing; give metres, a multiple of the fallout radius, or both. Label, permit and authority come first")
			}
			return edit(at, *d), nil
		},
		func(s *timeline.Show, d *A) string { return s.DistanceAsked(*d) })
}

// measure reads metres, or a number of fallout radii as 2x.
func measure() field.Field {
	type A = timeline.Distance
	return field.Of("metres", "metres such as 12, or 2x for two fallout radii", field.TextType,
		func(d *A) field.Value {
			if d.Fallout > 0 {
				return field.Value{Text: field.FormatNumber(d.Fallout) + "x"}
			}
			return field.Value{Text: field.FormatNumber(d.AtLeast)}
		},
		func(d *A, v field.Value) error {
			number, radii := strings.CutSuffix(v.Text, "x")
			x, err := strconv.ParseFloat(number, 64)
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
func effects() field.Field {
	type A = timeline.Distance
	f := field.Of("from", "families and articles it holds for", field.ListType,
		func(d *A) field.Value {
			var items []string
			for _, f := range d.Families {
				items = append(items, "family="+string(f))
			}
			for _, id := range d.Articles {
				items = append(items, "article="+string(id))
			}
			return field.Value{Items: items}
		},
		func(d *A, v field.Value) error {
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
