package night

import (
	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/timeline"
)

// Bank is a bank or device with the pieces that have to be loaded at it.
type Bank struct {
	Name  string        `json:"name"`
	ID    string        `json:"id,omitempty"`
	Dead  bool          `json:"dead,omitempty"`
	Units []Unit        `json:"units"`
	Used  report.Totals `json:"totals"`
}

// Unit is one piece, or several of one article, at one output.
type Unit struct {
	Bank        string   `json:"bank"`
	Output      int      `json:"output"` // 0 = not wired
	Placed      string   `json:"placed"`
	PlacedName  string   `json:"placed_name"`
	Position    string   `json:"position"`
	Article     string   `json:"article"`
	ArticleName string   `json:"article_name"`
	Pieces      int      `json:"pieces"`
	NEC         float64  `json:"nec_grams"`
	Division    string   `json:"division"`
	State       []string `json:"state"`
}

// load takes what is used up from the load plan, so that both count alike.
func (t *Tonight) load(p *timeline.Plan, plan *load.Plan) {
	t.Load, t.Unused = []Bank{}, []Unit{}
	for i := range plan.Groups {
		g := &plan.Groups[i]
		bank := Bank{Name: g.Name, ID: g.ID, Dead: g.Dead}
		for k := range g.Lines {
			line := &g.Lines[k]
			a := p.Show.Stock.Article(timeline.ID(line.Article))
			if a == nil || !a.UsedUp() {
				continue
			}
			unit := tonightUnit(g, line)
			if line.FirstAt == "" && line.Presses == 0 {
				t.Unused = append(t.Unused, unit)
				continue
			}
			bank.Units = append(bank.Units, unit)
			load.AddLine(&bank.Used, line)
		}
		if bank.Used.Done(); len(bank.Units) > 0 {
			t.Load = append(t.Load, bank)
		}
	}
}

func tonightUnit(g *load.Group, line *load.Line) Unit {
	return Unit{Bank: g.Name, Output: line.Output, Placed: line.Placed, PlacedName: line.PlacedName, Position: line.Position, Article: line.Article,
		ArticleName: line.ArticleName, Pieces: line.Pieces, NEC: line.NEC, Division: line.Division, State: line.State}
}
