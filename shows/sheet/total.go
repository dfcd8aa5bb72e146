package sheet

import (
	"cmp"
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

// add counts a line of a load plan.
func (t *Totals) add(line *LoadLine) {
	t.Commands += line.Commands
	t.Presses += line.Presses
	if line.Pieces == 0 {
		return
	}
	t.Pieces += line.Pieces
	switch {
	case line.spare:
		t.Spares += line.Pieces
	case line.Commands+line.Presses == 0:
		t.Unused += line.Pieces
	}
	i := slices.IndexFunc(t.Divisions, func(d DivisionTotal) bool { return d.Division == line.Division })
	if i < 0 {
		t.Divisions = append(t.Divisions, DivisionTotal{Division: line.Division})
		i = len(t.Divisions) - 1
	}
	t.Divisions[i].Pieces += line.Pieces
	t.Divisions[i].NEC = roundGrams(t.Divisions[i].NEC + line.NEC)
	t.NEC = roundGrams(t.NEC + line.NEC)
}

// done sorts the divisions.
func (t *Totals) done() {
	if t.Divisions == nil {
		t.Divisions = []DivisionTotal{}
	}
	slices.SortFunc(t.Divisions, func(a, b DivisionTotal) int { return strings.Compare(a.Division, b.Division) })
}

// onSite counts what a filter shows of a plan; everything on site where it
// shows all.
func (f Filter) onSite(p *timeline.Plan) *timeline.OnSite {
	if f.Song == "" && f.Bars == nil && f.Choice == nil {
		return p.OnSite()
	}
	return p.OnSiteFor(f.ShowsCommand)
}

// totalsOf counts what a filter shows of a plan.
func totalsOf(p *timeline.Plan, f Filter) Totals { return totalsOn(f.onSite(p)) }

func totalsOn(site *timeline.OnSite) Totals {
	t := Totals{Commands: site.Commands, Presses: site.Presses, Pieces: site.Pieces, Spares: site.Spares, Unused: site.Unused, NEC: site.NEC, Divisions: []DivisionTotal{}}
	for _, d := range site.Divisions {
		t.Divisions = append(t.Divisions, DivisionTotal{d.Division, d.Pieces, d.NEC})
	}
	return t
}

// roundGrams takes away what adding decimal fractions in binary leaves: a
// millionth of a gram is less than any label gives.
func roundGrams(x float64) float64 {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', 6, 64), 64) // a number that was just written
	return y
}

// grams writes a mass.
func grams(x float64) string { return strconv.FormatFloat(roundGrams(x), 'f', -1, 64) }

// division names a hazard division.
func division(d string) string { return cmp.Or(d, "no division given") }
