package load

import (
	"io"
	"slices"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// MisfireLog is every misfire of a night and of those before it, with who
// cleared it; open ones of earlier nights come first. It has rows to write in.
type MisfireLog struct {
	report.Head
	Lines []MisfireLine `json:"misfires"`
}

// MisfireLine is one misfire.
type MisfireLine struct {
	Night       string `json:"night"` // its date, or its name
	Output      string `json:"output"`
	Placed      string `json:"placed"`
	PlacedName  string `json:"placed_name"`
	Position    string `json:"position"`
	Article     string `json:"article"`
	ArticleName string `json:"article_name"`
	Pieces      int    `json:"pieces"`
	Open        bool   `json:"open"`
	ClearedBy   string `json:"cleared_by"`
	ClearedNote string `json:"cleared_note"`

	Earlier bool `json:"-"`
}

// NewMisfireLog gives the misfire log of a night; for the tour itself, of all
// its nights.
func NewMisfireLog(p *timeline.Plan) *MisfireLog {
	return &MisfireLog{Head: report.HeadOf(p), Lines: misfires(p)}
}

// misfires lists a night's misfires and those of nights before: open ones of
// earlier nights first, then its own, then what earlier nights have cleared.
func misfires(p *timeline.Plan) []MisfireLine {
	list := []MisfireLine{}
	nights := p.Show.NightsBefore(p.Night)
	if p.Night != nil {
		nights = append(nights, p.Night)
	}
	for _, n := range nights {
		for _, o := range n.EachOutcome() {
			if o.State != timeline.Misfired {
				continue
			}
			placed, article, position := report.LoadNames(p.Show, o)
			list = append(list, MisfireLine{NightDay(n), report.OutputName(p.Show, o), string(o.Placed), placed, position, string(o.Article), article, o.Pieces, o.Open(), o.ClearedBy, o.ClearedNote, n != p.Night})
		}
	}
	rank := func(m MisfireLine) int {
		switch {
		case m.Earlier && m.Open:
			return 0
		case !m.Earlier:
			return 1
		}
		return 2
	}
	slices.SortStableFunc(list, func(a, b MisfireLine) int { return rank(a) - rank(b) })
	return list
}

// wording.WriteJSON writes the misfire log as one JSON object.
func (m *MisfireLog) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, m) }
