package sheet

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"

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

// cueColumns are the columns of the cue list in CSV.
var cueColumns = []string{"number", "song number", "song", "action", "timecode", "residual ms", "bar", "hit timecode", "hit s", "command s", "lead s",
	"position", "placed effect", "outputs", "value", "article", "open s", "closes", "level %", "lane", "cue", "note"}

// WriteCSV writes the cue list after RFC 4180: the head as lines of label and
// text, then a line of column names, then the commands. All lines are equally
// wide. Numbers carry no minus sign, so that no cell looks like a formula:
// times before the start of the audio are written `before 0.4500`, residuals
// `late 10.00` or `early 10.00`.
func (l *CueList) WriteCSV(w io.Writer) error {
	c := newCSV(w, len(cueColumns))
	c.line("cue list")
	for _, pair := range l.Head.lines() {
		c.line(pair[0], pair[1])
	}
	c.line(cueColumns...)
	for i := range l.Lines {
		c.line(l.Lines[i].cells()...)
	}
	for _, lost := range l.Lost {
		c.line(lost.cells()...)
	}
	return c.done()
}

// cells puts a cue without a command in the same columns.
func (l Lost) cells() []string {
	cells := make([]string, len(cueColumns))
	cells[0], cells[2], cells[3] = "none", l.Song, "lost"
	cells[len(cells)-2], cells[len(cells)-1] = l.Cue, l.Reason+": "+l.Name
	return cells
}

func (l *Line) cells() []string {
	level := ""
	if l.Level > 0 {
		level = strconv.Itoa(l.Level)
	}
	target := l.PlacedName
	if target == "" {
		target = l.DeviceName
	}
	return []string{strconv.Itoa(l.Number), strconv.Itoa(l.SongNumber), l.SongTitle, l.Action, l.Timecode,
		residualCell(timeline.Time(l.Residual)), l.Bar, l.HitTimecode, secondsCell(timeline.Time(l.Hit)), secondsCell(timeline.Time(l.Command)),
		l.Lead.String(), l.PositionName, target, labelsOf(l.Outputs), valuesOf(l.Outputs), l.ArticleName, l.Open.String(), l.Close, level,
		l.LaneName, l.Cue, l.Note}
}
