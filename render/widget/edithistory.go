package widget

import "slices"

// Insert replaces the selection by text, as one step; line breaks become spaces and other control letters are dropped.
func (e *Editor) Insert(text string) { e.replace([]rune(clean(text)), false) }

// Type is Insert for a letter from the keyboard: letters typed one after the other are one step, up to the end of a word.
func (e *Editor) Type(r rune) {
	if text := clean(string(r)); text != "" {
		e.replace([]rune(text), true)
	}
}

// Delete takes the selection away, or what lies between the caret and where the motion leads.
func (e *Editor) Delete(m Motion) {
	from, to := e.Selection()
	if from == to {
		at := e.place(m)
		from, to = min(at, e.caret), max(at, e.caret)
	}
	if from != to {
		e.replaceAt(from, to, nil, false)
	}
}

// replace puts now in place of the selection.
func (e *Editor) replace(now []rune, typed bool) {
	from, to := e.Selection()
	e.replaceAt(from, to, now, typed)
}

// replaceAt puts now in place of what is between from and to and notes the step.
func (e *Editor) replaceAt(from, to int, now []rune, typed bool) {
	step := edit{at: from, old: slices.Clone(e.text[from:to]), now: now, before: [2]int{e.caret, e.mark}, typed: typed}
	e.text = slices.Replace(e.text, from, to, now...)
	e.caret = e.edgeAfter(from + len(now))
	e.mark = e.caret
	e.version++
	step.after = [2]int{e.caret, e.mark}
	e.note(step)
}

// note adds a step to the history, to the last one where both are typing and no new word begins.
func (e *Editor) note(step edit) {
	e.steps = e.steps[:e.done]
	if e.open && step.typed && len(step.old) == 0 {
		last := &e.steps[e.done-1]
		if last.at+len(last.now) == step.at && !(endsInSpace(last.now) && !endsInSpace(step.now)) {
			last.now = append(last.now, step.now...)
			last.after = step.after
			return
		}
	}
	e.steps = append(e.steps, step)
	e.done++
	e.open = step.typed
}

func endsInSpace(r []rune) bool { return len(r) > 0 && classOf(r[len(r)-1]) == space }

// Undo takes the last step back and says whether there was one.
func (e *Editor) Undo() bool {
	if e.done == 0 {
		return false
	}
	e.done--
	s := &e.steps[e.done]
	e.text = slices.Replace(e.text, s.at, s.at+len(s.now), s.old...)
	e.caret, e.mark, e.open = s.before[0], s.before[1], false
	e.version++
	return true
}

// Redo does the step again that Undo took back last and says whether there was one.
func (e *Editor) Redo() bool {
	if e.done == len(e.steps) {
		return false
	}
	s := &e.steps[e.done]
	e.done++
	e.text = slices.Replace(e.text, s.at, s.at+len(s.old), s.now...)
	e.caret, e.mark, e.open = s.after[0], s.after[1], false
	e.version++
	return true
}
