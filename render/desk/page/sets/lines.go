package sets

import (
	"slices"

	"emberbeat/timeline"
)

// Line is an entry of a set with where it stands in time.
type Line struct {
	timeline.Entry
	Number int           // among those played, 0 for one left out
	At     timeline.Time // of its audio, from the start of the first

	song *timeline.Song // nil where it is gone
	cut  bool           // the night leaves it out
}

// Lines gives the entries of a set with numbers and times, and how long it plays. Of alternatives only the longest counts towards the
// length; the times are those of a set that plays them all, as the plan has it.
func Lines(p *timeline.Plan, set *timeline.Set) (lines []Line, length timeline.Time) {
	var at timeline.Time
	longest := map[string]timeline.Time{}
	n := 0
	for _, e := range set.Entries {
		l := Line{Entry: e, song: p.Show.Song(e.Song)}
		l.cut = p.Set == set && p.Night != nil && slices.ContainsFunc(p.Night.Cuts, func(c timeline.Cut) bool { return c.What == "song" && c.ID == string(e.Song) })
		if !e.Out && !l.cut && l.song != nil {
			n++
			l.Number, l.At = n, at
			long := l.song.Duration()
			at += long + e.Gap
			if e.Alt == "" {
				length += long + e.Gap
			} else {
				longest[e.Alt] = max(longest[e.Alt], long+e.Gap)
			}
		}
		lines = append(lines, l)
	}
	for _, long := range longest {
		length += long
	}
	return lines, length
}

// remark says what is special about an entry.
func (l *Line) remark() string {
	text := ""
	add := func(on bool, word string) {
		if on && text != "" {
			text += ", "
		}
		if on {
			text += word
		}
	}
	add(l.Out, "left out")
	add(l.cut, "cut for the night")
	add(l.Encore, "encore")
	add(l.Alt != "", "alternative "+l.Alt)
	return text
}
