package changed

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// Consequences is what a change of the stock comes to beyond the changed
// records: what rests on them, and which findings come and go.
type Consequences struct {
	Cues  []string             `json:"cues"`           // cue:song/id, in the order they are played
	Loads []string             `json:"loads"`          // placed:id
	Keys  []string             `json:"keys,omitempty"` // handcue:id
	Songs int                  `json:"songs"`          // that hold the cues
	New   []report.FindingLine `json:"findings"`       // there were none of them before
	Gone  []report.FindingLine `json:"findings_gone"`
	Stay  int                  `json:"findings_same"`

	names map[string]string // what the crew calls them, by their text above
}

// newConsequences says what rests on the records named, before or after they
// changed.
func newConsequences(was, is *timeline.Plan, refs []timeline.Ref, diff *FindingsDiff) *Consequences {
	c := &Consequences{Cues: []string{}, Loads: []string{}, New: diff.New, Gone: diff.Gone, Stay: diff.Stay, names: map[string]string{}}
	songs := map[timeline.ID]bool{}
	for _, p := range []*timeline.Plan{was, is} {
		t := p.Touches(refs)
		for _, r := range t.Cues {
			songs[r.Song] = true
		}
		c.Cues, c.Loads, c.Keys = c.add(p, c.Cues, t.Cues), c.add(p, c.Loads, t.Loads), c.add(p, c.Keys, t.Keys)
	}
	c.Songs = len(songs)
	return c
}

// StockChanged gives the records of the stock that changes touch and that stand
// before and after: what is new, nothing rests on, and what anything rests on
// cannot be removed.
func StockChanged(cs timeline.Changes) []timeline.Ref {
	var refs []timeline.Ref
	for _, c := range cs {
		if c.Before != nil && c.After != nil && timeline.KindOf(c.Ref.Kind).Part == timeline.StockPart {
			refs = append(refs, c.Ref)
		}
	}
	return refs
}

func (c *Consequences) add(p *timeline.Plan, list []string, refs []timeline.Ref) []string {
	names := p.Show.Names()
	for _, r := range refs {
		c.names[r.String()] = names.NamedRef(r)
		if text := r.String(); !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return list
}

// write writes the consequences for people; nil is nothing.
func (c *Consequences) write(out io.Writer) {
	if c == nil {
		return
	}
	fmt.Fprintf(out, "used by %s in %s and %s\n", timeline.Counted(len(c.Cues), "cue"), timeline.Counted(c.Songs, "song"), timeline.Counted(len(c.Loads), "placed effect"))
	for _, line := range []struct {
		what string
		refs []string
	}{{"cues", c.Cues}, {"loads", c.Loads}, {"keys of the operator's plan", c.Keys}} {
		if len(line.refs) > 0 {
			names := make([]string, len(line.refs))
			for i, r := range line.refs {
				names[i] = c.names[r]
			}
			fmt.Fprintf(out, "  %s: %s\n", line.what, strings.Join(names, ", "))
		}
	}
	(&FindingsDiff{c.New, c.Gone, c.Stay}).write(out)
}
