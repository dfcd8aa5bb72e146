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

// cueList makes pages of a CueList.
type cueList struct {
	*report.CueList
	long bool // a row for each command, and not for each cue
}

// Printed gives the cue list as pages: a table for each song, or one for all,
// then the cues that lead nowhere, then the totals.
func (l cueList) Printed() *paper.Sheet {
	title := "Cue list"
	if l.long {
		title = "Cue list, long form"
	}
	sh := titled(&l.Head, title)
	if l.Together {
		sh.Parts = append(sh.Parts, l.togetherPart())
	} else {
		next := 0
		for _, song := range l.Songs {
			sh.Parts = append(sh.Parts, l.songPart(song, l.Lines[next:next+song.Commands]))
			next += song.Commands
		}
	}
	if !l.long && len(sh.Parts) > 0 {
		sh.Parts[0].Notes = append([]string{"A row is one cue at one moment, with all its units; it has the number of its first command. The long form has a row for each command, with its lead, what rounding to the frame adds, and the hit."}, sh.Parts[0].Notes...)
	}
	if len(l.Lost) > 0 {
		sh.Parts = append(sh.Parts, l.lostPart())
	}
	sh.Parts = append(sh.Parts, totalsPart(&l.Used))
	return sh
}

// table gives the heads of lines, and a row of cells for each row of them.
func (l cueList) table(lines []report.Line) (heads []string, cells [][]string, songs []int) {
	if l.long {
		for i := range lines {
			cells, songs = append(cells, cueColumns.pageCells(&lines[i])), append(songs, lines[i].SongNumber)
		}
		return cueColumns.pageHeads(), cells, songs
	}
	rows := report.RowsOf(lines)
	for i := range rows {
		cells, songs = append(cells, rowColumns.pageCells(&rows[i])), append(songs, rows[i].SongNumber)
	}
	return rowColumns.pageHeads(), cells, songs
}

func (l cueList) songPart(song report.SongHead, lines []report.Line) paper.Part {
	heads, cells, _ := l.table(lines)
	count := timeline.Counted(len(lines), "command")
	if !l.long {
		count = timeline.Counted(len(cells), "row") + " of " + count
	}
	p := paper.Part{Heading: fmt.Sprintf("%d  %s", song.Number, song.Title),
		Notes: []string{fmt.Sprintf("audio starts %s · pre-roll from %s · ends %s · %s long · %s",
			song.Start, song.First, song.Last, timeline.Time(song.Duration).Clock(1), count)}}
	if len(lines) == 0 {
		return p
	}
	p.Dense = true
	p.Columns = columns(heads...)
	for _, c := range cells {
		p.Rows = append(p.Rows, paper.Row{Cells: c})
	}
	return p
}

// togetherPart gives the lines of all songs in one table, each with its song's
// number.
func (l cueList) togetherPart() paper.Part {
	heads, cells, songs := l.table(l.Lines)
	p := paper.Part{Heading: "All songs", Dense: true, Columns: columns(append([]string{">song"}, heads...)...)}
	for i := range l.Songs {
		p.Notes = append(p.Notes, fmt.Sprintf("%d  %s", l.Songs[i].Number, l.Songs[i].Title))
	}
	p.Notes = []string{strings.Join(p.Notes, " · ")}
	for i, c := range cells {
		p.Rows = append(p.Rows, paper.Row{Cells: append([]string{strconv.Itoa(songs[i])}, c...)})
	}
	return p
}

func (l cueList) lostPart() paper.Part {
	p := paper.Part{Heading: "Cues that lead to no command", Columns: columns("song", "cue", "reason", "what")}
	for _, c := range l.Lost {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{c.Song, c.Cue, c.Reason, c.Name}})
	}
	return p
}

// totalsPart gives the totals as a table.
func totalsPart(t *report.Totals) paper.Part {
	p := paper.Part{Heading: "Totals", Notes: []string{timeline.Counted(t.Commands, "command") + t.Beside()},
		Columns: columns("hazard division", ">pieces", ">NEC g")}
	for _, d := range t.Divisions {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{wording.Division(d.Division), strconv.Itoa(d.Pieces), wording.Grams(d.NEC)}})
	}
	p.Rows = append(p.Rows, paper.Row{Cells: []string{"all pieces", strconv.Itoa(t.Pieces), wording.Grams(t.NEC)}, Strong: true})
	return p
}

// rowColumns are the columns of the cue list on paper, cue by cue. The number is
// that of the cue's first command in CSV and the long form.
var rowColumns = listTable[*report.CueRow]{
	{page: ">no.", cell: func(r *report.CueRow) string { return strconv.Itoa(r.Number) }},
	{page: "command", cell: func(r *report.CueRow) string { return r.Timecode }},
	{page: "closes", cell: func(r *report.CueRow) string { return r.Close }},
	{page: ">open s", cell: func(r *report.CueRow) string {
		if r.Open == 0 {
			return ""
		}
		return wording.Short(r.Open)
	}},
	{page: "»bar", cell: func(r *report.CueRow) string { return r.Bar }},
	{page: "action", cell: func(r *report.CueRow) string { return r.Action }},
	{page: "effects", cell: func(r *report.CueRow) string { return wording.JoinNames(r.Units) }},
	{page: "article", cell: func(r *report.CueRow) string { return r.ArticleName }},
	{page: "outputs", cell: func(r *report.CueRow) string { return report.FoldedLabels(r.Driven) }},
	{page: "value", cell: func(r *report.CueRow) string { return strings.Join(r.Values, ", ") }},
	{page: "note", cell: func(r *report.CueRow) string { return strings.Join(r.Notes, "; ") }},
}

// cueColumns are the columns of the cue list in CSV, and on paper in its long form. On paper times
// are seconds, and outputs are written short, so that a line of it is a line of
// the page.
var cueColumns = listTable[*report.Line]{
	{csv: "number", number: true, page: ">no.", cell: func(l *report.Line) string { return strconv.Itoa(l.Number) }},
	{csv: "song number", number: true, cell: func(l *report.Line) string { return strconv.Itoa(l.SongNumber) }},
	{csv: "song", cell: func(l *report.Line) string { return l.SongTitle }},
	{csv: "action", page: "action", cell: func(l *report.Line) string { return l.Action }},
	{csv: "timecode", page: "command", cell: func(l *report.Line) string { return l.Timecode }},
	{csv: "residual ms", number: true, page: ">± ms", cell: func(l *report.Line) string { return residualCell(timeline.Time(l.Residual)) }, print: func(l *report.Line) string { return wording.SignedMillis(l.Residual) }},
	{csv: "bar", page: "»bar", cell: func(l *report.Line) string { return l.Bar }},
	{csv: "hit timecode", page: "hit", cell: func(l *report.Line) string { return l.HitTimecode }},
	{csv: "hit s", number: true, cell: func(l *report.Line) string { return secondsCell(timeline.Time(l.Hit)) }},
	{csv: "command s", number: true, cell: func(l *report.Line) string { return secondsCell(timeline.Time(l.Command)) }},
	{csv: "lead s", number: true, page: ">lead s", cell: func(l *report.Line) string { return l.Lead.String() }, print: func(l *report.Line) string { return wording.Short(l.Lead) }},
	{csv: "position", page: "position", cell: func(l *report.Line) string { return l.PositionName }},
	{csv: "placed effect", page: "effect", cell: func(l *report.Line) string { return cmp.Or(l.PlacedName, l.DeviceName) }},
	{csv: "outputs", page: "output", cell: func(l *report.Line) string { return report.LabelsOf(l.Outputs) }, print: func(l *report.Line) string { return report.ShortLabels(l.Outputs) }},
	{csv: "value", page: "value", cell: func(l *report.Line) string { return report.ValuesOf(l.Outputs) }, print: func(l *report.Line) string { return strings.ReplaceAll(report.ValuesOf(l.Outputs), " ", "") }},
	{csv: "article", page: "article", cell: func(l *report.Line) string { return l.ArticleName }},
	{csv: "open s", number: true, page: ">open s", cell: func(l *report.Line) string { return l.Open.String() }, print: func(l *report.Line) string { return wording.Short(l.Open) }},
	{csv: "closes", cell: func(l *report.Line) string { return l.Close }},
	{csv: "level %", number: true, cell: func(l *report.Line) string { return wording.BlankZero(l.Level) }},
	{csv: "lane", cell: func(l *report.Line) string { return l.LaneName }},
	{csv: "cue", cell: func(l *report.Line) string { return l.Cue }},
	{csv: "note", page: "note", cell: func(l *report.Line) string { return l.Note }},
	{csv: "at", cell: func(l *report.Line) string { return l.Place }},
	{csv: "target", cell: func(l *report.Line) string { return l.TargetName }},
	{csv: "opens with", cell: func(l *report.Line) string { return l.WithName }},
}

// WriteCSV writes the cue list after RFC 4180: the head as lines of label and
// text, then a line of column names, then the commands. All lines are equally
// wide. Numbers carry no minus sign, so that no cell looks like a formula:
// times before the start of the audio are written `before 0.4500`, residuals
// `late 10.00` or `early 10.00`. The last columns say where the cue stands and
// what it aims at, as the import reads them (shows/intake).
func (l cueList) WriteCSV(w io.Writer) error {
	heads := cueColumns.csvHeads()
	c := newCSV(w, len(heads))
	c.line("cue list")
	for _, pair := range l.Head.Lines() {
		c.line(pair[0], pair[1])
	}
	c.line(heads...)
	for i := range l.Lines {
		c.line(cueColumns.csvCells(&l.Lines[i])...)
	}
	for _, lost := range l.Lost {
		c.line(l.lostCells(lost)...)
	}
	return c.done()
}

// lostCells says in the list's columns that a cue leads to no command.
func (l cueList) lostCells(lost report.Lost) []string {
	return cellsUnder(cueColumns.csvHeads(), map[string]string{"number": "none", "song": lost.Song, "action": "lost", "cue": lost.Cue, "note": lost.Reason + ": " + lost.Name})
}
