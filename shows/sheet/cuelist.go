package sheet

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// CueList is every command of a plan in the order it is played.
type CueList struct {
	Head
	Songs []SongHead `json:"songs"`
	Lines []Line     `json:"commands"`
	Lost  []Lost     `json:"lost"`
	Used  Totals     `json:"totals"`

	Together bool `json:"together,omitempty"` // all songs in one list, and not song by song
}

// SongHead is what a cue list says about a song.
type SongHead struct {
	Number   int     `json:"number"`
	Song     string  `json:"song"` // id
	Title    string  `json:"title"`
	Start    string  `json:"start"` // timecode of the start of the audio
	First    string  `json:"first"` // timecode at which its pre-roll starts
	Last     string  `json:"last"`  // first timecode after it
	Duration Seconds `json:"duration"`
	At       Seconds `json:"at"` // start of its audio from that of the set's first
	Commands int     `json:"commands"`
}

// NewCueList gives the cue list of what a filter shows of a plan. A song whose start is no label of
// the rate is an error: its timecodes would all be wrong.
func NewCueList(p *timeline.Plan, f Filter) (*CueList, error) {
	l := &CueList{Head: HeadOf(p).showing(p, f), Songs: []SongHead{}, Lines: []Line{}, Lost: []Lost{}, Used: totalsOf(p, f)}
	for i := range p.Songs {
		ps := &p.Songs[i]
		if !f.Shows(ps.Song.ID) {
			continue
		}
		if ps.StartErr != nil {
			return nil, fmt.Errorf("song %q: its start: %w", ps.Song.FullTitle(), ps.StartErr)
		}
		l.add(p, ps, f)
	}
	for i := range l.Lines {
		l.Lines[i].Number = i + 1
	}
	l.sort(f)
	return l, nil
}

func (l *CueList) add(p *timeline.Plan, ps *timeline.PlanSong, f Filter) {
	before := len(l.Lines)
	l.Lines = append(l.Lines, linesOf(p, ps, f)...)
	l.Songs = append(l.Songs, songHead(ps, len(l.Lines)-before))
	if f.Choice != nil {
		return // what a lost cue would have driven is not known
	}
	for _, lost := range ps.Lost {
		l.Lost = append(l.Lost, Lost{string(ps.Song.ID), string(lost.Cue.ID), string(lost.Reason), lost.Name})
	}
}

// sort puts the lines in a filter's order, each song's by themselves or all
// together.
func (l *CueList) sort(f Filter) {
	if l.Together = f.Together; l.Together {
		f.Order.sort(l.Lines)
		return
	}
	next := 0
	for _, s := range l.Songs {
		f.Order.sort(l.Lines[next : next+s.Commands])
		next += s.Commands
	}
}

func songHead(ps *timeline.PlanSong, commands int) SongHead {
	return SongHead{Number: ps.Number, Song: string(ps.Song.ID), Title: ps.Song.FullTitle(), Start: ps.Rate.Label(ps.Start),
		First: ps.Rate.Label(ps.First()), Last: ps.Rate.Label(ps.Last()), Duration: Seconds(ps.Duration), At: Seconds(ps.At), Commands: commands}
}

// WriteJSON writes the cue list as one JSON object.
func (l *CueList) WriteJSON(w io.Writer) error { return WriteJSON(w, l) }

// WriteJSON writes a result as JSON for other programs, indented, with a newline
// at its end.
func WriteJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// cueColumns are the columns of the cue list, in CSV and on paper. On paper times
// are seconds, and outputs are written short, so that a line of it is a line of
// the page.
var cueColumns = listTable[*Line]{
	{csv: "number", page: ">no.", cell: func(l *Line) string { return strconv.Itoa(l.Number) }},
	{csv: "song number", cell: func(l *Line) string { return strconv.Itoa(l.SongNumber) }},
	{csv: "song", cell: func(l *Line) string { return l.SongTitle }},
	{csv: "action", page: "action", cell: func(l *Line) string { return l.Action }},
	{csv: "timecode", page: "command", cell: func(l *Line) string { return l.Timecode }},
	{csv: "residual ms", page: ">± ms", cell: func(l *Line) string { return residualCell(timeline.Time(l.Residual)) }, print: func(l *Line) string { return signedMillis(l.Residual) }},
	{csv: "bar", page: ">bar", cell: func(l *Line) string { return l.Bar }},
	{csv: "hit timecode", page: "hit", cell: func(l *Line) string { return l.HitTimecode }},
	{csv: "hit s", cell: func(l *Line) string { return secondsCell(timeline.Time(l.Hit)) }},
	{csv: "command s", cell: func(l *Line) string { return secondsCell(timeline.Time(l.Command)) }},
	{csv: "lead s", page: ">lead s", cell: func(l *Line) string { return l.Lead.String() }, print: func(l *Line) string { return short(l.Lead) }},
	{csv: "position", page: "position", cell: func(l *Line) string { return l.PositionName }},
	{csv: "placed effect", page: "effect", cell: func(l *Line) string { return cmp.Or(l.PlacedName, l.DeviceName) }},
	{csv: "outputs", page: "output", cell: func(l *Line) string { return labelsOf(l.Outputs) }, print: func(l *Line) string { return shortLabels(l.Outputs) }},
	{csv: "value", page: "value", cell: func(l *Line) string { return valuesOf(l.Outputs) }, print: func(l *Line) string { return strings.ReplaceAll(valuesOf(l.Outputs), " ", "") }},
	{csv: "article", page: "article", cell: func(l *Line) string { return l.ArticleName }},
	{csv: "open s", page: ">open s", cell: func(l *Line) string { return l.Open.String() }, print: func(l *Line) string { return short(l.Open) }},
	{csv: "closes", cell: func(l *Line) string { return l.Close }},
	{csv: "level %", cell: func(l *Line) string { return blankZero(l.Level) }},
	{csv: "lane", cell: func(l *Line) string { return l.LaneName }},
	{csv: "cue", cell: func(l *Line) string { return l.Cue }},
	{csv: "note", page: "note", cell: func(l *Line) string { return l.Note }},
}

// blankZero writes a whole number; 0 is nothing to write.
func blankZero(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// WriteCSV writes the cue list after RFC 4180: the head as lines of label and
// text, then a line of column names, then the commands. All lines are equally
// wide. Numbers carry no minus sign, so that no cell looks like a formula:
// times before the start of the audio are written `before 0.4500`, residuals
// `late 10.00` or `early 10.00`.
func (l *CueList) WriteCSV(w io.Writer) error {
	heads := cueColumns.csvHeads()
	c := newCSV(w, len(heads))
	c.line("cue list")
	for _, pair := range l.Head.lines() {
		c.line(pair[0], pair[1])
	}
	c.line(heads...)
	for i := range l.Lines {
		c.line(cueColumns.csvCells(&l.Lines[i])...)
	}
	for _, lost := range l.Lost {
		c.line(cellsUnder(heads, map[string]string{"number": "none", "song": lost.Song, "action": "lost", "cue": lost.Cue, "note": lost.Reason + ": " + lost.Name})...)
	}
	return c.done()
}
