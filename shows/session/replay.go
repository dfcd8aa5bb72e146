package session

import (
	"fmt"
	"slices"
	"time"

	"emberbeat/shows"
	"emberbeat/timeline"
)

// replay is the tree of snapshots that a journal tells of: every step hangs on
// the one it started from.
type replay struct {
	nodes []node
	at    int   // the current one
	redo  []int // those that redo would walk, the next one last
	saved int   // the last one that was saved for certain

	told map[*timeline.Show]told // of the steps of the last history that was rebuilt
}

type node struct {
	parent  int
	label   string
	at      time.Time
	changes timeline.Changes // from the parent
	digests []string         // of the files on disk that may hold it
}

// readReplay builds the tree.
func readReplay(entries []entry) (*replay, error) {
	if len(entries) == 0 || entries[0].Kind != openStep {
		return nil, fmt.Errorf("its beginning is missing")
	}
	r := &replay{nodes: []node{{parent: -1, digests: []string{entries[0].Digest}}}}
	for i, e := range entries[1:] {
		if err := r.take(e); err != nil {
			return nil, fmt.Errorf("line %d: %w", i+2, err)
		}
	}
	return r, nil
}

func (r *replay) take(e entry) error {
	switch e.Kind {
	case doStep, amendStep:
		changes, err := shows.DecodeChanges(e.Changes)
		if err != nil {
			return err
		}
		parent := r.at
		if e.Kind == amendStep && r.at != 0 {
			parent = r.nodes[r.at].parent
		}
		r.nodes = append(r.nodes, node{parent: parent, label: e.Label, at: e.At, changes: changes})
		r.at, r.redo = len(r.nodes)-1, nil
	case undoStep:
		if r.at == 0 {
			return fmt.Errorf("undo of nothing")
		}
		r.redo = append(r.redo, r.at)
		r.at = r.nodes[r.at].parent
	case redoStep:
		if len(r.redo) == 0 {
			return fmt.Errorf("redo of nothing")
		}
		r.at = r.redo[len(r.redo)-1]
		r.redo = r.redo[:len(r.redo)-1]
	case savingStep, savedStep:
		r.nodes[r.at].digests = append(r.nodes[r.at].digests, e.Digest)
		if e.Kind == savedStep {
			r.saved = r.at
		}
	default:
		return fmt.Errorf("there is no step %q", e.Kind)
	}
	return nil
}

// find gives the snapshot that is on disk; false when none of them is.
func (r *replay) find(digest string) (int, bool) {
	for i := len(r.nodes) - 1; i >= 0; i-- {
		if slices.Contains(r.nodes[i].digests, digest) {
			return i, true
		}
	}
	return 0, false
}

// line gives the snapshots from the first to i.
func (r *replay) line(i int) []int {
	var line []int
	for ; i >= 0; i = r.nodes[i].parent {
		line = append(line, i)
	}
	slices.Reverse(line)
	return line
}

// history rebuilds all steps around the snapshot base, which is the show on
// disk.
func (r *replay) history(base int, disk *timeline.Show) (*timeline.History, error) {
	known := map[int]*timeline.Show{base: disk}
	for i := base; r.nodes[i].parent >= 0; i = r.nodes[i].parent {
		before, err := timeline.Apply(known[i], r.nodes[i].changes.Invert())
		if err != nil {
			return nil, err
		}
		known[r.nodes[i].parent] = before
	}
	line := r.line(r.at)
	for i := len(r.redo) - 1; i >= 0; i-- {
		line = append(line, r.redo[i])
	}
	h := timeline.NewHistory(known[0])
	r.told = map[*timeline.Show]told{}
	for _, i := range line[1:] {
		if known[i] == nil {
			next, err := timeline.Apply(known[r.nodes[i].parent], r.nodes[i].changes)
			if err != nil {
				return nil, err
			}
			known[i] = next
		}
		h.Push(r.nodes[i].label, known[i])
		r.told[known[i]] = told{at: r.nodes[i].at, changes: len(r.nodes[i].changes)}
	}
	for range r.redo {
		h.Undo()
	}
	return h, nil
}

// unsaved lists the steps between the snapshot base and the current one:
// those to take back, and those to make.
func (r *replay) unsaved(base int) (back, forth []int) {
	from, to := r.line(base), r.line(r.at)
	for len(from) > 0 && len(to) > 0 && from[0] == to[0] {
		from, to = from[1:], to[1:]
	}
	slices.Reverse(from)
	return from, to
}

// carry makes the unsaved steps again on a show on disk that another program
// has changed. It fails where they touch the same records.
func (r *replay) carry(disk *timeline.Show) (*timeline.History, error) {
	h := timeline.NewHistory(disk)
	back, forth := r.unsaved(r.saved)
	r.told = map[*timeline.Show]told{}
	push := func(label string, cs timeline.Changes, at time.Time) error {
		next, err := timeline.Apply(h.Show(), cs)
		if err == nil {
			h.Push(label, next)
			r.told[next] = told{at: at, changes: len(cs)}
		}
		return err
	}
	for _, i := range back {
		if err := push("undo "+r.nodes[i].label, r.nodes[i].changes.Invert(), r.nodes[i].at); err != nil {
			return nil, err
		}
	}
	for _, i := range forth {
		if err := push(r.nodes[i].label, r.nodes[i].changes, r.nodes[i].at); err != nil {
			return nil, err
		}
	}
	return h, nil
}

// since gives the time of the first of some steps.
func (r *replay) since(steps []int) (first time.Time) {
	for _, i := range steps {
		if at := r.nodes[i].at; first.IsZero() || at.Before(first) {
			first = at
		}
	}
	return first
}
