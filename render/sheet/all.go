package sheet

import (
	"fmt"
	"io"
	"slices"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/summary"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Made is a sheet of a plan with what it is.
type Made struct {
	Kind
	Sheet Sheet
}

// FrontName is the name of the page in front of all sheets, in file names; it stands
// before all others in a folder.
const FrontName = "0-summary"

// All makes every sheet that can be made of a plan, those about one night where it is
// a night's, and the page that stands in front of them, whose Kind has no more than a
// name and a title. Pages are counted for a paper; in one file (WriteAll) they are
// counted through.
func All(p *timeline.Plan, f report.Filter, size paper.Size, one bool) (front Made, all []Made, err error) {
	if f.Standing == nil {
		f.Standing = report.StandingOf(p, rule.Facts{}, rule.Check(p, rule.Facts{}))
	}
	printed := []*paper.Sheet{}
	for _, o := range kinds {
		if o.Night && p.Night == nil {
			continue
		}
		made, err := o.Make(p, f)
		if err != nil {
			return front, nil, fmt.Errorf("%s: %w", o.Name, err)
		}
		all, printed = append(all, Made{o, made}), append(printed, made.Printed())
	}
	faces := render.NewFaces()
	bound := paper.Bind(faces, size, printed...)
	var list []summary.Sheet
	for i, b := range bound.Sheets {
		s := summary.Sheet{Name: all[i].Name, Title: all[i].Title, For: all[i].For, Pages: b.Pages, Sign: signersOn(b.Sheet)}
		if one {
			s.First = b.First + 1 // the page in front is one
		}
		list = append(list, s)
	}
	r, err := summary.New(p, f.Standing, list)
	if err != nil {
		return front, nil, err
	}
	r.Pages, r.One, r.Paper = r.Pages+1, one, size.Name
	return Made{Kind{Name: FrontName, Title: "Summary"}, onOnePage(r, faces)}, all, nil
}

// WriteAll writes the page in front and all sheets as one PDF, with an outline.
func WriteAll(w io.Writer, front Made, all []Made, size paper.Size) error {
	list := []*paper.Sheet{front.Sheet.Printed()}
	for _, m := range all {
		list = append(list, m.Sheet.Printed())
	}
	return paper.Bind(render.NewFaces(), size, list...).WritePDF(w, &render.Day, list[0].Title+" and all sheets")
}

// signersOn lists who signs a sheet: the roles in its tables to sign, in their order.
func signersOn(sh *paper.Sheet) []string {
	list := []string{}
	for i := range sh.Parts {
		p := &sh.Parts[i]
		switch {
		case !p.Tall || !p.With:
		case len(p.Columns) > 0 && p.Columns[0].Name == seenBy:
			for _, c := range p.Columns[1:] {
				list = wording.AddOnce(list, c.Name)
			}
		case slices.ContainsFunc(p.Columns, func(c paper.Column) bool { return c.Name == "signature" }):
			for _, r := range p.Rows {
				list = wording.AddOnce(list, r.Cells[0])
			}
		}
	}
	return list
}
