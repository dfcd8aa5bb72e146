package sheet

import (
	"fmt"
	"io"
	"strconv"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/night"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// cutList makes pages of a CutList.
type cutList struct{ *night.CutList }

// Printed gives the cut list as pages: what was decided, what it comes to song by
// song, every cue it touches, and who agrees.
func (l cutList) Printed() *paper.Sheet {
	sh := titled(&l.Head, "Cut list")
	n := strconv.Itoa
	sh.Parts = append(sh.Parts, paper.Part{Heading: "Tonight beside the tour", Figures: []paper.Fact{{Label: "cues on the tour", Text: n(l.Tour)}, {Label: "played tonight", Text: n(l.Played)},
		{Label: "cut", Text: n(l.Cut)}, {Label: "swapped", Text: n(l.Swapped)}, {Label: "lost", Text: n(l.Lost)}, {Label: "played in part", Text: n(l.Partly)}}},
		l.decisions())
	if len(l.NotPlayed) > 0 {
		p := paper.Part{Heading: "Songs of the set that are not played", Columns: columns("song", "why", "[agreed")}
		for _, s := range l.NotPlayed {
			p.Rows = append(p.Rows, paper.Row{Cells: []string{s.Title, s.Why, ""}})
		}
		sh.Parts = append(sh.Parts, p)
	}
	sh.Parts = append(sh.Parts, l.bySong())
	for i := range l.Songs {
		if s := &l.Songs[i]; len(s.Lines) > 0 {
			sh.Parts = append(sh.Parts, cutSongPart(s))
		}
	}
	sh.Parts = append(sh.Parts, signPart(l.Sign))
	return sh
}

func (l cutList) decisions() paper.Part {
	p := paper.Part{Heading: "Decided for tonight", Columns: columns("what", ">cues", "reason", "[agreed")}
	for _, c := range l.Changes {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{c.Text, strconv.Itoa(c.Cues), wording.Given(c.Reason), ""}})
	}
	if len(p.Rows) == 0 {
		return paper.Part{Heading: p.Heading, Notes: []string{"Nothing: the night plays its set as the tour does."}}
	}
	return p
}

func (l cutList) bySong() paper.Part {
	p := paper.Part{Heading: "Song by song", Columns: columns(">no", "song", ">on tour", ">played", ">cut", ">swapped", ">lost", ">in part")}
	row := func(no, title string, strong bool, counts ...int) {
		cells := []string{no, title}
		for _, c := range counts {
			cells = append(cells, strconv.Itoa(c))
		}
		p.Rows = append(p.Rows, paper.Row{Cells: cells, Strong: strong})
	}
	for i := range l.Songs {
		s := &l.Songs[i]
		row(strconv.Itoa(s.Number), s.Title, false, s.Tour, s.Played, s.Cut, s.Swapped, s.Lost, s.Partly)
	}
	row("", "all", true, l.Tour, l.Played, l.Cut, l.Swapped, l.Lost, l.Partly)
	return p
}

func cutSongPart(s *night.CutSong) paper.Part {
	p := paper.Part{Heading: fmt.Sprintf("%d  %s", s.Number, s.Title), Columns: columns("bar", "hit at", "lane", "placed effects", ">units", "on tour", "tonight", "reason", "cue")}
	out := map[[3]string]*outRow{}
	for i := range s.Lines {
		l := &s.Lines[i]
		if !l.Rig {
			p.Rows = append(p.Rows, paper.Row{Cells: cutLineCells(l)})
			continue
		}
		k := [3]string{wording.JoinNames(l.Effects), l.OnTour, l.Reason}
		if out[k] == nil {
			out[k] = &outRow{row: len(p.Rows)}
			p.Rows = append(p.Rows, paper.Row{})
		}
		r := out[k]
		r.cues++
		r.goOn += wording.OneIf(len(l.Effects) < l.Of)
		p.Rows[r.row].Cells = []string{"", "", "", k[0], strconv.Itoa(len(l.Effects)), k[1], "CUT", k[2], r.said()}
	}
	return p
}

// outRow is the one row of what is out of the rig all night, whatever it would
// have played.
type outRow struct{ row, cues, goOn int }

// said counts the cues, and those that go on with the others that they aim at.
func (r *outRow) said() string {
	text := timeline.Counted(r.cues, "cue")
	switch {
	case r.goOn == 0:
		return text
	case r.goOn == r.cues:
		return text + ", with who is left"
	}
	return fmt.Sprintf("%s, %d with who is left", text, r.goOn)
}

func cutLineCells(l *night.CutLine) []string {
	units := strconv.Itoa(len(l.Effects))
	if len(l.Effects) < l.Of {
		units += " of " + strconv.Itoa(l.Of)
	}
	tonight := map[string]string{"cut": "CUT", "lost": "LOST"}[l.Kind] + l.Tonight
	return []string{l.Bar, l.Timecode, l.Lane, wording.JoinNames(l.Effects), units, l.OnTour, tonight, wording.Given(l.Reason), l.Cue}
}

// signPart is the part with the lines to sign.
func signPart(list []report.Signer) paper.Part {
	p := paper.Part{Heading: "Signatures", Whole: true, Tall: true, Columns: columns("role", "for", "[name", "[signature", "[date and time")}
	for _, s := range list {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{s.Role, s.For, s.Name, "", ""}})
	}
	return p
}

// WriteCSV writes the cut list after RFC 4180, part by part as it is printed.
func (l cutList) WriteCSV(w io.Writer) error {
	return writeParts(w, "cut list", l.Head, l.Printed().Parts)
}
