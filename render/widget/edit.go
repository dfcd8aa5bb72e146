package widget

import (
	"slices"
	"strings"
	"unicode"
)

// Editor is a line of text with a caret, a selection and its own history. Places count runes; a letter and the accents that combine with
// it are never parted. The zero Editor is empty and ready.
type Editor struct {
	text        []rune
	caret, mark int // the selection runs between them
	steps       []edit
	done        int // steps[:done] are in the text
	open        bool
	version     int // grows with every change of the text
}

// edit is one step: at at, old was replaced by now.
type edit struct {
	at            int
	old, now      []rune
	before, after [2]int // caret and mark
	typed         bool
}

// Motion is a way to move the caret.
type Motion uint8

// The motions.
const (
	PrevLetter Motion = iota
	NextLetter
	PrevWord // to the beginning of this or the last word
	NextWord // to the beginning of the next word
	LineStart
	LineEnd
)

// Set replaces everything, forgets the history and puts the caret at the end.
func (e *Editor) Set(text string) {
	*e = Editor{text: append(e.text[:0], []rune(clean(text))...), version: e.version + 1}
	e.caret, e.mark = len(e.text), len(e.text)
}

// String gives the text.
func (e *Editor) String() string { return string(e.text) }

// Len gives the number of runes.
func (e *Editor) Len() int { return len(e.text) }

// Selection gives the beginning and end of what is selected; they are equal where nothing is.
func (e *Editor) Selection() (from, to int) { return min(e.caret, e.mark), max(e.caret, e.mark) }

// Selected gives the selected text.
func (e *Editor) Selected() string {
	from, to := e.Selection()
	return string(e.text[from:to])
}

// Caret gives where the caret stands.
func (e *Editor) Caret() int { return e.caret }

// Select selects from mark to caret, both brought into the text and off the middle of letters.
func (e *Editor) Select(mark, caret int) {
	e.mark, e.caret, e.open = e.edgeAt(mark), e.edgeAt(caret), false
}

// SelectAll selects everything, with the caret at the end.
func (e *Editor) SelectAll() { e.Select(0, len(e.text)) }

// SelectWord selects the word, the gap or the run of signs at a place.
func (e *Editor) SelectWord(at int) {
	if len(e.text) == 0 {
		return
	}
	at = min(e.edgeAt(at), len(e.text)-1)
	class := classOf(e.text[at])
	from, to := at, at
	for from > 0 && classOf(e.text[from-1]) == class {
		from--
	}
	for to < len(e.text) && classOf(e.text[to]) == class {
		to++
	}
	e.Select(from, to)
}

// Move moves the caret. Where extend is false a selection collapses: by a letter, to its end on that side.
func (e *Editor) Move(m Motion, extend bool) {
	from, to := e.Selection()
	if from != to && !extend && m <= NextLetter {
		e.Select([]int{from, to}[m], []int{from, to}[m])
		return
	}
	at := e.place(m)
	mark := at
	if extend {
		mark = e.mark
	}
	e.Select(mark, at)
}

// place gives where a motion leads from the caret.
func (e *Editor) place(m Motion) int {
	switch m {
	case PrevLetter:
		return e.prev(e.caret)
	case NextLetter:
		return e.next(e.caret)
	case PrevWord:
		at := e.back(e.caret, space)
		if at > 0 {
			at = e.back(at, classOf(e.text[at-1]))
		}
		return at
	case NextWord:
		at := e.caret
		if at < len(e.text) {
			at = e.forth(at, classOf(e.text[at]))
		}
		return e.forth(at, space)
	case LineStart:
		return 0
	}
	return len(e.text)
}

// back gives the beginning of the run of one class that ends at at; forth the end of the one that begins there.
func (e *Editor) back(at int, c class) int {
	for at > 0 && classOf(e.text[at-1]) == c {
		at--
	}
	return at
}

func (e *Editor) forth(at int, c class) int {
	for at < len(e.text) && classOf(e.text[at]) == c {
		at++
	}
	return at
}

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

// prev gives the beginning of the letter before at; next the end of the letter at at.
func (e *Editor) prev(at int) int {
	if at > 0 {
		at--
	}
	for at > 0 && joins(e.text[at]) {
		at--
	}
	return at
}

func (e *Editor) next(at int) int {
	if at < len(e.text) {
		at++
	}
	return e.edgeAfter(at)
}

// edgeAt brings a place into the text and back to the beginning of the letter it is in.
func (e *Editor) edgeAt(at int) int {
	at = min(max(at, 0), len(e.text))
	for at > 0 && at < len(e.text) && joins(e.text[at]) {
		at--
	}
	return at
}

// edgeAfter brings a place to the end of the letter it is in.
func (e *Editor) edgeAfter(at int) int {
	for at > 0 && at < len(e.text) && joins(e.text[at]) {
		at++
	}
	return at
}

// joins says whether a rune belongs to the letter before it.
func joins(r rune) bool { return unicode.In(r, unicode.Mn, unicode.Me) }

// class says what runs of letters a word motion stops between.
type class uint8

const (
	space class = iota
	word
	sign
)

func classOf(r rune) class {
	switch {
	case unicode.IsSpace(r):
		return space
	case unicode.IsLetter(r), unicode.IsDigit(r), r == '_', joins(r):
		return word
	}
	return sign
}

// clean makes text fit for one line.
func clean(text string) string {
	text = strings.NewReplacer("\r\n", " ", "\n", " ", "\r", " ", "\t", " ").Replace(text)
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == unicode.ReplacementChar {
			return -1
		}
		return r
	}, text)
}
