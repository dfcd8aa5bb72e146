package sheet

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Consequences is what a change of the stock comes to beyond the changed
// records: what rests on them, and which findings come and go.
type Consequences struct {
	Cues  []string      `json:"cues"`           // cue:song/id, in the order they are played
	Loads []string      `json:"loads"`          // placed:id
	Keys  []string      `json:"keys,omitempty"` // handcue:id
	Songs int           `json:"songs"`          // that hold the cues
	New   []FindingLine `json:"findings"`       // there were none of them before
	Gone  []FindingLine `json:"findings_gone"`
	Stay  int           `json:"findings_same"`
}

// NewConsequences compares the plans and findings before and after a change of
// the records named. The facts are those both findings were made with.
func NewConsequences(was, is *timeline.Plan, refs []timeline.Ref, before, after []rule.Finding, facts rule.Facts) *Consequences {
	c := &Consequences{Cues: []string{}, Loads: []string{}, New: []FindingLine{}, Gone: []FindingLine{}}
	songs := map[timeline.ID]bool{}
	for _, p := range []*timeline.Plan{was, is} {
		t := p.Touches(refs)
		for _, r := range t.Cues {
			songs[r.Song] = true
		}
		c.Cues, c.Loads, c.Keys = addRefs(c.Cues, t.Cues), addRefs(c.Loads, t.Loads), addRefs(c.Keys, t.Keys)
	}
	c.Songs = len(songs)
	old := NewFindings(was, facts, before, nil, Filter{}).List
	now := NewFindings(is, facts, after, nil, Filter{}).List
	c.New, c.Gone = unmatched(now, old), unmatched(old, now)
	c.Stay = len(now) - len(c.New)
	return c
}

func addRefs(list []string, refs []timeline.Ref) []string {
	for _, r := range refs {
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
	fmt.Fprintf(out, "used by %s in %s and %s\n", plural(len(c.Cues), "cue"), plural(c.Songs, "song"), plural(len(c.Loads), "placed effect"))
	for _, line := range []struct {
		what string
		refs []string
	}{{"cues", c.Cues}, {"loads", c.Loads}, {"keys of the operator's plan", c.Keys}} {
		if len(line.refs) > 0 {
			fmt.Fprintf(out, "  %s: %s\n", line.what, strings.Join(line.refs, " "))
		}
	}
	(&FindingsDiff{c.New, c.Gone, c.Stay}).write(out)
}
