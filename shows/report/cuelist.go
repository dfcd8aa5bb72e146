package report

import (
	"fmt"
	"io"

	"emberbeat/shows/report/wording"
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
	Number   int             `json:"number"`
	Song     string          `json:"song"` // id
	Title    string          `json:"title"`
	Start    string          `json:"start"` // timecode of the start of the audio
	First    string          `json:"first"` // timecode at which its pre-roll starts
	Last     string          `json:"last"`  // first timecode after it
	Duration wording.Seconds `json:"duration"`
	At       wording.Seconds `json:"at"` // start of its audio from that of the set's first
	Commands int             `json:"commands"`
}

// NewCueList gives the cue list of what a filter shows of a plan. A song whose start is no label of
// the rate is an error: its timecodes would all be wrong.
func NewCueList(p *timeline.Plan, f Filter) (*CueList, error) {
	l := &CueList{Head: HeadOf(p).Showing(p, f), Songs: []SongHead{}, Lines: []Line{}, Lost: []Lost{}, Used: totalsOf(p, f)}
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
	names := p.Show.Names()
	for _, lost := range ps.Lost {
		l.Lost = append(l.Lost, NewLost(names, ps.Song, lost.Cue, string(lost.Reason), lost.Name))
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
		First: ps.Rate.Label(ps.First()), Last: ps.Rate.Label(ps.Last()), Duration: wording.Seconds(ps.Duration), At: wording.Seconds(ps.At), Commands: commands}
}

// wording.WriteJSON writes the cue list as one JSON object.
func (l *CueList) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, l) }
