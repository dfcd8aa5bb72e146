package sheet

import (
	"io"
	"slices"
	"strconv"

	"emberbeat/render/paper"
	"emberbeat/timeline"
)

// MisfireLog is every misfire of a night and of those before it, with who
// cleared it; open ones of earlier nights come first. It has rows to write in.
type MisfireLog struct {
	Head
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

	earlier bool
}

// blankMisfires is how many rows a misfire log has to write in.
const blankMisfires = 6

// NewMisfireLog gives the misfire log of a night; for the tour itself, of all
// its nights.
func NewMisfireLog(p *timeline.Plan) *MisfireLog {
	return &MisfireLog{Head: HeadOf(p), Lines: misfires(p)}
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
			placed, article, position := loadNames(p.Show, o)
			list = append(list, MisfireLine{nightDay(n), outputName(p.Show, o), string(o.Placed), placed, position, string(o.Article), article, o.Pieces, o.Open(), o.ClearedBy, o.ClearedNote, n != p.Night})
		}
	}
	rank := func(m MisfireLine) int {
		switch {
		case m.earlier && m.Open:
			return 0
		case !m.earlier:
			return 1
		}
		return 2
	}
	slices.SortStableFunc(list, func(a, b MisfireLine) int { return rank(a) - rank(b) })
	return list
}

// Sheet gives the misfire log as pages.
func (m *MisfireLog) Sheet() *paper.Sheet {
	sh := m.Head.sheet("Misfire log")
	var open, rest []MisfireLine
	for _, l := range m.Lines {
		if l.earlier && l.Open {
			open = append(open, l)
		} else {
			rest = append(rest, l)
		}
	}
	if len(open) > 0 {
		sh.Parts = append(sh.Parts, misfirePart("Open, of earlier nights", open))
	}
	log := misfirePart("Misfires", rest)
	log.Notes = []string{"A misfire is held: nobody goes near, the output is disarmed, and the waiting time of label, permit and authority runs from the command; it is written down here, for no table gives it. " +
		"Only the person named clears it. It stays open on every later night until that is entered."}
	if len(rest) == 0 {
		log.Columns = nil
		log.Notes = append(log.Notes, "None has been entered.")
	}
	sh.Parts = append(sh.Parts, log, blankMisfirePart(), signPart([]TonightSigner{{Role: "operator", For: "all misfires are written down"}, {Role: "authority (AHJ)", For: "told of them, where asked"}}))
	return sh
}

// blankMisfirePart is a table to write in.
func blankMisfirePart() paper.Part {
	p := paper.Part{Heading: "To write down", Tall: true, Whole: true, Columns: columns(">no", "[output", "[placed effect, article", "[time", "[waited min", "[cleared by", "[how", "[signature")}
	for i := range blankMisfires {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{strconv.Itoa(i + 1), "", "", "", "", "", "", ""}})
	}
	return p
}

// misfirePart is a table of misfires, with boxes for what is written by hand.
func misfirePart(heading string, lines []MisfireLine) paper.Part {
	p := paper.Part{Heading: heading, Tall: true, Columns: columns("night", "output", "placed effect", "position", "article", "[time", "[waited min", "cleared by", "how", "[cleared at", "[signature")}
	for _, l := range lines {
		by := l.ClearedBy
		if l.Open {
			by = "OPEN"
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{l.Night, l.Output, l.PlacedName, l.Position, l.ArticleName, "", "", by, l.ClearedNote, "", ""}})
	}
	return p
}

// WriteCSV writes the misfire log after RFC 4180, part by part as it is
// printed.
func (m *MisfireLog) WriteCSV(w io.Writer) error {
	return writeParts(w, "misfire log", m.Head, m.Sheet().Parts)
}

// WriteJSON writes the misfire log as one JSON object.
func (m *MisfireLog) WriteJSON(w io.Writer) error { return WriteJSON(w, m) }
