package sheet

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
)

// holdSheet makes pages of a HoldSheet.
type holdSheet struct{ *report.HoldSheet }

// Printed gives the hold sheet as pages: holds and aborts first, then each song,
// then the safe states.
func (s holdSheet) Printed() *paper.Sheet {
	sh := titled(&s.Head, "Hold sheet")
	sh.Parts = append(sh.Parts, s.reasons())
	for i := range s.Songs {
		sh.Parts = append(sh.Parts, holdSongPart(&s.Songs[i]))
	}
	safe := paper.Part{Heading: "Safe states", Dense: true, Columns: columns("unit", "position", "effects", "safe state", "[checked by")}
	for _, x := range s.Safe {
		safe.Rows = append(safe.Rows, paper.Row{Cells: []string{x.Unit, x.Position, x.Effects, strings.Join(x.States, "; "), ""}})
	}
	sh.Parts = append(sh.Parts, safe)
	return sh
}

func (s holdSheet) reasons() paper.Part {
	p := paper.Part{Heading: "Hold when", Large: true, Notes: append(slices.Clone(s.Cautions), "Of each song below, in each section: what stands open if timecode stops there, to be closed by hand; which arms are on, with their times above; and where to go on."), Columns: columns("reason", "called by", "[who may release it")}
	for _, h := range s.Holds {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{h.Reason, h.By, ""}})
	}
	p.Rows = append(p.Rows, paper.Row{Cells: []string{"ABORT: " + strings.Join(s.Aborts, ", "), "anybody", "nobody: the show is over"}, Strong: true})
	return p
}

// holdSongPart tells the sections of a song. Arms that are on in all of them are told
// above, once.
func holdSongPart(g *report.HoldSong) paper.Part {
	p := paper.Part{Heading: fmt.Sprintf("%d  %s", g.Number, g.Title), Large: true,
		Notes:   []string{fmt.Sprintf("audio starts %s · ends %s", g.Start, g.End)},
		Columns: columns("section", "from", "»bar", "stands open", "arms on", "re-entry")}
	same := len(g.Sections) > 1
	for i := range g.Sections {
		sec := &g.Sections[i]
		same = same && slices.Equal(sec.ArmNames, g.Sections[0].ArmNames)
		p.Rows = append(p.Rows, paper.Row{Cells: []string{sec.Name, sec.Timecode, sec.Bar, wording.Listed(sec.OpenTexts()), wording.Listed(sec.ArmNames), cmp.Or(sec.ReEntry, "next song")}})
	}
	switch on := strings.Join(holdArms(g), "; "); {
	case same && on == "":
		p.Notes = append(p.Notes, "Arms on: none in any section")
	case same:
		p.Notes = append(p.Notes, "Arms on in every section: "+on)
	case on != "":
		p.Notes = append(p.Notes, "Arms and their times: "+on)
	}
	if same {
		dropColumn(&p, "arms on")
	}
	return p
}

// holdArms tells every arm of a song with its times, once.
func holdArms(g *report.HoldSong) []string {
	var list []string
	for i := range g.Sections {
		for _, arm := range g.Sections[i].Arms {
			list = wording.AddOnce(list, arm)
		}
	}
	return list
}

// WriteCSV writes the hold sheet after RFC 4180.
func (s holdSheet) WriteCSV(w io.Writer) error {
	return writeParts(w, "hold sheet", s.Head, s.Printed().Parts)
}
