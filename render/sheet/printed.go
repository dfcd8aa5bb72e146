package sheet

import (
	"emberbeat/render"
	"emberbeat/shows/report"
	"emberbeat/shows/report/changed"
	"emberbeat/timeline"
)

// PrintedMark gives the mark of a sheet that is printed of a plan.
func PrintedMark(p *timeline.Plan, name string, made Sheet) timeline.PrintMark {
	return timeline.PrintMark{Sheet: name, Revision: p.Revision(), Hours: p.Hours(), Digest: made.Printed().Digest(render.NewFaces(), "revision", report.CheckedLabel, report.PlayedLabel)}
}

// PrintStates compares the sheets of a plan with the marks of what was printed.
// With all, those that were never printed are listed as well; making every sheet
// of a large show takes its time.
func PrintStates(p *timeline.Plan, all bool) []report.PrintState {
	p = p.ToldItsOwn() // as it is printed
	list := []report.PrintState{}
	marks := map[string]timeline.PrintMark{}
	for _, m := range p.Printed() {
		marks[m.Sheet] = m
	}
	for i, o := range Forms() {
		mark, printed := marks[o.Name]
		delete(marks, o.Name)
		switch {
		case printed:
			list = append(list, o.state(p, mark))
		case all && i < len(kinds) && (!o.Night || p.Night != nil):
			list = append(list, report.PrintState{Sheet: o.Name, Title: o.Title, State: report.NeverPrinted})
		}
	}
	for _, m := range p.Printed() { // of sheets that this program does not have
		if _, left := marks[m.Sheet]; left {
			list = append(list, report.PrintState{Sheet: m.Sheet, Title: m.Sheet, State: report.NotMade, Revision: m.Revision, Why: "there is no such sheet"})
		}
	}
	return list
}

func (o Kind) state(p *timeline.Plan, mark timeline.PrintMark) report.PrintState {
	s := report.PrintState{Sheet: o.Name, Title: o.Title, State: report.AsPrinted, Revision: mark.Revision}
	made, err := o.Make(p, report.Filter{})
	switch {
	case err != nil:
		s.State, s.Why = report.NotMade, err.Error()
	case PrintedMark(p, o.Name, made).Digest != mark.Digest:
		s.State = report.Changed
	}
	return s
}

// Otherwise names the sheets that look otherwise when they are made from another
// plan, and those that look alike. A sheet that can be made from one of the two
// alone looks otherwise.
func Otherwise(was, is *timeline.Plan) changed.Sheets {
	was, is = was.ToldItsOwn(), is.ToldItsOwn()
	s := changed.Sheets{Changed: []string{}, Same: []string{}}
	digest := func(o Kind, p *timeline.Plan) string {
		if o.Night && p.Night == nil {
			return ""
		}
		made, err := o.Make(p, report.Filter{})
		if err != nil {
			return ""
		}
		return PrintedMark(p, o.Name, made).Digest
	}
	for _, o := range kinds {
		switch a, b := digest(o, was), digest(o, is); {
		case a != b:
			s.Changed = append(s.Changed, o.Title)
		case a != "":
			s.Same = append(s.Same, o.Title)
		}
	}
	return s
}
