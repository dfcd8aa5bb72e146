package sheet

import (
	"cmp"
	"fmt"
	"io"
	"strconv"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/timeline"
)

// What holds for calling by hand (common practice, no source).
var manualNotes = []string{
	"Timecode lost: hold first. Close by hand what stands open (hold sheet), set arms again by hand, agree on the place, then call from a re-entry point, which stands in bold.",
	"The call is the command: effects show it by their lead later. A call missed is never made late: go on at the call that its line names. What comes too soon after a call is left out; its number stands behind the call.",
}

// Sheet gives the list as pages, a song on its own.
func (l *ManualGo) Sheet() *paper.Sheet {
	sh := l.Head.sheet("Manual-go list")
	for i := range l.Songs {
		p := l.Songs[i].part()
		p.NewPage = i > 0
		sh.Parts = append(sh.Parts, p)
	}
	if len(sh.Parts) == 0 {
		sh.Parts = []paper.Part{{Notes: manualNotes}}
	}
	return sh
}

func (g *ManualSong) part() paper.Part {
	p := paper.Part{Heading: fmt.Sprintf("%d  %s", g.Number, g.Title), Large: true, Notes: append([]string{g.head()}, manualNotes...)}
	if len(g.Moments) == 0 {
		p.Notes = append(p.Notes, "Nothing is commanded in this song.")
		return p
	}
	p.Columns = columns(">call", ">count s", ">bar", "where", "go", ">open s", ">left out", "on by hand", "if missed")
	for i := range g.Moments {
		p.Rows = append(p.Rows, paper.Row{Cells: g.Moments[i].printed(), Strong: g.Moments[i].ReEntry})
	}
	return p
}

func (g *ManualSong) head() string {
	bar := "no beat map"
	if g.BarOne != "" {
		bar = "bar 1 at " + g.BarOne
	}
	return fmt.Sprintf("audio starts %s · %s · %s long · %s", g.Start, bar, clock(g.Duration), counted(len(g.Moments), "call"))
}

func (m *ManualMoment) printed() []string {
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
	return []string{strconv.Itoa(m.Call), tenths(m.Countdown), m.Bar, place, what, tenths(m.Open), left, listed(m.Arms), cmp.Or(m.Missed, "next song")}
}

// WriteCSV writes the list after RFC 4180.
func (l *ManualGo) WriteCSV(w io.Writer) error {
	return writeParts(w, "manual-go list", l.Head, l.Sheet().Parts)
}

// tenths writes seconds to a tenth; a time before its origin in words.
func tenths(s Seconds) string {
	if s < 0 {
		return "before " + tenths(-s)
	}
	return timeline.Time(s).Text(1)
}
