package sheet

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
)

// What the caller says in a hold (common practice, no source).
var holdNotes = []string{
	"Hold when: somebody is in a zone; a spotter has lost sight; the wind is over its limit; detectors are not isolated or ventilation is off; " +
		"a CO2 alarm sounds or gas is smelt; a misfire lies in a zone; talk-back is lost; timecode is lost or has jumped; a performer is off the mark; " +
		"the crowd is over the barrier; lightning.",
	"Abort when: there is fire, an injury, an evacuation, a failing structure, or the officer says so.",
	"In a hold every device goes to its safe state: close by hand what stands open. A cue missed in a hold is never fired late: " +
		"go on at the re-entry point, with arms set again. Only the person named below releases a hold.",
}

// runningSheet makes pages of a RunningSheet.
type runningSheet struct{ *report.RunningSheet }

// Printed gives the running sheet as pages. What stands open is on the hold sheet
// alone, so that this one can be set large.
func (s runningSheet) Printed() *paper.Sheet {
	sh := titled(&s.Head, "Running sheet")
	sh.Parts = s.parts(runningSongPart)
	return sh
}

// WriteCSV writes the running sheet after RFC 4180, part by part as it is
// printed, with the song's own time and what stands open beside it.
func (s runningSheet) WriteCSV(w io.Writer) error {
	return writeParts(w, "running sheet", s.Head, s.parts(runningSongFull))
}

func (s runningSheet) parts(of func(*report.RunningSong) paper.Part) []paper.Part {
	var parts []paper.Part
	for i := range s.Songs {
		parts = append(parts, of(&s.Songs[i]))
	}
	hold := paper.Part{Heading: "Hold and release", Notes: holdNotes, Columns: columns("hold by", "[name of who may release it", "[call word")}
	for _, who := range []string{"operator", "spotter", "stage manager", "officer"} {
		hold.Rows = append(hold.Rows, paper.Row{Cells: []string{who, "", ""}})
	}
	return append(parts, hold, totalsPart(&s.Used))
}

// runningSongPart gives the song as it is printed.
func runningSongPart(g *report.RunningSong) paper.Part {
	p := runningSongAbout(g)
	p.Large = true
	p.Columns = columns("timecode", "»bar", "section", ">lasts", ">bars", ">hits", "first hit", "arms", "re-entry after a hold")
	for i := range g.Sections {
		p.Rows = append(p.Rows, paper.Row{Cells: runningRowPrinted(&g.Sections[i])})
	}
	p.Rows = append(p.Rows, paper.Row{Cells: []string{"", "", "all", wording.Clock(g.Duration), "", strconv.Itoa(g.Commands), "", "", ""}, Strong: true})
	if g.Gap > 0 || g.Talk != "" {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{"", "", "then " + cmp.Or(g.Talk, "changeover"), wording.Clock(g.Gap), "", "", "", "", ""}})
	}
	return p
}

// runningSongFull gives the song with all that its sections say.
func runningSongFull(g *report.RunningSong) paper.Part {
	p := runningSongAbout(g)
	p.Columns = columns("timecode", "at", "bar", "section", "lasts", "bars", "hits", "first hit", "arms", "stands open at its start", "re-entry after a hold")
	for i := range g.Sections {
		r := &g.Sections[i]
		cells := runningRowPrinted(r)
		cells = slices.Insert(cells, 8, wording.Listed(r.Open))
		p.Rows = append(p.Rows, paper.Row{Cells: slices.Insert(cells, 1, wording.Clock(r.At))})
	}
	p.Rows = append(p.Rows, paper.Row{Cells: []string{"", "", "", "all", wording.Clock(g.Duration), "", strconv.Itoa(g.Commands)}})
	if g.Gap > 0 || g.Talk != "" {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{"", "", "", "then " + cmp.Or(g.Talk, "changeover"), wording.Clock(g.Gap)}})
	}
	return p
}

func runningSongAbout(g *report.RunningSong) paper.Part {
	p := paper.Part{Heading: fmt.Sprintf("%d  %s", g.Number, g.Title), Notes: []string{runningSongRecording(g), runningSongTimecode(g)}}
	if g.Encore {
		p.Heading += " · encore"
	}
	return p
}

func runningSongRecording(g *report.RunningSong) string {
	if g.File == "" {
		return "no audio file; length as typed " + wording.Clock(g.Duration)
	}
	return fmt.Sprintf("playback reads aloud: audio %s · %s long · hash %s", g.File, wording.Clock(g.Duration), wording.Given(g.Hash))
}

func runningSongTimecode(g *report.RunningSong) string {
	bar := "no beat map"
	if g.BarOne != "" {
		bar = "bar 1 at " + g.BarOne
	}
	return fmt.Sprintf("audio starts %s · %s · pre-roll from %s · ends %s", g.Start, bar, g.PreRoll, g.End)
}

func runningRowPrinted(r *report.RunningRow) []string {
	bars, first := "", "–"
	if r.Bars > 0 {
		bars = strconv.Itoa(r.Bars)
	}
	if r.Commands > 0 {
		first = strings.TrimSpace(r.First + " in " + wording.Tenths(r.FirstIn) + " s")
		if r.FirstIn < 0 {
			first = strings.TrimSpace(r.First + " " + wording.Tenths(-r.FirstIn) + " s before it")
		}
	}
	return []string{r.Timecode, r.Bar, r.Name, wording.Clock(r.Lasts), bars, strconv.Itoa(r.Commands), first, wording.Listed(r.Arms), cmp.Or(r.ReEntry, "next song")}
}
