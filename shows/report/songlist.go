package report

import (
	"fmt"
	"strconv"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// SongList is the songs of a show: those of the plan's running order first,
// then the others.
type SongList struct {
	Songs []SongLine `json:"songs"`
}

// SongLine is one song with what is programmed to it.
type SongLine struct {
	Number   int             `json:"number"` // in the running order; 0 = not played
	ID       string          `json:"id"`
	Title    string          `json:"title"`
	Of       string          `json:"version_of,omitempty"`  // the song it is a version of
	Shared   int             `json:"cues_shared,omitempty"` // of its cues, those that are that song's
	Slug     string          `json:"slug"`
	Start    string          `json:"start"`
	Duration wording.Seconds `json:"duration"`
	At       wording.Seconds `json:"at"` // start of its audio in the set
	BPM      float64         `json:"bpm"`
	Metre    string          `json:"metre"`
	Beats    bool            `json:"beats"`     // it has a beat map
	Sure     bool            `json:"confirmed"` // and a user has confirmed it
	Sections int             `json:"sections"`
	Lanes    int             `json:"lanes"`
	Cues     int             `json:"cues"`
	Audio    string          `json:"audio"`
}

// NewSongList lists the songs of a plan's show.
func NewSongList(p *timeline.Plan) *SongList {
	l := &SongList{Songs: []SongLine{}}
	played := map[timeline.ID]bool{}
	for _, ps := range p.Songs {
		line := songLine(p.Rate, ps.Song)
		line.Number, line.At, line.Start = ps.Number, wording.Seconds(ps.At), ps.Rate.Label(ps.Start)
		if ps.StartErr != nil {
			line.Start = ps.Song.Start.String()
		}
		l.Songs, played[ps.Song.ID] = append(l.Songs, line), true
	}
	for _, g := range p.Show.SongsByStart() {
		if !played[g.ID] {
			l.Songs = append(l.Songs, songLine(p.Rate, p.Show.Programmed(g)))
		}
	}
	return l
}

func songLine(rate timeline.Rate, g *timeline.Song) SongLine {
	line := SongLine{ID: string(g.ID), Title: g.FullTitle(), Of: string(g.VersionOf), Shared: g.Lent(), Slug: g.Slug, Start: g.Start.String(), Duration: wording.Seconds(g.Duration()),
		Beats: !g.Beats.Empty(), Sure: g.Confirmed, Sections: len(g.Sections), Lanes: len(g.Lanes), Cues: len(g.Cues), Audio: g.Audio.Path}
	if frame, err := rate.Frame(g.Start); err == nil {
		line.Start = rate.Label(frame)
	}
	if line.Beats {
		line.BPM, line.Metre = g.Beats.BPM(g.Duration()/2), g.Beats.MetreAt(1).String()
	}
	return line
}

// Find finds a song's line by its id.
func (l *SongList) Find(id timeline.ID) (SongLine, bool) {
	for _, s := range l.Songs {
		if s.ID == string(id) {
			return s, true
		}
	}
	return SongLine{}, false
}

// String says in one line which song it is and what the ear made of it.
func (s SongLine) String() string {
	beats := "no beat map"
	if s.Beats {
		beats = fmt.Sprintf("%.2f bpm %s", s.BPM, s.counted())
		if !s.Sure {
			beats += ", not confirmed"
		}
	}
	return fmt.Sprintf("song:%s %q in %s, length %s, starts at %s, %s, %d sections", s.ID, s.Title, s.Slug,
		timeline.Time(s.Duration).Clock(1), s.Start, beats, s.Sections)
}

// counted gives the metre, and the tempo that is counted where a beat of it is not what musicians tap.
func (s SongLine) counted() string {
	if m, err := timeline.ParseMetre(s.Metre); err == nil && m.Counted(s.BPM) != "" {
		return s.Metre + ", " + m.Counted(s.BPM)
	}
	return s.Metre
}

// Table gives the list for people.
func (l *SongList) Table() *wording.Table {
	t := &wording.Table{Columns: []wording.Column{{Name: "no", Right: true}, {Name: "title", Right: false}, {Name: "folder", Right: false}, {Name: "start", Right: false}, {Name: "length", Right: true}, {Name: "bpm", Right: true},
		{Name: "metre", Right: false}, {Name: "lanes", Right: true}, {Name: "cues", Right: true}, {Name: "audio", Right: false}}}
	for _, s := range l.Songs {
		number, bpm := "", "no beat map"
		if s.Number > 0 {
			number = strconv.Itoa(s.Number)
		}
		if s.Beats {
			bpm = strconv.FormatFloat(s.BPM, 'f', 2, 64)
		}
		audio := s.Audio
		if audio == "" {
			audio = "none"
		}
		t.Rows = append(t.Rows, []string{number, s.Title, s.Slug, s.Start, timeline.Time(s.Duration).Clock(1), bpm, s.counted(),
			strconv.Itoa(s.Lanes), strconv.Itoa(s.Cues), audio})
	}
	return t
}
