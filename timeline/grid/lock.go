package grid

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// Locks is the user's word on a grid, which listening again does not overrule. It is kept as texts with the song: bpm=128, bar-one=0.5120,
// metre=3/4, tap=10.4800, stretch=62.0000..75.5000.
type Locks struct {
	BPM       MilliBPM       // of felt beats; 0 = not locked
	BarOne    *timeline.Time // where a bar begins
	Metre     timeline.Metre
	Taps      []timeline.Time
	Stretches []Stretch // in which the grid stays as it is

	others []string // that nothing here reads
}

// Stretch is a part of a song.
type Stretch struct{ From, To timeline.Time }

// String writes the stretch as locks have it.
func (s Stretch) String() string { return s.From.Text(4) + ".." + s.To.Text(4) }

// ParseStretch reads two times with .. between them.
func ParseStretch(text string) (Stretch, error) {
	a, b, ok := strings.Cut(text, "..")
	from, err := timeline.ParseTime(a)
	to, err2 := timeline.ParseTime(b)
	if !ok || err != nil || err2 != nil || to <= from {
		return Stretch{}, fmt.Errorf("stretch %q cannot be read: write its start and its end such as 62..75.5 or 1:02..1:15.5", text)
	}
	return Stretch{from, to}, nil
}

// ReadLocks reads the locks of a song. What it does not know is kept, and written again. The error names the text that cannot be read.
func ReadLocks(list []string) (l Locks, err error) {
	for _, text := range list {
		key, value, _ := strings.Cut(text, "=")
		switch key {
		case "bpm":
			l.BPM, err = ParseBPM(value)
		case "bar-one":
			var at timeline.Time
			at, err = timeline.ParseTime(value)
			l.BarOne = &at
		case "metre":
			l.Metre, err = timeline.ParseMetre(value)
		case "tap":
			var at timeline.Time
			at, err = timeline.ParseTime(value)
			l.Taps = append(l.Taps, at)
		case "stretch":
			var s Stretch
			s, err = ParseStretch(value)
			l.Stretches = append(l.Stretches, s)
		default:
			l.others = append(l.others, text)
		}
		if err != nil {
			return Locks{}, fmt.Errorf("lock %q: %w", text, err)
		}
	}
	slices.Sort(l.Taps)
	return l, nil
}

// Texts writes the locks as a song keeps them.
func (l Locks) Texts() []string {
	var list []string
	if l.BPM > 0 {
		list = append(list, "bpm="+l.BPM.String())
	}
	if l.BarOne != nil {
		list = append(list, "bar-one="+l.BarOne.Text(4))
	}
	if !l.Metre.IsZero() {
		list = append(list, "metre="+l.Metre.String())
	}
	for _, t := range l.Taps {
		list = append(list, "tap="+t.Text(4))
	}
	for _, s := range l.Stretches {
		list = append(list, "stretch="+s.String())
	}
	return append(list, l.others...)
}

// Lockable is what can be locked.
type Lockable string

// What can be: each as the grid has it, a stretch by its ends.
const (
	LockTempo   Lockable = "tempo"
	LockMetre   Lockable = "metre"
	LockBarOne  Lockable = "bar-one"
	LockStretch Lockable = "stretch"
)

// Lockables lists them.
func Lockables() []Lockable { return []Lockable{LockTempo, LockMetre, LockBarOne, LockStretch} }

// Has reports whether something is locked.
func (l *Locks) Has(what Lockable) bool {
	switch what {
	case LockTempo:
		return l.BPM > 0
	case LockMetre:
		return !l.Metre.IsZero()
	case LockBarOne:
		return l.BarOne != nil
	}
	return len(l.Stretches) > 0
}

// Lock locks something as a grid has it; the stretch counts for that alone, and an empty one is refused.
func (l *Locks) Lock(what Lockable, m *timeline.BeatMap, s Stretch) error {
	if m.Empty() {
		return errNoBeats
	}
	one := m.BarStart(1)
	switch what {
	case LockTempo:
		l.BPM = TempoOf(m, one) / MilliBPM(m.MetreAt(1).Pulse())
	case LockMetre:
		l.Metre = m.MetreAt(1)
	case LockBarOne:
		at := one.RoundTo(timeline.EntryStep)
		l.BarOne = &at
	case LockStretch:
		if s.To <= s.From {
			return errors.New("no stretch is given to be locked: give its start and its end such as 62..75.5")
		}
		if !slices.Contains(l.Stretches, s) {
			l.Stretches = append(l.Stretches, s)
		}
	}
	return nil
}

// Unlock takes the user's word back; all stretches at once.
func (l *Locks) Unlock(what Lockable) {
	switch what {
	case LockTempo:
		l.BPM, l.Taps = 0, nil
	case LockMetre:
		l.Metre = timeline.Metre{}
	case LockBarOne:
		l.BarOne = nil
	case LockStretch:
		l.Stretches = nil
	}
}

// Words names what is locked, with what it is locked to.
func (l *Locks) Words() []string {
	var list []string
	if l.Has(LockMetre) {
		list = append(list, "metre "+l.Metre.String())
	}
	if l.Has(LockTempo) {
		list = append(list, "tempo "+l.BPM.String())
	}
	if l.Has(LockBarOne) {
		list = append(list, "bar 1 at "+l.BarOne.Text(2)+" s")
	}
	for _, s := range l.Stretches {
		list = append(list, s.From.Clock(1)+" to "+s.To.Clock(1))
	}
	return list
}

// barLine is the start of a bar.
type barLine struct {
	at    timeline.Time
	metre timeline.Metre
}

// Joined gives a grid that was heard, with the old one in the stretches that are locked: each of those begins and ends with a bar of the
// old one. Bars are counted on from one to the next, and the line of bar 1 is the one next to where it is heard. length is that of the song.
func Joined(old, heard *timeline.BeatMap, stretches []Stretch, length timeline.Time) (*timeline.BeatMap, error) {
	if old.Empty() || heard.Empty() || len(stretches) == 0 {
		return heard, nil
	}
	inside := func(at timeline.Time) bool {
		return slices.ContainsFunc(stretches, func(s Stretch) bool { return s.From <= at && at <= s.To })
	}
	lines := linesOf(heard, length)
	kept := slices.DeleteFunc(linesOf(old, length), func(l barLine) bool { return !inside(l.at) })
	if len(kept) == 0 {
		return heard, nil
	}
	near := func(l barLine) bool { // a line that is heard within half a bar of one that stays gives way to it
		for _, k := range kept {
			bar := old.BarStart(nearestBar(old, k.at)+1) - old.BarStart(nearestBar(old, k.at))
			if d := l.at - k.at; d < bar/2 && d > -bar/2 {
				return true
			}
		}
		return false
	}
	lines = append(slices.DeleteFunc(lines, func(l barLine) bool { return inside(l.at) || near(l) }), kept...)
	slices.SortFunc(lines, func(a, b barLine) int { return int(min(max(a.at-b.at, -1), 1)) })
	one := 0
	for i, l := range lines {
		if d, best := l.at-heard.BarStart(1), lines[one].at-heard.BarStart(1); max(d, -d) < max(best, -best) {
			one = i
		}
	}
	var anchors []timeline.Anchor
	metre := timeline.Metre{}
	for i, l := range lines {
		a := timeline.Anchor{Bar: i - one + 1, At: l.at}
		if l.metre != metre {
			a.Metre, metre = l.metre, l.metre
		}
		anchors = append(anchors, a)
	}
	return timeline.NewBeatMap(anchors)
}

// linesOf gives the starts of the bars of a map in a song, with one before and one after it.
func linesOf(m *timeline.BeatMap, length timeline.Time) []barLine {
	var list []barLine
	for bar := m.Locate(0).Bar; ; bar++ {
		list = append(list, barLine{m.BarStart(bar), m.MetreAt(bar)})
		if m.BarStart(bar) > length {
			return list
		}
	}
}
