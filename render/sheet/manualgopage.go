package sheet

import (
	"cmp"
	"fmt"
	"io"
	"strconv"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// What holds for calling by hand (common practice, no source).
var manualNotes = []string{
	"Timecode lost: hold first. Close by hand what stands open (hold sheet), set arms again by hand, agree on the place, then call from a re-entry point, which stands in bold.",
	"The call is the command: effects show it by their lead later. A call missed is never made late: go on at the call that its line names. What comes too soon after a call is left out; its number stands behind the call.",
}

// manualGo makes pages of a ManualGo.
type manualGo struct{ *report.ManualGo }

// Printed gives the list as pages, a song on its own.
func (l manualGo) Printed() *paper.Sheet {
	sh := titled(&l.Head, "Manual-go list")
	for i := range l.Songs {
		p := manualSongPart(&l.Songs[i])
		p.NewPage = i > 0
		sh.Parts = append(sh.Parts, p)
	}
	if len(sh.Parts) == 0 {
		sh.Parts = []paper.Part{{Notes: manualNotes}}
	}
	return sh
}

func manualSongPart(g *report.ManualSong) paper.Part {
	p := paper.Part{Heading: fmt.Sprintf("%d  %s", g.Number, g.Title), Large: true, Dense: true, Notes: append([]string{manualSongHead(g)}, manualNotes...)}
	if len(g.Moments) == 0 {
		p.Notes = append(p.Notes, "Nothing is commanded in this song.")
		return p
	}
	p.Columns = columns(">call", ">count s", "»bar", "where", "go", ">open s", ">left out", "on by hand", "if missed")
	for i := range g.Moments {
		p.Rows = append(p.Rows, paper.Row{Cells: manualMomentPrinted(&g.Moments[i]), Strong: g.Moments[i].ReEntry})
	}
	return p
}

func manualSongHead(g *report.ManualSong) string {
	bar := "no beat map"
	if g.BarOne != "" {
		bar = "bar 1 at " + g.BarOne
	}
	return fmt.Sprintf("audio starts %s · %s · %s long · %s", g.Start, bar, wording.Clock(g.Duration), timeline.Counted(len(g.Moments), "call"))
}

func manualMomentPrinted(m *report.ManualMoment) []string {
	what, place := strings.Join(m.What, "; "), m.Place
	if m.Words != "" {
		place += " – " + m.Words
	}
	if m.Note != "" {
		what += " (" + m.Note + ")"
	}
	left := ""
	if m.LeftOut > 0 {
		left = strconv.Itoa(m.LeftOut)
	}
	return []string{strconv.Itoa(m.Call), wording.Tenths(m.Countdown), m.Bar, place, what, wording.Tenths(m.Open), left, wording.Listed(m.Arms), cmp.Or(m.Missed, "next song")}
}

// WriteCSV writes the list after RFC 4180.
func (l manualGo) WriteCSV(w io.Writer) error {
	return writeParts(w, "manual-go list", l.Head, l.Printed().Parts)
}
