package render

import (
	"cmp"
	"slices"

	"emberbeat/timeline"
)

// Mark is a finding as it is drawn.
type Mark struct {
	Severity Severity
	Rule     string
	At       Instant     // from the start of the song's audio
	Lane     timeline.ID // "" where it concerns no lane
	Cue      timeline.ID // "" where it concerns no cue
	Where    string      // bar and timecode in words
	Text     string
}

// Marks is a song's findings made ready for drawing. It does not change.
type Marks struct {
	List    []Mark // by time, those without one last
	Count   [3]int // by severity
	Checked string // what was checked, said where nothing was found

	cues map[timeline.ID]Severity
}

// NewMarks prepares findings; checked says in a few words what was looked at.
func NewMarks(list []Mark, checked string) *Marks {
	m := &Marks{List: slices.Clone(list), Checked: checked, cues: map[timeline.ID]Severity{}}
	slices.SortStableFunc(m.List, func(a, b Mark) int {
		return cmp.Or(cmp.Compare(b2i(!a.At.On), b2i(!b.At.On)), cmp.Compare(a.At.At, b.At.At), cmp.Compare(a.Severity, b.Severity))
	})
	for _, f := range m.List {
		m.Count[f.Severity]++
		if f.Cue == "" {
			continue
		}
		if worst, known := m.cues[f.Cue]; !known || f.Severity < worst {
			m.cues[f.Cue] = f.Severity
		}
	}
	return m
}

// OfCue gives the worst severity found at a cue.
func (m *Marks) OfCue(id timeline.ID) (Severity, bool) {
	if m == nil {
		return 0, false
	}
	v, ok := m.cues[id]
	return v, ok
}
