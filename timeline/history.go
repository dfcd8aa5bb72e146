package timeline

// History is the line of snapshots that undo and redo walk along. One gesture
// of the user is one step. The zero value is not usable; see NewHistory.
type History struct {
	steps []Step
	at    int
}

// Step is one snapshot and the name of the gesture that led to it.
type Step struct {
	Label string
	Show  *Show
}

// NewHistory starts with a snapshot that undo cannot go behind.
func NewHistory(s *Show) *History { return &History{steps: []Step{{Show: s}}} }

// Show is the current snapshot.
func (h *History) Show() *Show { return h.steps[h.at].Show }

// Push adds a step after the current one; steps that were undone are dropped.
func (h *History) Push(label string, s *Show) {
	h.steps = append(h.steps[:h.at+1:h.at+1], Step{label, s})
	h.at++
}

// Amend replaces the current snapshot without a new step: for key repeats that
// belong to one gesture. At the first snapshot it pushes a step instead.
func (h *History) Amend(label string, s *Show) {
	if h.at == 0 {
		h.Push(label, s)
		return
	}
	h.steps = append(h.steps[:h.at:h.at], Step{label, s})
}

// Undo goes one step back and names the gesture undone; false at the start.
func (h *History) Undo() (label string, ok bool) {
	if h.at == 0 {
		return "", false
	}
	h.at--
	return h.steps[h.at+1].Label, true
}

// Redo goes one step forward and names the gesture done again; false at the
// end.
func (h *History) Redo() (label string, ok bool) {
	if h.at+1 == len(h.steps) {
		return "", false
	}
	h.at++
	return h.steps[h.at].Label, true
}

// Steps gives all snapshots, the first included, and which of them is the current
// one. They are not to be changed.
func (h *History) Steps() (steps []Step, at int) { return h.steps, h.at }

// Each gives the same line with another snapshot in the place of each; of is asked
// once for every step.
func (h *History) Each(of func(*Show) *Show) *History {
	other := &History{make([]Step, len(h.steps)), h.at}
	for i, s := range h.steps {
		other.steps[i] = Step{s.Label, of(s.Show)}
	}
	return other
}

// Labels gives the names of the steps that undo and redo would walk, nearest
// first.
func (h *History) Labels() (undo, redo []string) {
	for i := h.at; i > 0; i-- {
		undo = append(undo, h.steps[i].Label)
	}
	for i := h.at + 1; i < len(h.steps); i++ {
		redo = append(redo, h.steps[i].Label)
	}
	return undo, redo
}
