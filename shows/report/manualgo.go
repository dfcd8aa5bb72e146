package report

import (
	"fmt"
	"io"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// ManualGo is what is called by hand when timecode is lost: the moments of each
// song that a person can call, in order.
type ManualGo struct {
	Head
	Gap   wording.Seconds `json:"call_gap"` // moments that come sooner after a call are left out
	Songs []ManualSong    `json:"songs"`
}

// ManualSong is one song called by hand.
type ManualSong struct {
	Number   int             `json:"number"`
	Song     string          `json:"song"` // id
	Title    string          `json:"title"`
	Start    string          `json:"start"`
	BarOne   string          `json:"bar_one"` // timecode; "" without a beat map
	Duration wording.Seconds `json:"duration"`
	Moments  []ManualMoment  `json:"moments"`
}

// ManualMoment is one call. Its times count from the start of the song's audio.
type ManualMoment struct {
	Call      int             `json:"call"`            // from 1 in each song
	Bar       string          `json:"bar"`             // of the hit; "" without a beat map
	Place     string          `json:"place"`           // section, and the bar in it
	Words     string          `json:"words,omitempty"` // markers at the hit
	ReEntry   bool            `json:"re_entry"`        // the first of its section: here calling can start again
	Timecode  string          `json:"timecode"`        // of its first command
	Go        wording.Seconds `json:"go"`              // its first command
	Hit       wording.Seconds `json:"hit"`
	Countdown wording.Seconds `json:"countdown"` // from the call before, or from the start of the audio
	What      []string        `json:"what"`
	Open      wording.Seconds `json:"open"` // how long the longest output is held open
	Arms      []string        `json:"arms"` // what must be on; set by hand
	Note      string          `json:"note,omitempty"`
	Missed    string          `json:"if_missed"` // where to go on; "" = with the next song
	LeftOut   int             `json:"left_out"`  // moments before the next call that come too soon to be called

	part int
}

// NewManualGo gives the manual-go list of the songs a filter shows. A choice of
// bars has no meaning here and is not looked at.
func NewManualGo(p *timeline.Plan, f Filter) (*ManualGo, error) {
	if err := StartsRight(p, f); err != nil {
		return nil, err
	}
	out := &ManualGo{Head: HeadOf(p).Showing(p, Filter{Song: f.Song}), Gap: wording.Seconds(rule.CallGap.Time(p.Show, p.Show.Song(f.Song))), Songs: []ManualSong{}}
	for i := range p.Songs {
		if ps := &p.Songs[i]; f.Shows(ps.Song.ID) {
			out.Songs = append(out.Songs, manualSong(p.Show, ps))
		}
	}
	return out, nil
}

func manualSong(show *timeline.Show, ps *timeline.PlanSong) ManualSong {
	s := ManualSong{Number: ps.Number, Song: string(ps.Song.ID), Title: ps.Song.FullTitle(), Start: ps.Label(0), Duration: wording.Seconds(ps.Duration), Moments: []ManualMoment{}}
	if !ps.Song.Beats.Empty() {
		s.BarOne = ps.Label(ps.Song.Beats.BarStart(1))
	}
	parts := PartsOf(ps)
	last, gap := timeline.Time(0), rule.CallGap.Time(show, ps.Song)
	reach := rule.MarkerReach.Time(show, ps.Song)
	for _, m := range momentsOf(ps) {
		n := len(s.Moments)
		if n > 0 && m.from-last < gap {
			s.Moments[n-1].LeftOut++
			continue
		}
		s.Moments = append(s.Moments, m.call(ps, parts, n+1, last, reach))
		last = m.from
	}
	nameReEntries(s.Moments, parts)
	return s
}

func (m *moment) call(ps *timeline.PlanSong, parts []Part, number int, last, reach timeline.Time) ManualMoment {
	i := PartAt(parts, m.hit)
	return ManualMoment{Call: number, Bar: m.bar(ps), Place: parts[i].Place(ps.Song, m.hit), Words: m.markers(ps, reach), Timecode: ps.Rate.Label(m.frame), Go: wording.Seconds(m.from), Hit: wording.Seconds(m.hit),
		Countdown: wording.Seconds(m.from - last), What: m.what(ps), Open: wording.Seconds(m.open), Arms: ArmsNeeded(ps, m.commands), Note: m.notes(), part: i}
}

// nameReEntries marks the first call of each section, and names for every call
// the next such one: who has missed a call has lost the place, and a call is
// never made late.
func nameReEntries(calls []ManualMoment, parts []Part) {
	next := ""
	for i := len(calls) - 1; i >= 0; i-- {
		m := &calls[i]
		m.Missed = next
		if m.ReEntry = i == 0 || calls[i-1].part != m.part; m.ReEntry {
			next = fmt.Sprintf("call %d", m.Call)
			if m.Bar != "" {
				next += " · " + m.Bar
			}
			next += " · " + parts[m.part].Name
		}
	}
}

// wording.WriteJSON writes the list as one JSON object.
func (l *ManualGo) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, l) }
