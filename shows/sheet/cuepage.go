package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/timeline"
)

// Sheet gives the cue list as pages: a table for each song, then the cues that
// lead nowhere, then the totals.
func (l *CueList) Sheet() *paper.Sheet {
	sh := l.Head.sheet("Cue list")
	next := 0
	for _, song := range l.Songs {
		from := next
		for next < len(l.Lines) && l.Lines[next].SongNumber == song.Number {
			next++
		}
		sh.Parts = append(sh.Parts, songPart(song, l.Lines[from:next]))
	}
	if len(l.Lost) > 0 {
		sh.Parts = append(sh.Parts, l.lostPart())
	}
	sh.Parts = append(sh.Parts, l.Used.part())
	return sh
}

func songPart(song SongHead, lines []Line) paper.Part {
	p := paper.Part{Heading: fmt.Sprintf("%d  %s", song.Number, song.Title),
		Notes: []string{fmt.Sprintf("audio starts %s · pre-roll from %s · ends %s · %s long · %s",
			song.Start, song.First, song.Last, timeline.Time(song.Duration).Clock(1), counted(len(lines), "line"))}}
	if len(lines) == 0 {
		return p
	}
	p.Columns = columns(">no.", "action", "command", ">residual ms", ">bar", "hit", ">lead s", "position", "placed effect", "output", "value", "article", ">open s", "note")
	for i := range lines {
		p.Rows = append(p.Rows, paper.Row{Cells: lines[i].printed()})
	}
	return p
}

// printed gives the line's cells on paper.
func (l *Line) printed() []string {
	target := l.PlacedName
	if target == "" {
		target = l.DeviceName
	}
	return []string{strconv.Itoa(l.Number), l.Action, l.Timecode, signedMillis(l.Residual), l.Bar, l.HitTimecode, short(l.Lead),
		l.PositionName, target, labelsOf(l.Outputs), valuesOf(l.Outputs), l.ArticleName, short(l.Open), l.Note}
}

func (l *CueList) lostPart() paper.Part {
	p := paper.Part{Heading: "Cues that lead to no command", Columns: columns("song", "cue", "reason", "what")}
	for _, c := range l.Lost {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{c.Song, c.Cue, c.Reason, c.Name}})
	}
	return p
}

// part gives the totals as a table.
func (t *Totals) part() paper.Part {
	p := paper.Part{Heading: "Totals", Notes: []string{counted(t.Commands, "command")},
		Columns: columns("hazard division", ">pieces", ">NEC g")}
	for _, d := range t.Divisions {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{division(d.Division), strconv.Itoa(d.Pieces), grams(d.NEC)}})
	}
	p.Rows = append(p.Rows, paper.Row{Cells: []string{"all pieces", strconv.Itoa(t.Pieces), grams(t.NEC)}, Strong: true})
	return p
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

// short writes seconds without the zeros at their end.
func short(s Seconds) string { return strings.TrimRight(strings.TrimRight(s.String(), "0"), ".") }
