package report

import (
	"fmt"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// Filter chooses what a sheet shows. The zero value shows everything, in the
// order it is played.
type Filter struct {
	Song     timeline.ID // only this song
	Bars     *Bars       // only hits in these bars
	Choice   *Choice     // only commands of these; nil = all
	Order    Order       // of lists of commands, song by song
	Together bool        // all songs in one list, and not song by song

	Standing *Standing // of the whole plan, where it is known already
}

// Bars is a range of bars, both ends included.
type Bars struct{ From, To int }

// ParseBars reads `17`, `17-24` or `-1..4`.
func ParseBars(s string) (*Bars, error) {
	from, to, isRange := strings.Cut(s, "..")
	if !isRange && len(s) > 0 {
		// A minus at the start is a sign, a later one makes a range.
		if i := strings.Index(s[1:], "-"); i >= 0 {
			from, to, isRange = s[:i+1], s[i+2:], true
		}
	}
	if !isRange {
		to = from
	}
	a, errA := strconv.Atoi(from)
	b, errB := strconv.Atoi(to)
	if errA != nil || errB != nil || b < a {
		return nil, fmt.Errorf("bars %q cannot be read: write a bar such as 17, or a range such as 17-24 or 0..4", s)
	}
	return &Bars{a, b}, nil
}

// String writes the bars as ParseBars reads them.
func (b *Bars) String() string {
	if b.From == b.To {
		return fmt.Sprintf("bar %d", b.From)
	}
	return fmt.Sprintf("bars %d to %d", b.From, b.To)
}

// Shows reports whether the filter shows a song.
func (f Filter) Shows(song timeline.ID) bool { return f.Song == "" || f.Song == song }

// ShowsAt reports whether the filter shows what happens at a time of a song. A
// song without a beat map has no bars: then a choice of bars shows nothing.
func (f Filter) ShowsAt(song *timeline.Song, at timeline.Time) bool {
	if !f.Shows(song.ID) {
		return false
	}
	if f.Bars == nil {
		return true
	}
	b := song.Beats
	return !b.Empty() && at >= b.BarStart(f.Bars.From) && at < b.BarStart(f.Bars.To+1)
}

// ShowsCommand reports whether the filter shows a command.
func (f Filter) ShowsCommand(ps *timeline.PlanSong, c *timeline.Command) bool {
	return f.ShowsAt(ps.Song, c.Hit) && (f.Choice == nil || f.Choice.command(ps, c))
}

// ShowsWindow reports whether the filter shows a window of a slot going up or
// down at a time.
func (f Filter) ShowsWindow(ps *timeline.PlanSong, w *timeline.Window, at timeline.Time) bool {
	return f.ShowsAt(ps.Song, at) && (f.Choice == nil || f.Choice.window(ps, w))
}

// Said says in words what is not shown, so that no part of a list is taken for
// all of it; "" where everything is shown, in the order it is played.
func (f Filter) Said(p *timeline.Plan) string {
	var parts []string
	if g := p.Show.Song(f.Song); g != nil {
		parts = append(parts, "only "+g.FullTitle())
	}
	if f.Bars != nil {
		parts = append(parts, "only "+f.Bars.String())
	}
	if f.Choice != nil {
		parts = append(parts, f.Choice.said(p.Show)...)
	}
	switch {
	case f.Together:
		parts = append(parts, "all songs together by "+string(f.Order.OrCommand()))
	case f.Order.OrCommand() != ByCommand:
		parts = append(parts, "by "+string(f.Order))
	}
	return strings.Join(parts, "; ")
}

// StartsRight returns an error for the first song shown whose start is no label
// of the rate: its timecodes would all be wrong.
func StartsRight(p *timeline.Plan, f Filter) error {
	for i := range p.Songs {
		if ps := &p.Songs[i]; f.Shows(ps.Song.ID) && ps.StartErr != nil {
			return fmt.Errorf("song %q: its start: %w", ps.Song.FullTitle(), ps.StartErr)
		}
	}
	return nil
}
