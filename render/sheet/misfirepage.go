package sheet

import (
	"io"
	"strconv"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
)

// misfireLog makes pages of a MisfireLog.
type misfireLog struct{ *load.MisfireLog }

// Printed gives the misfire log as pages.
func (m misfireLog) Printed() *paper.Sheet {
	sh := titled(&m.Head, "Misfire log")
	var open, rest []load.MisfireLine
	for _, l := range m.Lines {
		if l.Earlier && l.Open {
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
	sh.Parts = append(sh.Parts, log, blankMisfirePart(), signPart([]report.Signer{{Role: "operator", For: "all misfires are written down"}, {Role: "authority (AHJ)", For: "told of them, where asked"}}))
	return sh
}

// WriteCSV writes the misfire log after RFC 4180, part by part as it is
// printed.
func (m misfireLog) WriteCSV(w io.Writer) error {
	return writeParts(w, "misfire log", m.Head, m.Printed().Parts)
}

// blankMisfires is how many rows a misfire log has to write in.
const blankMisfires = 6

// blankMisfirePart is a table to write in.
func blankMisfirePart() paper.Part {
	p := paper.Part{Heading: "To write down", Tall: true, Whole: true, Columns: columns(">no", "[output", "[placed effect, article", "[time", "[waited min", "[cleared by", "[how", "[signature")}
	for i := range blankMisfires {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{strconv.Itoa(i + 1), "", "", "", "", "", "", ""}})
	}
	return p
}

// misfirePart is a table of misfires, with boxes for what is written by hand.
func misfirePart(heading string, lines []load.MisfireLine) paper.Part {
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
