package sheet

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"emberbeat/render/paper"
)

// Sheet gives the operator's plan as pages: a row for each key, large enough for
// the dark, and the hand cues that are not meant tonight.
func (o *OperatorsPlan) Sheet() *paper.Sheet {
	sh := o.Head.sheet("Operator's plan")
	sh.Stamp = o.Paper
	p := paper.Part{Heading: "Keys", Large: true, Notes: []string{"Called, never timed: a key has no place in timecode. What is missed is not done late. Before each: eyes on the zone, and the caller's word."},
		Columns: columns(">key", "name", "when", "called by", "what it does", "before it is called", "[notes")}
	for i := range o.Keys {
		p.Rows = append(p.Rows, paper.Row{Cells: o.Keys[i].cells()})
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

func (k *OperatorKey) cells() []string {
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
		does = append(does, k.Does[i].text())
	}
	for _, m := range k.Missing {
		does = append(does, "MISSING: "+m)
	}
	if k.Note != "" {
		does = append(does, "note: "+k.Note)
	}
	return []string{keyNumber(k.Key), k.Name, strings.Join(when, "; "), given(k.Caller), strings.Join(does, "; "), strings.Join(k.Before, "; "), ""}
}

func (d *OperatorUse) text() string {
	text := d.Article
	if d.Swapped {
		text += " (swapped)"
	}
	text += ": " + joinNames(d.Effects)
	if len(d.Positions) > 0 {
		text += " at " + strings.Join(d.Positions, ", ")
	}
	text += ", " + joinNames(d.Outputs) + ", open " + short(d.Open) + " s"
	if d.Pieces > 0 {
		text += fmt.Sprintf(", %s, NEC %s g", counted(d.Pieces, "piece"), grams(d.NEC))
	}
	if d.Uses > 0 {
		text += fmt.Sprintf(", about %s of %s a press", kilograms(d.Uses), given(d.Medium))
	}
	return text
}

// WriteCSV writes the operator's plan after RFC 4180: head, that it is paper
// alone, a line of column names, a line for each key.
func (o *OperatorsPlan) WriteCSV(w io.Writer) error {
	sh := o.Sheet()
	sh.Parts[0].Notes = append([]string{o.Paper}, sh.Parts[0].Notes...)
	return writeParts(w, "operator's plan", o.Head, sh.Parts)
}
