package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// TimeMap says where the stretches of an old recording are in a new one. What no
// run holds is lost (of the old) or added (in the new). Runs stand in the order
// of the new recording and never overlap there; in the old one they may, where
// something is heard twice now.
type TimeMap struct {
	Old, New Time // lengths of the two recordings
	Runs     []TimeRun
}

// TimeRun is a stretch of the old recording that goes on without a break in the
// new one, at one speed. A speed that drifts is many runs that touch.
type TimeRun struct {
	Old, OldEnd Time // in the old recording
	New, NewEnd Time // in the new recording
	Exact       bool // proved sample by sample; else beat by beat
	Sure        int  // how sure, in per mille: 0 no idea .. 1000
}

// LeastSure is how sure a run must be, in per mille, for what it carries to stand
// without a look: a judgement.
const LeastSure = 800

// Forward gives where a time of the old recording that the run holds is in the new
// one, to the nearest unit.
func (r TimeRun) Forward(old Time) Time {
	return r.New + scaled(old-r.Old, r.NewEnd-r.New, r.OldEnd-r.Old)
}

// Back gives where a time of the new recording that the run holds was in the old
// one, to the nearest unit.
func (r TimeRun) Back(at Time) Time { return r.Old + scaled(at-r.New, r.OldEnd-r.Old, r.NewEnd-r.New) }

// scaled is d·to/from; a run that is as long on both sides moves by a whole shift.
func scaled(d, to, from Time) Time {
	if to == from || from == 0 {
		return d
	}
	n, ok := mulRoundDiv(int64(d), int64(to), int64(from))
	if !ok {
		return Time(clampInt64((d < 0) != (to < 0)))
	}
	return Time(n)
}

// MapPlace is a time in the new recording, and the index of the run that leads there.
type MapPlace struct {
	At  Time
	Run int
}

// seam is how far beside a cut, as maps are written down, the instant lies that is
// meant by it.
const seam = EntryStep / 2

// Places gives every place in the new recording of what begins at a time in the old
// one, in the order of the new; none where it is lost. A run holds its start and not
// its end: what begins where a stretch was cut out is cut with it. The end of the old
// recording belongs to what reaches it.
func (m *TimeMap) Places(old Time) []MapPlace {
	var all []MapPlace
	for i, r := range m.Runs {
		if last := r.OldEnd >= m.Old-seam; r.Old-seam <= old && (old < r.OldEnd-seam || last && old <= m.Old) {
			all = append(all, MapPlace{r.Forward(min(max(old, r.Old), r.OldEnd)), i})
		}
	}
	return all
}

// Ends is Places for what ends at a time in the old recording: a run holds its end and
// not its start, but for the start of the recording.
func (m *TimeMap) Ends(old Time) []MapPlace {
	var all []MapPlace
	for i, r := range m.Runs {
		if first := r.Old <= seam; old <= r.OldEnd+seam && (old > r.Old+seam || first && old >= 0) {
			all = append(all, MapPlace{r.Forward(min(max(old, r.Old), r.OldEnd)), i})
		}
	}
	return all
}

// Came gives where a time of the new recording was in the old one, and the index
// of the run that holds it; false where it was added.
func (m *TimeMap) Came(at Time) (MapPlace, bool) {
	i, in := slices.BinarySearchFunc(m.Runs, at, func(r TimeRun, at Time) int { return cmp.Compare(r.New, at) })
	if !in {
		i--
	}
	if i < 0 || at > m.Runs[i].NewEnd {
		return MapPlace{}, false
	}
	return MapPlace{m.Runs[i].Back(at), i}, true
}

// Lost gives the stretches of the old recording that the new one has nowhere.
func (m *TimeMap) Lost() []TimeSpan {
	held := make([]TimeSpan, len(m.Runs))
	for i, r := range m.Runs {
		held[i] = TimeSpan{r.Old, r.OldEnd}
	}
	return besides(held, m.Old)
}

// Added gives the stretches of the new recording that the old one had nowhere.
func (m *TimeMap) Added() []TimeSpan {
	held := make([]TimeSpan, len(m.Runs))
	for i, r := range m.Runs {
		held[i] = TimeSpan{r.New, r.NewEnd}
	}
	return besides(held, m.New)
}

// besides gives what the spans leave of 0 to end.
func besides(held []TimeSpan, end Time) []TimeSpan {
	slices.SortFunc(held, func(a, b TimeSpan) int { return cmp.Compare(a.From, b.From) })
	var rest []TimeSpan
	at := Time(0)
	for _, h := range held {
		if h.From > at {
			rest = append(rest, TimeSpan{at, min(h.From, end)})
		}
		at = max(at, h.To)
	}
	if at < end {
		rest = append(rest, TimeSpan{at, end})
	}
	return rest
}

// Check says what is wrong with a map, or nil: a run without length, outside of a
// recording, surer than sure, or one that overlaps the run before it in the new
// recording.
func (m *TimeMap) Check() error {
	for i, r := range m.Runs {
		switch {
		case r.OldEnd <= r.Old || r.NewEnd <= r.New:
			return fmt.Errorf("run %d, %s: has no length", i+1, r)
		case r.Old < 0 || r.OldEnd > m.Old:
			return fmt.Errorf("run %d, %s: leaves the old recording, which is %s long", i+1, r, m.Old)
		case r.New < 0 || r.NewEnd > m.New:
			return fmt.Errorf("run %d, %s: leaves the new recording, which is %s long", i+1, r, m.New)
		case r.Sure < 0 || r.Sure > 1000:
			return fmt.Errorf("run %d, %s: sure must be 0 to 1000 per mille", i+1, r)
		case i > 0 && r.New < m.Runs[i-1].NewEnd:
			return fmt.Errorf("run %d, %s: begins before run %d has ended in the new recording", i+1, r, i)
		}
	}
	return nil
}

// String writes the item form: `0:01.0000..0:05.0000 to=0:02.0000..0:06.0000 exact sure=998`.
func (r TimeRun) String() string {
	var w itemWriter
	w.head(r.Old.String() + ".." + r.OldEnd.String())
	w.pair("to", r.New.String()+".."+r.NewEnd.String())
	w.flag("exact", r.Exact)
	w.pair("sure", strconv.Itoa(r.Sure))
	return w.String()
}

// ParseTimeRun reads the item form of a run.
func ParseTimeRun(s string) (TimeRun, error) {
	r := readItem(s)
	old := take2(r, r.head("a stretch of the old recording, from..to"), parseTimeSpan)
	is := take(r, "to", parseTimeSpan)
	run := TimeRun{Old: old.From, OldEnd: old.To, New: is.From, NewEnd: is.To, Exact: r.flag("exact")}
	run.Sure = take(r, "sure", func(s string) (int, error) {
		n, err := strconv.Atoi(s)
		if err != nil || n < 0 || n > 1000 {
			return 0, fmt.Errorf("must be 0 to 1000")
		}
		return n, nil
	})
	return run, r.done("from..to to=from..to exact sure=")
}

func parseTimeSpan(s string) (TimeSpan, error) {
	from, to, ok := strings.Cut(s, "..")
	if !ok {
		return TimeSpan{}, fmt.Errorf("must be from..to, as 1:02.5..1:10")
	}
	a, err := ParseTime(from)
	if err != nil {
		return TimeSpan{}, err
	}
	b, err := ParseTime(to)
	return TimeSpan{a, b}, err
}
