package sheet

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// operatorsPlan makes pages of a OperatorsPlan.
type operatorsPlan struct{ *report.OperatorsPlan }

// Printed gives the operator's plan as pages: a row for each key, large enough for
// the dark, and the hand cues that are not meant tonight.
func (o operatorsPlan) Printed() *paper.Sheet {
	sh := titled(&o.Head, "Operator's plan")
	sh.Stamp = o.Paper
	p := paper.Part{Heading: "Keys", Large: true, Notes: []string{"Called, never timed: a key has no place in timecode. What is missed is not done late. Before each: eyes on the zone, and the caller's word."},
		Columns: columns(">key", "name", "when", "called by", "what it does", "before it is called", "[notes")}
	for i := range o.Keys {
		p.Rows = append(p.Rows, paper.Row{Cells: operatorKeyCells(o.Told, &o.Keys[i])})
	}
	if len(p.Rows) == 0 {
		p = paper.Part{Heading: "Keys", Notes: []string{"There are no hand cues tonight."}}
	}
	sh.Parts = append(sh.Parts, p)
	if len(o.Off) > 0 {
		off := paper.Part{Heading: "Not tonight", Columns: columns(">key", "name", "why")}
		for _, x := range o.Off {
			off.Rows = append(off.Rows, paper.Row{Cells: []string{keyNumber(x.Key), x.Name, x.Why}})
		}
		sh.Parts = append(sh.Parts, off)
	}
	return sh
}

func keyNumber(n int) string {
	if n == 0 {
		return "none"
	}
	return strconv.Itoa(n)
}

func operatorKeyCells(told units.System, k *report.OperatorKey) []string {
	var when, does []string
	if k.SongNumber > 0 {
		when = append(when, fmt.Sprintf("song %d %s", k.SongNumber, k.SongTitle))
	} else {
		when = append(when, "any time of the show")
	}
	for _, s := range []string{k.Section, k.When} {
		if s != "" {
			when = append(when, s)
		}
	}
	for i := range k.Does {
		does = append(does, operatorUseText(told, &k.Does[i]))
	}
	for _, m := range k.Missing {
		does = append(does, "MISSING: "+m)
	}
	if k.Note != "" {
		does = append(does, "note: "+k.Note)
	}
	return []string{keyNumber(k.Key), k.Name, strings.Join(when, "; "), wording.Given(k.Caller), strings.Join(does, "; "), strings.Join(k.Before, "; "), ""}
}

func operatorUseText(told units.System, d *report.OperatorUse) string {
	text := d.Article
	if d.Swapped {
		text += " (swapped)"
	}
	text += ": " + wording.JoinNames(d.Effects)
	if len(d.Positions) > 0 {
		text += " at " + strings.Join(d.Positions, ", ")
	}
	text += ", " + wording.JoinNames(d.Outputs) + ", open " + wording.Short(d.Open) + " s"
	if d.Pieces > 0 {
		text += fmt.Sprintf(", %s, NEC %s g", timeline.Counted(d.Pieces, "piece"), wording.Grams(d.NEC))
	}
	if d.Uses > 0 {
		text += fmt.Sprintf(", about %s of %s a press", wording.Mass(told, d.Uses), wording.Given(d.Medium))
	}
	return text
}

// WriteCSV writes the operator's plan after RFC 4180: head, that it is paper
// alone, a line of column names, a line for each key.
func (o operatorsPlan) WriteCSV(w io.Writer) error {
	sh := o.Printed()
	sh.Parts[0].Notes = append([]string{o.Paper}, sh.Parts[0].Notes...)
	return writeParts(w, "operator's plan", o.Head, sh.Parts)
}
