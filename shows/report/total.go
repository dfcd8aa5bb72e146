package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// Totals is what is on site for a plan, and how often it is commanded. Every
// sheet takes it from the one count, timeline.OnSite: a command is one unit
// doing one hit, a piece is one article that is used up at one placed effect,
// whether it is commanded once, in two alternatives, or not at all. Of a part of
// a plan, only what it commands is counted.
type Totals struct {
	Commands  int             `json:"commands"`
	Presses   int             `json:"presses,omitempty"` // of keys of the operator's plan, at most, unit by unit
	Pieces    int             `json:"pieces"`
	Spares    int             `json:"spare_pieces"`  // of pieces
	Unused    int             `json:"unused_pieces"` // of pieces: no cue commands them, and they are no spares
	NEC       float64         `json:"nec_grams"`
	Divisions []DivisionTotal `json:"divisions"` // of pieces
}

// DivisionTotal is the pieces of one hazard division.
type DivisionTotal struct {
	Division string  `json:"division"` // "" = not given
	Pieces   int     `json:"pieces"`
	NEC      float64 `json:"nec_grams"`
}

// Done sorts the divisions.
func (t *Totals) Done() {
	if t.Divisions == nil {
		t.Divisions = []DivisionTotal{}
	}
	slices.SortFunc(t.Divisions, func(a, b DivisionTotal) int { return strings.Compare(a.Division, b.Division) })
}

// OnSite counts what a filter shows of a plan; everything on site where it
// shows all.
func (f Filter) OnSite(p *timeline.Plan) *timeline.OnSite {
	if f.Song == "" && f.Bars == nil && f.Choice == nil {
		return p.OnSite()
	}
	return p.OnSiteFor(f.ShowsCommand)
}

// totalsOf counts what a filter shows of a plan.
func totalsOf(p *timeline.Plan, f Filter) Totals { return TotalsOn(f.OnSite(p)) }

// TotalsOn gives what is on site as a report says it.
func TotalsOn(site *timeline.OnSite) Totals {
	t := Totals{Commands: site.Commands, Presses: site.Presses, Pieces: site.Pieces, Spares: site.Spares, Unused: site.Unused, NEC: site.NEC, Divisions: []DivisionTotal{}}
	for _, d := range site.Divisions {
		t.Divisions = append(t.Divisions, DivisionTotal{d.Division, d.Pieces, d.NEC})
	}
	return t
}

// Beside says which pieces on site no cue commands.
func (t *Totals) Beside() string {
	var parts []string
	by := ""
	if t.Presses > 0 {
		by = fmt.Sprintf("; up to %d more by hand, by the keys of the operator's plan, unit by unit", t.Presses)
	}
	if t.Spares > 0 {
		parts = append(parts, timeline.Counted(t.Spares, "spare"))
	}
	if t.Unused > 0 {
		parts = append(parts, strconv.Itoa(t.Unused)+" that no cue commands")
	}
	if len(parts) == 0 {
		return by
	}
	return by + "; among the pieces " + strings.Join(parts, " and ")
}
