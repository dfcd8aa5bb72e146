package report

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strconv"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// WriteText writes the cue list for people: songs one after the other, each
// with its commands in columns.
func (l *CueList) WriteText(w io.Writer) error {
	out := bufio.NewWriter(w)
	if l.Shown != "" {
		fmt.Fprintf(out, "shown: %s\n\n", l.Shown)
	}
	if l.Together {
		return l.writeTogether(out)
	}
	next := 0
	for i, s := range l.Songs {
		if i > 0 {
			fmt.Fprintln(out)
		}
		fmt.Fprintf(out, "%d %q  audio from %s, length %s, timecode %s to %s at %s\n", s.Number, s.Title, s.Start,
			timeline.Time(s.Duration).Clock(1), s.First, s.Last, l.Rate)
		lines := l.Lines[next : next+s.Commands]
		next += s.Commands
		if len(lines) == 0 {
			fmt.Fprintln(out, "no commands")
			continue
		}
		if err := commandTable(lines).Write(out); err != nil {
			return err
		}
	}
	l.writeEnd(out)
	return out.Flush()
}

// writeTogether writes the commands of all songs in one table.
func (l *CueList) writeTogether(out *bufio.Writer) error {
	t := commandTable(l.Lines)
	t.Columns = append([]wording.Column{{Name: "song", Right: true}}, t.Columns...)
	for i := range t.Rows {
		t.Rows[i] = append([]string{strconv.Itoa(l.Lines[i].SongNumber)}, t.Rows[i]...)
	}
	if err := t.Write(out); err != nil {
		return err
	}
	l.writeEnd(out)
	return out.Flush()
}

// writeEnd writes which cues have no command, and the caution.
func (l *CueList) writeEnd(out io.Writer) {
	for i, lost := range l.Lost {
		if i == 0 {
			fmt.Fprintln(out)
		}
		song := slices.IndexFunc(l.Songs, func(s SongHead) bool { return s.Song == lost.Song })
		fmt.Fprintf(out, "no command: song %d, %s\n", l.Songs[song].Number, lost.Said())
	}
	fmt.Fprintf(out, "\n%s\n", CautionLine)
}

func commandTable(lines []Line) *wording.Table {
	t := &wording.Table{Columns: []wording.Column{{Name: "timecode", Right: false}, {Name: "ms", Right: true}, {Name: "bar", Right: false}, {Name: "hit", Right: true}, {Name: "action", Right: false}, {Name: "effect", Right: false},
		{Name: "outputs", Right: false}, {Name: "value", Right: false}, {Name: "article", Right: false}, {Name: "lead", Right: true}, {Name: "open", Right: true}, {Name: "cue", Right: false}}}
	for i := range lines {
		c := &lines[i]
		target := c.PlacedName
		if target == "" {
			target = c.DeviceName
		}
		t.Rows = append(t.Rows, []string{c.Timecode, wording.SignedMillis(c.Residual), c.Bar, timeline.Time(c.Hit).Clock(4), c.Action, target,
			LabelsOf(c.Outputs), ValuesOf(c.Outputs), c.ArticleName, c.Lead.String(), c.Open.String(), c.Cue})
	}
	return t
}
