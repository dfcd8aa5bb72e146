package timeline

import (
	"cmp"
	"slices"
)

// PartOpen is what is left open if timecode stops in a part of a song: each
// output and window that is open at some time of it, and whose closing depends
// on timecode still to come.
type PartOpen struct {
	Section  *Section // nil before the first section, and in a song without any
	From, To Time     // the last part ends with the song, and takes what is later as well
	Open     []Standing
}

// LeftOpen lists the parts of a song in which something is left open if
// timecode stops there: outputs that are open for least or longer (those of
// igniters close by themselves), and arm, condition and warm-up windows. Parts
// reach from one section's start to the next one's.
func (p *SongPlan) LeftOpen(least Time) []PartOpen {
	parts := p.parts()
	for i := range p.Commands {
		if c := &p.Commands[i]; c.Article.Control != IgniterControl && c.Open >= least && c.Open > 0 {
			leave(parts, c.At, c.End(), Standing{Command: c})
		}
	}
	for i := range p.Windows {
		w := &p.Windows[i]
		end := w.Down
		if !w.Closes() {
			end = endless
		}
		leave(parts, w.Up, end, Standing{Window: w})
	}
	return slices.DeleteFunc(parts, func(x PartOpen) bool { return len(x.Open) == 0 })
}

// endless is later than anything in a show.
const endless = Time(1) << 62

// parts cuts a song at its sections' starts.
func (p *SongPlan) parts() []PartOpen {
	parts := []PartOpen{{From: -p.PreRoll}}
	for _, s := range p.Song.Sections {
		if at, ok := s.At.In(p.Song.Beats); ok {
			parts = append(parts, PartOpen{Section: s, From: at})
		}
	}
	slices.SortStableFunc(parts[1:], func(a, b PartOpen) int { return cmp.Compare(a.From, b.From) })
	for i := range parts {
		if parts[i].To = p.Duration; i+1 < len(parts) {
			parts[i].To = parts[i+1].From
		}
	}
	return parts
}

// leave enters what is open between two times into the parts it meets.
func leave(parts []PartOpen, from, end Time, s Standing) {
	first, _ := slices.BinarySearchFunc(parts, from, func(x PartOpen, t Time) int { return cmp.Compare(x.From, t+1) })
	for i := max(first-1, 0); i < len(parts) && (i == 0 || parts[i].From < end); i++ {
		if until := parts[i].To; i+1 == len(parts) || from < until && end > parts[i].From && until > parts[i].From {
			parts[i].Open = append(parts[i].Open, s)
		}
	}
}
