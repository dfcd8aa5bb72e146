package timeline

import (
	"fmt"
	"slices"
	"strings"
)

// QuietWindow is a time in which a venue allows no effects, or none of some
// families: between two times of day, or in a song or its sections of a name.
type QuietWindow struct {
	Name     string
	From, To string // times of day, HH:MM; "" = a song is named
	Song     ID
	Section  string   // by name or id; "" = the whole song
	Families []Family // none = every effect
}

const quietWords = "name from=HH:MM to=HH:MM, or song= section=, families="

// String writes the item form: `"no reports late" from=22:30 to=23:30
// families=report,flash-pot`, or `dark song=ember section=bridge`.
func (q QuietWindow) String() string {
	var w itemWriter
	w.head(q.Name)
	w.pair("from", q.From)
	w.pair("to", q.To)
	w.pair("song", string(q.Song))
	w.pair("section", q.Section)
	w.pair("families", joinIDs(q.Families))
	return w.String()
}

// ParseQuietWindow reads the item form of a quiet window.
func ParseQuietWindow(s string) (QuietWindow, error) {
	r := readItem(s)
	q := QuietWindow{Name: r.head("a name")}
	q.From, q.To = take(r, "from", parseClock), take(r, "to", parseClock)
	q.Song, q.Section = take(r, "song", parseID), r.value("section")
	q.Families = take(r, "families", parseFamilies)
	switch {
	case r.err != nil:
	case (q.From == "") != (q.To == ""):
		r.err = fmt.Errorf("gives only one time of day; write from= and to=")
	case q.From != "" && q.Song != "":
		r.err = fmt.Errorf("names times of day and a song; write one item for each")
	case q.From == "" && q.Song == "":
		r.err = fmt.Errorf("says not when; write from=22:30 to=23:00, or song=song-id")
	case q.Song == "" && q.Section != "":
		r.err = fmt.Errorf("names a section and no song; write song=song-id")
	}
	return q, r.done(quietWords)
}

// parseClock reads a time of day, HH:MM.
func parseClock(s string) (string, error) {
	if s == "" {
		return s, nil
	}
	h, m, ok := strings.Cut(s, ":")
	hours, okH := parseCount(h, 23)
	minutes, okM := parseCount(m, 59)
	if !ok || !okH || !okM || len(m) != 2 || len(h) > 2 {
		return "", fmt.Errorf("must be a time of day such as 22:30")
	}
	return fmt.Sprintf("%02d:%02d", hours, minutes), nil
}

// clockTime is a time of day from midnight; false for "".
func clockTime(s string) (Time, bool) {
	h, m, ok := strings.Cut(s, ":")
	hours, okH := parseCount(h, 23)
	minutes, okM := parseCount(m, 59)
	return Time(hours*60+minutes) * Minute, ok && okH && okM
}

// Covers reports whether the window means an article.
func (q *QuietWindow) Covers(a *Article) bool {
	return len(q.Families) == 0 || slices.Contains(q.Families, a.Family)
}

// TimeOfDay gives the time of day of a song's time, from midnight before the
// night begins; false when the night does not say when it begins.
func (p *Plan) TimeOfDay(song int, at Time) (Time, bool) {
	if p.Night == nil {
		return 0, false
	}
	begins, ok := clockTime(p.Night.Begins)
	return begins + p.Songs[song].At + at, ok
}

// TimeSpan is a piece of a song or a recording, from the start of its audio.
type TimeSpan struct{ From, To Time }

// QuietIn gives the pieces of a song of the plan that a window means, by time;
// known is false when it takes the hour at which the night begins and the night
// does not say.
func (p *Plan) QuietIn(q *QuietWindow, song int) (spans []TimeSpan, known bool) {
	ps := &p.Songs[song]
	whole := TimeSpan{-ps.PreRoll, max(ps.Duration, 0)}
	switch {
	case q.Song != "" && q.Song != ps.Song.ID:
		return nil, true
	case q.Song != "" && q.Section == "":
		return []TimeSpan{whole}, true
	case q.Song != "":
		for _, s := range ps.Song.Sections {
			if from, ok := s.At.In(ps.Song.Beats); ok && (string(s.ID) == q.Section || strings.EqualFold(s.Name, q.Section)) {
				spans = append(spans, TimeSpan{from, ps.sectionEnd(s, from)})
			}
		}
		slices.SortFunc(spans, func(a, b TimeSpan) int { return int(min(1, max(-1, a.From-b.From))) })
		return spans, true
	}
	start, known := p.TimeOfDay(song, 0)
	if !known {
		return nil, false
	}
	from, _ := clockTime(q.From)
	to, _ := clockTime(q.To)
	if to <= from {
		to += day
	}
	for shift := Time(0); shift <= 2*day; shift += day { // a show may go on after midnight
		spans = append(spans, TimeSpan{from - day + shift - start, to - day + shift - start})
	}
	return spans, true
}

const day = 24 * 60 * Minute
