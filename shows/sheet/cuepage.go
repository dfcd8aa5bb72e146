package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/timeline"
)

// Sheet gives the cue list as pages: a table for each song, or one for all,
// then the cues that lead nowhere, then the totals.
func (l *CueList) Sheet() *paper.Sheet {
	sh := l.Head.sheet("Cue list")
	if l.Together {
		sh.Parts = append(sh.Parts, l.togetherPart())
	} else {
		next := 0
		for _, song := range l.Songs {
			sh.Parts = append(sh.Parts, songPart(song, l.Lines[next:next+song.Commands]))
			next += song.Commands
		}
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
	p.Dense = true
	p.Columns = columns(cueColumns.pageHeads()...)
	for i := range lines {
		p.Rows = append(p.Rows, paper.Row{Cells: cueColumns.pageCells(&lines[i])})
	}
	return p
}

// togetherPart gives the lines of all songs in one table, each with its song's
// number.
func (l *CueList) togetherPart() paper.Part {
	p := paper.Part{Heading: "All songs", Dense: true, Columns: columns(append([]string{">song"}, cueColumns.pageHeads()...)...)}
	for i := range l.Songs {
		p.Notes = append(p.Notes, fmt.Sprintf("%d  %s", l.Songs[i].Number, l.Songs[i].Title))
	}
	p.Notes = []string{strings.Join(p.Notes, " · ")}
	for i := range l.Lines {
		p.Rows = append(p.Rows, paper.Row{Cells: append([]string{strconv.Itoa(l.Lines[i].SongNumber)}, cueColumns.pageCells(&l.Lines[i])...)})
	}
	return p
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
	p := paper.Part{Heading: "Totals", Notes: []string{counted(t.Commands, "command") + t.beside()},
		Columns: columns("hazard division", ">pieces", ">NEC g")}
	for _, d := range t.Divisions {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{division(d.Division), strconv.Itoa(d.Pieces), grams(d.NEC)}})
	}
	p.Rows = append(p.Rows, paper.Row{Cells: []string{"all pieces", strconv.Itoa(t.Pieces), grams(t.NEC)}, Strong: true})
	return p
}

// beside says which pieces on site no cue commands.
func (t *Totals) beside() string {
	var parts []string
	by := ""
	if t.Presses > 0 {
		by = fmt.Sprintf("; by hand at most %d of keys of the operator's plan, unit by unit", t.Presses)
	}
	if t.Spares > 0 {
		parts = append(parts, counted(t.Spares, "spare"))
	}
	if t.Unused > 0 {
		parts = append(parts, strconv.Itoa(t.Unused)+" that no cue commands")
	}
	if len(parts) == 0 {
		return by
	}
	return by + "; among the pieces " + strings.Join(parts, " and ")
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

// short writes seconds without the zeros at their end.
func short(s Seconds) string { return strings.TrimRight(strings.TrimRight(s.String(), "0"), ".") }
