// Package matched says what became of an old recording of a song in a new one.
//
// Its one rule: it reads a time map and nothing else; it knows no sound and no show.
package matched

import (
	"cmp"
	"fmt"
	"slices"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// Recording says what became of an old recording of a song in a new one.
type Recording struct {
	Old   wording.Seconds `json:"old_seconds"`
	New   wording.Seconds `json:"new_seconds"`
	Runs  []RecordingRun  `json:"runs"`
	Lost  []RecordingSpan `json:"lost"`  // of the old recording: nowhere in the new one
	Added []RecordingSpan `json:"added"` // of the new recording: nowhere in the old one
	// Edits are what was done, worst first within each kind; without those too
	// short to be one.
	Edits []RecordingEdit `json:"edits"`
	// Held is how much of the old recording the new one has.
	Held wording.Seconds `json:"held_seconds"`
	// Answer says it in one sentence.
	Answer string `json:"answer"`
}

// RecordingRun is a stretch that goes on at one speed.
type RecordingRun struct {
	Old        wording.Seconds `json:"old"`
	New        wording.Seconds `json:"new"`
	Length     wording.Seconds `json:"length"` // in the new recording
	Rate       float64         `json:"rate"`   // old seconds in one new second
	Confidence float64         `json:"confidence"`
	Kind       string          `json:"kind"` // exact or matched
	Look       bool            `json:"look,omitempty"`
}

// OldEnd is where the run ends in the old recording.
func (r RecordingRun) OldEnd() wording.Seconds {
	return r.Old + wording.Seconds(float64(r.Length)*r.Rate+0.5)
}

// RecordingSpan is a stretch of one recording.
type RecordingSpan struct {
	From wording.Seconds `json:"from"`
	To   wording.Seconds `json:"to"`
}

// RecordingEdit is one thing that was done to a recording.
type RecordingEdit struct {
	What string         `json:"what"` // cut, repeated, moved, added, faster, slower
	Old  *RecordingSpan `json:"old,omitempty"`
	New  *RecordingSpan `json:"new,omitempty"`
	Rate float64        `json:"rate,omitempty"` // of faster and slower
	Text string         `json:"text"`
}

const (
	// leastEdit is how long a stretch must be to be called an edit: a fade from one
	// into the next leaves less. A judgement.
	leastEdit = 40 * timeline.Millisecond
	// leastSpeed is by how much a rate must differ from 1 to be called faster: a
	// hundredth of a percent is the clock of a machine.
	leastSpeed = 1e-4
)

// NewRecording reads a time map.
func NewRecording(m *timeline.TimeMap) *Recording {
	r := &Recording{Old: wording.Seconds(m.Old), New: wording.Seconds(m.New), Runs: []RecordingRun{}, Edits: []RecordingEdit{},
		Lost: recordingSpans(m.Lost()), Added: recordingSpans(m.Added())}
	held := m.Old
	for _, s := range m.Lost() {
		held -= s.To - s.From
	}
	r.Held = wording.Seconds(held)
	for _, run := range m.Runs {
		kind := "matched"
		if run.Exact {
			kind = "exact"
		}
		r.Runs = append(r.Runs, RecordingRun{wording.Seconds(run.Old), wording.Seconds(run.New), wording.Seconds(run.NewEnd - run.New),
			float64(run.OldEnd-run.Old) / float64(run.NewEnd-run.New), float64(run.Sure) / 1000, kind, run.Sure < timeline.LeastSure})
	}
	r.Edits = append(r.Edits, recordingEdits(m)...)
	r.Answer = r.answer(m)
	return r
}

func recordingSpans(list []timeline.TimeSpan) []RecordingSpan {
	spans := []RecordingSpan{}
	for _, s := range list {
		spans = append(spans, RecordingSpan{wording.Seconds(s.From), wording.Seconds(s.To)})
	}
	return spans
}

// answer says in a sentence what was found.
func (r *Recording) answer(m *timeline.TimeMap) string {
	percent := func(part timeline.Time) string {
		p := 100 * float64(part) / float64(max(1, m.Old))
		if p > 99 && p < 100 {
			p = 99
		}
		return fmt.Sprintf("%.0f %%", p)
	}
	look := 0
	exact := len(m.Runs) > 0
	for _, run := range m.Runs {
		exact = exact && run.Exact
		if run.Sure < timeline.LeastSure {
			look++
		}
	}
	tail := ""
	if look > 0 {
		tail = fmt.Sprintf("; look at %s", timeline.Counted(look, "place"))
	}
	switch {
	case len(m.Runs) == 0:
		return "nothing of the old recording is in the new one: it is another song, or silent, or too short to tell"
	case exact && len(r.Edits) == 0:
		return "the same recording, and nothing was moved" + tail
	case exact:
		return "the same recording, edited: " + percent(timeline.Time(r.Held)) + " of the old one is in it" + tail
	}
	return "the same song: " + percent(timeline.Time(r.Held)) + " of the old recording is in the new one" + tail
}

// recordingEdits finds what was done, from how the runs of a map follow each other.
func recordingEdits(m *timeline.TimeMap) []RecordingEdit {
	var list []RecordingEdit
	add := func(what string, old, new *RecordingSpan, rate float64, format string, args ...any) {
		list = append(list, RecordingEdit{what, old, new, rate, fmt.Sprintf(format, args...)})
	}
	long := func(s timeline.TimeSpan) bool { return s.To-s.From >= leastEdit }
	clock := func(t timeline.Time) string { return t.Clock(3) }
	seconds := func(t timeline.Time) string { return t.Text(3) + " s" }
	if len(m.Runs) == 0 {
		return nil
	}
	for _, s := range m.Lost() {
		if long(s) {
			add("cut", span(s), nil, 0, "%s to %s of the old recording is cut, %s", clock(s.From), clock(s.To), seconds(s.To-s.From))
		}
	}
	fresh, again := heardOnce(m)
	for _, p := range again {
		add("repeated", span(p.old), span(p.new), 0, "%s to %s of the old recording is heard again at %s, %s",
			clock(p.old.From), clock(p.old.To), clock(p.new.From), seconds(p.new.To-p.new.From))
	}
	for _, p := range displaced(fresh) {
		add("moved", span(p.old), span(p.new), 0, "%s to %s of the old recording was moved to %s, %s",
			clock(p.old.From), clock(p.old.To), clock(p.new.From), seconds(p.new.To-p.new.From))
	}
	first := m.Runs[0]
	for _, s := range m.Added() {
		switch {
		case !long(s):
		case s.From == 0 && first.Old < leastEdit:
			add("added", nil, span(s), 0, "the song starts %s later", seconds(s.To-first.Old))
		default:
			add("added", nil, span(s), 0, "%s to %s of the new recording was added, %s", clock(s.From), clock(s.To), seconds(s.To-s.From))
		}
	}
	return append(list, speeds(m)...)
}

func span(s timeline.TimeSpan) *RecordingSpan {
	return &RecordingSpan{wording.Seconds(s.From), wording.Seconds(s.To)}
}

// part is a stretch in both recordings.
type part struct{ old, new timeline.TimeSpan }

// heardOnce parts the runs of a map into what of the old recording is heard for
// the first time in the new one, and what is heard again.
func heardOnce(m *timeline.TimeMap) (fresh, again []part) {
	var held []timeline.TimeSpan
	for _, r := range m.Runs {
		put := func(list []part, from, to timeline.Time) []part {
			if to <= from {
				return list
			}
			p := part{timeline.TimeSpan{From: from, To: to}, timeline.TimeSpan{From: r.Forward(from), To: r.Forward(to)}}
			if n := len(list); n > 0 && near(list[n-1].old.To, p.old.From) && near(list[n-1].new.To, p.new.From) {
				list[n-1].old.To, list[n-1].new.To = p.old.To, p.new.To
				return list
			}
			return append(list, p)
		}
		at := r.Old
		slices.SortFunc(held, func(a, b timeline.TimeSpan) int { return cmp.Compare(a.From, b.From) })
		for _, h := range held {
			if h.To <= at || h.From >= r.OldEnd {
				continue
			}
			if h.From > at {
				fresh = put(fresh, at, h.From)
				at = h.From
			}
			again = put(again, at, min(h.To, r.OldEnd))
			at = min(h.To, r.OldEnd)
		}
		fresh = put(fresh, at, r.OldEnd)
		held = append(held, timeline.TimeSpan{From: r.Old, To: r.OldEnd})
	}
	short := func(p part) bool { return p.old.To-p.old.From < leastEdit }
	return slices.DeleteFunc(fresh, short), slices.DeleteFunc(again, short)
}

func near(a, b timeline.Time) bool { return max(a-b, b-a) < leastEdit }

// displaced gives the parts outside of the longest music in which the old recording
// goes forward.
func displaced(list []part) []part {
	length := make([]timeline.Time, len(list))
	from := make([]int, len(list))
	end := -1
	for i, p := range list {
		from[i] = -1
		for k := range i {
			if list[k].old.To <= p.old.From+leastEdit && length[k] > length[i] {
				length[i], from[i] = length[k], k
			}
		}
		length[i] += p.old.To - p.old.From
		if end < 0 || length[i] > length[end] {
			end = i
		}
	}
	keeps := make([]bool, len(list))
	for ; end >= 0; end = from[end] {
		keeps[end] = true
	}
	var out []part
	for i, p := range list {
		if !keeps[i] {
			out = append(out, p)
		}
	}
	return out
}

// speeds gives the stretches that are faster or slower than before.
func speeds(m *timeline.TimeMap) []RecordingEdit {
	var list []RecordingEdit
	for i := 0; i < len(m.Runs); {
		r := m.Runs[i]
		j := i + 1
		for j < len(m.Runs) && near(m.Runs[j].New, m.Runs[j-1].NewEnd) && near(m.Runs[j].Old, m.Runs[j-1].OldEnd) {
			j++
		}
		last := m.Runs[j-1]
		rate := float64(last.OldEnd-r.Old) / float64(last.NewEnd-r.New)
		if d := rate - 1; d > leastSpeed || d < -leastSpeed {
			what := "faster"
			if d < 0 {
				what, d = "slower", -d
			}
			if n := len(list); n > 0 && list[n-1].What == what && max(list[n-1].Rate-rate, rate-list[n-1].Rate) < leastSpeed {
				list[n-1].New.To = wording.Seconds(last.NewEnd)
			} else {
				list = append(list, RecordingEdit{what, nil, span(timeline.TimeSpan{From: r.New, To: last.NewEnd}), rate, ""})
			}
			e := &list[len(list)-1]
			e.Text = fmt.Sprintf("%s to %s of the new recording is %.2f %% %s", timeline.Time(e.New.From).Clock(3), timeline.Time(e.New.To).Clock(3), 100*d, what)
		}
		i = j
	}
	return list
}
