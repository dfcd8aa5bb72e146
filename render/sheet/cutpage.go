package sheet

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/night"
	"emberbeat/shows/report/wording"
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

// cutSongPart tells each cut, swap and loss of a song once, with all effects and bars
// that it is about; cue by cue they stand in JSON.
func cutSongPart(s *night.CutSong) paper.Part {
	p := paper.Part{Heading: fmt.Sprintf("%d  %s", s.Number, s.Title), Columns: columns(">cues", "first hit at", "bars", "lane", "placed effects", ">units", "on tour", "tonight", "reason")}
	type row struct {
		night.CutLine
		cues   int
		bars   []string
		partly bool
		lo, hi int // units of a cue
	}
	var rows []*row
	at := map[[5]string]*row{}
	for i := range s.Lines {
		l := &s.Lines[i]
		key := [5]string{l.Kind, l.Lane, l.OnTour, l.Tonight, l.Reason}
		if l.Rig { // out all night, whatever it would have played
			key[1] = ""
		}
		r := at[key]
		if r == nil {
			r = &row{CutLine: *l}
			r.Effects, r.Lane = nil, key[1]
			at[key], rows = r, append(rows, r)
		}
		r.cues++
		if n := len(l.Effects); r.cues == 1 {
			r.lo, r.hi = n, n
		} else {
			r.lo, r.hi = min(r.lo, n), max(r.hi, n)
		}
		r.partly = r.partly || len(l.Effects) < l.Of
		if l.Bar != "" {
			r.bars = wording.AddOnce(r.bars, l.Bar)
		}
		for _, name := range l.Effects {
			r.Effects = wording.AddOnce(r.Effects, name)
		}
	}
	for _, r := range rows {
		units := strconv.Itoa(len(r.Effects))
		switch {
		case r.lo < r.hi:
			units = fmt.Sprintf("%d–%d a cue", r.lo, r.hi)
		case r.hi < len(r.Effects):
			units = fmt.Sprintf("%d a cue", r.hi)
		}
		if r.partly {
			units += " in part"
		}
		tonight := map[string]string{"cut": "CUT", "lost": "LOST"}[r.Kind] + r.Tonight
		p.Rows = append(p.Rows, paper.Row{Cells: []string{strconv.Itoa(r.cues), r.Timecode, strings.Join(r.bars, ", "), r.Lane, wording.JoinNames(r.Effects), units, r.OnTour, tonight, wording.Given(r.Reason)}})
	}
	return p
}

// signPart is the part with the lines to sign.
func signPart(list []report.Signer) paper.Part {
	p := paper.Part{Heading: "Signatures", Whole: true, With: true, Tall: true, Columns: columns("role", "for", "[name", "[signature", "[date and time")}
	for _, s := range list {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{s.Role, s.For, s.Name, "", ""}})
	}
	return p
}

// WriteCSV writes the cut list after RFC 4180, part by part as it is printed.
func (l cutList) WriteCSV(w io.Writer) error {
	return writeParts(w, "cut list", l.Head, l.Printed().Parts)
}
