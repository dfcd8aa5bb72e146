package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

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

// PrintNames gives the titles of the sheets in a state.
func PrintNames(list []PrintState, state string) []string {
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
		if names := PrintNames(list, part[0]); len(names) > 0 {
			fmt.Fprintf(out, "  %s: %s\n", part[1], strings.Join(names, ", "))
		}
	}
	return out.Flush()
}
