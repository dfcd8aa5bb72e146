package changed

import (
	"fmt"
	"strconv"
	"time"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// Save is a show as it was before a save replaced it.
type Save struct {
	Replaced time.Time
	Show     *timeline.Show // nil where it cannot be read
	Err      error          // why
}

// SaveList tells what the older saves of a show hold, newest first.
type SaveList struct {
	Saves []SaveLine `json:"saves"`
}

// SaveLine is one of them. Number is what names it: the folder, @ and the number.
type SaveLine struct {
	Number   int      `json:"number"`
	Replaced string   `json:"replaced"` // when the next one took its place; RFC 3339
	Songs    int      `json:"songs"`
	Cues     int      `json:"cues"`
	Changed  []string `json:"changed"`           // what the save that replaced it changed
	Problem  string   `json:"problem,omitempty"` // why it cannot be read

	at time.Time
}

// NewSaveList compares each save, newest first, with the one that replaced it: the
// newest with the show as it is, nil where that cannot be read.
func NewSaveList(now *timeline.Show, saves []Save) *SaveList {
	l := &SaveList{Saves: []SaveLine{}}
	next := now
	for i, s := range saves {
		line := SaveLine{Number: i + 1, Replaced: s.Replaced.UTC().Format(time.RFC3339), Changed: []string{}, at: s.Replaced}
		if s.Show == nil {
			line.Problem = "cannot be read"
			if s.Err != nil {
				line.Problem += ": " + s.Err.Error()
			}
		} else {
			line.Songs = len(s.Show.Songs)
			for _, g := range s.Show.Songs {
				line.Cues += len(g.Cues)
			}
			if next != nil {
				line.Changed = append(line.Changed, NewDiff(s.Show, next).Summary...)
			}
		}
		l.Saves = append(l.Saves, line)
		next = s.Show
	}
	return l
}

// Said is what the save that replaced it changed, in one line.
func (l *SaveLine) Said() string {
	switch n := len(l.Changed); {
	case l.Problem != "":
		return l.Problem
	case n == 0:
		return "nothing that a difference tells"
	case n == 1:
		return l.Changed[0]
	default:
		return fmt.Sprintf("%s, and %d more", l.Changed[0], n-1)
	}
}

// At is the time of it for people, in a time zone.
func (l *SaveLine) At(zone *time.Location) string { return l.at.In(zone).Format("2006-01-02 15:04:05") }

// Table lists the saves for people.
func (l *SaveList) Table() *wording.Table {
	t := &wording.Table{Columns: []wording.Column{{Name: "save", Right: true}, {Name: "replaced"}, {Name: "songs", Right: true}, {Name: "cues", Right: true}, {Name: "then changed"}}}
	for i := range l.Saves {
		s := &l.Saves[i]
		t.Rows = append(t.Rows, []string{"@" + strconv.Itoa(s.Number), s.At(time.Local), strconv.Itoa(s.Songs), strconv.Itoa(s.Cues), s.Said()})
	}
	return t
}
