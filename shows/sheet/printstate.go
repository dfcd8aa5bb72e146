package sheet

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"emberbeat/render"
	"emberbeat/timeline"
)

// The states of a printed sheet.
const (
	AsPrinted    = "as printed"
	Changed      = "changed"
	NeverPrinted = "never printed"
	NotMade      = "cannot be made" // it was printed, and cannot be made any more
)

// PrintState is how a sheet stands to what was last printed of it. The revision
// alone does not count: a sheet that would look the same but for its letter need
// not be printed again.
type PrintState struct {
	Sheet    string `json:"sheet"`
	Title    string `json:"title"`
	State    string `json:"state"`
	Revision string `json:"printed_revision,omitempty"` // that was printed on it
	Why      string `json:"why,omitempty"`              // it cannot be made
}

// PrintedMark gives the mark of a sheet that is printed of a plan.
func PrintedMark(p *timeline.Plan, name string, made Printed) timeline.PrintMark {
	return timeline.PrintMark{Sheet: name, Revision: p.Revision(), Digest: made.Sheet().Digest(render.NewFaces(), "revision")}
}

// PrintStates compares the sheets of a plan with the marks of what was printed.
// With all, those that were never printed are listed as well; making every sheet
// of a large show takes its time.
func PrintStates(p *timeline.Plan, all bool) []PrintState {
	list := []PrintState{}
	marks := map[string]timeline.PrintMark{}
	for _, m := range p.Printed() {
		marks[m.Sheet] = m
	}
	for _, o := range offers {
		mark, printed := marks[o.Name]
		delete(marks, o.Name)
		switch {
		case printed:
			list = append(list, o.state(p, mark))
		case all && (!o.Night || p.Night != nil):
			list = append(list, PrintState{Sheet: o.Name, Title: o.Title, State: NeverPrinted})
		}
	}
	for _, m := range p.Printed() { // of sheets that this program does not have
		if _, left := marks[m.Sheet]; left {
			list = append(list, PrintState{Sheet: m.Sheet, Title: m.Sheet, State: NotMade, Revision: m.Revision, Why: "there is no such sheet"})
		}
	}
	return list
}

func (o Offer) state(p *timeline.Plan, mark timeline.PrintMark) PrintState {
	s := PrintState{Sheet: o.Name, Title: o.Title, State: AsPrinted, Revision: mark.Revision}
	made, err := o.Make(p, Filter{})
	switch {
	case err != nil:
		s.State, s.Why = NotMade, err.Error()
	case PrintedMark(p, o.Name, made).Digest != mark.Digest:
		s.State = Changed
	}
	return s
}

// SameRevision says what is wrong with printing sheets again under a revision
// under which they looked otherwise; "" where nothing is.
func SameRevision(p *timeline.Plan, marks []timeline.PrintMark) string {
	var names []string
	for _, m := range marks {
		for _, old := range p.Printed() {
			if old.Sheet == m.Sheet && old.Revision == m.Revision && old.Digest != m.Digest {
				names = append(names, m.Sheet)
			}
		}
	}
	if len(names) == 0 {
		return ""
	}
	was := "without a revision"
	if r := p.Revision(); r != "" {
		was = "as revision " + r
	}
	return fmt.Sprintf("%s printed %s looked otherwise: the next revision is %s", strings.Join(names, ", "), was, timeline.NextRevision(p.Revision()))
}

// printNames gives the titles of the sheets in a state.
func printNames(list []PrintState, state string) []string {
	var names []string
	for _, s := range list {
		if s.State == state {
			text := s.Title
			if s.Revision != "" {
				text += " (revision " + s.Revision + ")"
			}
			names = append(names, text)
		}
	}
	return names
}

// WritePrintStates writes them for people, what to print again first.
func WritePrintStates(w io.Writer, list []PrintState) error {
	out := bufio.NewWriter(w)
	for _, part := range [][2]string{{Changed, "print again"}, {AsPrinted, "as printed, no need to print again"}, {NotMade, "printed, and cannot be made any more"}, {NeverPrinted, "never printed"}} {
		if names := printNames(list, part[0]); len(names) > 0 {
			fmt.Fprintf(out, "  %s: %s\n", part[1], strings.Join(names, ", "))
		}
	}
	return out.Flush()
}
