package main

import (
	"fmt"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// dropItem gives the edit that takes an item out of a list of a record: the only
// one, or that of the number in args.
func dropItem(ref timeline.Ref, field string, rec timeline.Record, args []string) (timeline.Edit, error) {
	items := timeline.KindOf(ref.Kind).Field(field).Get(rec).Items
	if len(args) == 0 && len(items) == 1 {
		return timeline.DropItem(ref, field, 1), nil
	}
	var numbered []string
	for i, item := range items {
		numbered = append(numbered, fmt.Sprintf("%d: %s", i+1, item))
	}
	list := strings.Join(numbered, "; ")
	switch {
	case len(items) == 0:
		return nil, fmt.Errorf("%s %s: there is nothing to take back", ref.Kind, field)
	case len(args) == 0:
		return nil, fmt.Errorf("%s %s: say which by its number: %s", ref.Kind, field, list)
	}
	n, err := strconv.Atoi(args[0])
	if err != nil || n < 1 || n > len(items) {
		return nil, fmt.Errorf("%s %s: %q is none of the numbers: %s", ref.Kind, field, args[0], list)
	}
	return timeline.DropItem(ref, field, n), nil
}

// distanceOf reads a distance as verbs take it: whom, then metres, or a number
// of fallout radii as 2x; then the families and articles it holds for.
func distanceOf(p *timeline.Plan, args []string, clause string) (timeline.Distance, error) {
	d := timeline.Distance{To: timeline.DistanceTo(args[0]), Clause: clause}
	number, radii := strings.CutSuffix(args[1], "x")
	x, err := strconv.ParseFloat(number, 64)
	switch {
	case err != nil || !(x > 0):
		return d, fmt.Errorf("distance: %q is no distance; write metres such as 12, or 2x for two fallout radii", args[1])
	case radii:
		d.Fallout = x
	default:
		d.AtLeast = x
	}
	for _, text := range args[2:] {
		sel, err := p.FindSelector(text)
		switch {
		case err != nil:
			return d, err
		case sel.What == "family":
			d.Families = append(d.Families, timeline.Family(sel.ID))
		case sel.What == "article":
			d.Articles = append(d.Articles, timeline.ID(sel.ID))
		default:
			return d, fmt.Errorf("distance: %q: a distance holds for family=NAME or article=NAME", text)
		}
	}
	return d, nil
}
