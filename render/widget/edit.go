package widget

import (
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
