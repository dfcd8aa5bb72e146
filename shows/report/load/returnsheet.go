package load

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// ReturnSheet is what goes back after a show: unfired loads, spares, cylinders
// with their weights, empties. Where nothing has been entered yet, it is a form.
type ReturnSheet struct {
	report.Head
	Used     report.Totals   `json:"totals"` // on site before the show
	Articles []ReturnArticle `json:"articles"`
	Loads    []ReturnLoad    `json:"loads"`
	Supplies []ReturnSupply  `json:"supplies"`
	Open     []MisfireLine   `json:"open_misfires"` // of this night and those before; nothing of them goes back
}

// ReturnArticle adds up an article's pieces. On site is what became of them:
// fired + misfired + still loaded + taken out + not entered.
type ReturnArticle struct {
	Article    string  `json:"article"` // id
	Name       string  `json:"name"`
	Division   string  `json:"division"`
	OnSite     int     `json:"on_site"`
	Fired      int     `json:"fired"`
	Misfired   int     `json:"misfired"`
	Loaded     int     `json:"still_loaded"`
	TakenOut   int     `json:"taken_out"`
	NotEntered int     `json:"not_entered"`
	Back       int     `json:"back"` // taken out, and what is not entered as anything else
	NEC        float64 `json:"nec_grams"`
	Stock      *int    `json:"on_hand_after"` // null = the stock is not counted
}

// ReturnLoad is one load at one placed effect.
type ReturnLoad struct {
	Outputs     string `json:"outputs"`
	Placed      string `json:"placed"`
	PlacedName  string `json:"placed_name"`
	Position    string `json:"position"`
	Article     string `json:"article"`
	ArticleName string `json:"article_name"`
	Pieces      int    `json:"pieces"`
	Spare       bool   `json:"spare"`
	State       string `json:"state"` // "fired", "unfired", "misfired", "taken-out"; "" = not entered
	Cleared     string `json:"cleared_by,omitempty"`
}

// ReturnSupply is one supply. Masses are kg, and estimates but for those that
// were weighed.
type ReturnSupply struct {
	Supply  string   `json:"supply"` // id
	Name    string   `json:"name"`
	Medium  string   `json:"medium"`
	Joined  int      `json:"joined"`  // units that come back used
	Empties int      `json:"empties"` // units that refills took out
	Full    int      `json:"full"`    // spare units that nothing took
	Left    float64  `json:"left_kg"` // in the joined ones, with what cannot be drawn
	Weighed *float64 `json:"weighed_kg"`
}

// NewReturnSheet gives the return sheet of a plan; for the tour itself nothing
// is entered.
func NewReturnSheet(p *timeline.Plan) *ReturnSheet {
	site := p.OnSite()
	r := &ReturnSheet{Head: report.HeadOf(p), Used: report.TotalsOn(site), Articles: []ReturnArticle{}, Loads: []ReturnLoad{}, Supplies: []ReturnSupply{}, Open: []MisfireLine{}}
	became := map[[2]timeline.ID]timeline.Outcome{}
	for _, o := range nightOutcomes(p) {
		became[[2]timeline.ID{o.Placed, o.Article}] = o
	}
	for i := range site.Loads {
		l := &site.Loads[i]
		if l.Pieces == 0 {
			continue
		}
		key := [2]timeline.ID{l.Unit.Placed.ID, l.Article.ID}
		r.load(p, l, became[key])
		delete(became, key)
	}
	r.others(p, became)
	for i := range r.Articles {
		r.Articles[i].done(p)
	}
	slices.SortFunc(r.Articles, func(a, b ReturnArticle) int { return strings.Compare(a.Article, b.Article) })
	slices.SortStableFunc(r.Loads, func(a, b ReturnLoad) int {
		return cmp.Or(report.ByName(a.Outputs, b.Outputs), report.ByName(a.PlacedName, b.PlacedName), strings.Compare(a.Article, b.Article))
	})
	r.supplies(p)
	for _, m := range misfires(p) {
		if m.Open {
			r.Open = append(r.Open, m)
		}
	}
	return r
}

func nightOutcomes(p *timeline.Plan) []timeline.Outcome {
	if p.Night == nil {
		return nil
	}
	return p.Night.EachOutcome()
}

// load adds a load that is on site, with what was entered about it.
func (r *ReturnSheet) load(p *timeline.Plan, l *timeline.Load, o timeline.Outcome) {
	line := ReturnLoad{Outputs: l.Unit.OutputsText(), Placed: string(l.Unit.Placed.ID), PlacedName: l.Unit.Name, Article: string(l.Article.ID), ArticleName: p.Called(l.Article),
		Pieces: l.Pieces, Spare: l.Unit.Placed.Spare, State: string(o.State), Cleared: o.ClearedBy}
	if pos := l.Unit.Position; pos != nil {
		line.Position = p.Called(pos)
	}
	r.Loads = append(r.Loads, line)
	a := r.article(p.Show, l.Article.ID)
	a.OnSite += l.Pieces
	a.NEC = wording.RoundGrams(a.NEC + l.NEC())
	a.count(o.State, l.Pieces)
}

// others adds what was entered about loads that the plan has no longer: it was
// on site all the same.
func (r *ReturnSheet) others(p *timeline.Plan, became map[[2]timeline.ID]timeline.Outcome) {
	for _, o := range nightOutcomes(p) {
		if _, left := became[[2]timeline.ID{o.Placed, o.Article}]; !left {
			continue
		}
		if a := p.Show.Stock.Article(o.Article); a != nil && !a.UsedUp() {
			continue
		}
		placed, article, position := report.LoadNames(p.Show, o)
		r.Loads = append(r.Loads, ReturnLoad{Outputs: report.OutputName(p.Show, o), Placed: string(o.Placed), PlacedName: placed, Position: position, Article: string(o.Article), ArticleName: article,
			Pieces: o.Pieces, State: string(o.State), Cleared: o.ClearedBy})
		a := r.article(p.Show, o.Article)
		a.OnSite += o.Pieces
		a.count(o.State, o.Pieces)
	}
}

func (r *ReturnSheet) article(s *timeline.Show, id timeline.ID) *ReturnArticle {
	i := slices.IndexFunc(r.Articles, func(a ReturnArticle) bool { return a.Article == string(id) })
	if i < 0 {
		line := ReturnArticle{Article: string(id), Name: s.CalledBy(id, "article")}
		if a := s.Stock.Article(id); a != nil {
			line.Division = a.Division
		}
		i = len(r.Articles)
		r.Articles = append(r.Articles, line)
	}
	return &r.Articles[i]
}

func (a *ReturnArticle) count(state timeline.OutcomeState, pieces int) {
	switch state {
	case timeline.Fired:
		a.Fired += pieces
	case timeline.Misfired:
		a.Misfired += pieces
	case timeline.Unfired:
		a.Loaded += pieces
	case timeline.TakenOut:
		a.TakenOut += pieces
	default:
		a.NotEntered += pieces
	}
}

// done says what goes back, and what is on hand after the night where it is
// counted.
func (a *ReturnArticle) done(p *timeline.Plan) {
	a.Back = a.TakenOut + a.NotEntered
	if p.Night == nil {
		return
	}
	for _, l := range p.Show.StockOver(p.Night) {
		if string(l.Article.ID) == a.Article && l.Given {
			a.Stock = &l.After
		}
	}
}

func (r *ReturnSheet) supplies(p *timeline.Plan) {
	for _, sp := range p.Supplies() {
		s := sp.Supply
		line := ReturnSupply{Supply: string(s.ID), Name: p.Called(s), Medium: s.Medium, Joined: s.Units}
		stage, left := sp.Run().End()
		holds, _ := p.FillOf(s)
		if stage.Refill != nil {
			holds = stage.Refill.Holds()
		}
		line.Left = wording.RoundGrams(max(0, holds-float64(stage.Usable-left)/1e6))
		taken := 0
		for i := range p.Refills {
			if p.Refills[i].Counts && p.Refills[i].Of == s {
				taken += s.Units
			}
		}
		line.Empties, line.Full = taken, max(0, s.Spare-taken)
		if p.Night != nil {
			for _, w := range p.Night.Weights {
				if w.Supply == s.ID {
					line.Weighed = &w.Kg
				}
			}
		}
		r.Supplies = append(r.Supplies, line)
	}
}

// wording.WriteJSON writes the return sheet as one JSON object.
func (r *ReturnSheet) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, r) }

// StateText says what became of a load, for a person.
func (l *ReturnLoad) StateText() string {
	switch timeline.OutcomeState(l.State) {
	case timeline.Unfired:
		return "stays loaded"
	case timeline.TakenOut:
		return "taken out"
	case timeline.Misfired:
		if l.Cleared != "" {
			return "misfired, cleared by " + l.Cleared
		}
		return "MISFIRE, OPEN"
	case "":
		return ""
	}
	return l.State
}

// SpareText marks a spare.
func (l *ReturnLoad) SpareText() string {
	if l.Spare {
		return fmt.Sprintf("%s (spare)", l.PlacedName)
	}
	return l.PlacedName
}
