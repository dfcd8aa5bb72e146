package sheet

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// Totals is what a plan uses. Every sheet counts it the same way: a command is
// one unit doing one hit, and a command of an article that is used up, because
// it can be commanded only once or holds explosive, is one piece.
type Totals struct {
	Commands  int             `json:"commands"`
	Pieces    int             `json:"pieces"`
	NEC       float64         `json:"nec_grams"`
	Divisions []DivisionTotal `json:"divisions"` // of pieces
}

// DivisionTotal is the pieces of one hazard division.
type DivisionTotal struct {
	Division string  `json:"division"` // "" = not given
	Pieces   int     `json:"pieces"`
	NEC      float64 `json:"nec_grams"`
}

// add counts some commands of an article.
func (t *Totals) add(a *timeline.Article, commands int) {
	t.Commands += commands
	if !usedUp(a) || commands == 0 {
		return
	}
	t.Pieces += commands
	i := slices.IndexFunc(t.Divisions, func(d DivisionTotal) bool { return d.Division == a.Division })
	if i < 0 {
		t.Divisions = append(t.Divisions, DivisionTotal{Division: a.Division})
		i = len(t.Divisions) - 1
	}
	t.Divisions[i].Pieces += commands
	t.Divisions[i].NEC = roundGrams(t.Divisions[i].NEC + a.NEC*float64(commands))
	t.NEC = roundGrams(t.NEC + a.NEC*float64(commands))
}

// done sorts the divisions.
func (t *Totals) done() {
	if t.Divisions == nil {
		t.Divisions = []DivisionTotal{}
	}
	slices.SortFunc(t.Divisions, func(a, b DivisionTotal) int { return strings.Compare(a.Division, b.Division) })
}

func usedUp(a *timeline.Article) bool { return a.SingleUse || a.NEC > 0 }

// totalsOf counts what a filter shows of a plan.
func totalsOf(p *timeline.Plan, f Filter) Totals {
	var t Totals
	for i := range p.Songs {
		ps := &p.Songs[i]
		for j := range ps.Commands {
			if c := &ps.Commands[j]; f.ShowsCommand(ps, c) {
				t.add(c.Article, 1)
			}
		}
	}
	t.done()
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
