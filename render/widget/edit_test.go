package widget

import (
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// show writes an editor with | at the caret and [ ] around what is selected: "ab[cd|]".
func show(e *Editor) string {
	from, to := e.Selection()
	r := []rune(e.String())
	mid := "|"
	if from != to {
		mid = "[" + string(r[from:to]) + "|]"
		if e.Caret() == from {
			mid = "[|" + string(r[from:to]) + "]"
		}
	}
	return string(r[:from]) + mid + string(r[to:])
}

// parse is the other way of show.
func parse(text string) *Editor {
	e := &Editor{}
	plain := strings.NewReplacer("|", "", "[", "", "]", "").Replace(text)
	e.Set(plain)
	before := func(sign string) int {
		at := strings.Index(text, sign)
		return len([]rune(strings.NewReplacer("|", "", "[", "", "]", "").Replace(text[:at])))
	}
	caret := before("|")
	mark := caret
	if strings.Contains(text, "[") {
		mark = before("[")
		if mark == caret {
			mark = before("]")
		}
	}
	e.Select(mark, caret)
	return e
}

func TestEditor(t *testing.T) {
	move := func(m Motion) func(*Editor) { return func(e *Editor) { e.Move(m, false) } }
	extend := func(m Motion) func(*Editor) { return func(e *Editor) { e.Move(m, true) } }
	del := func(m Motion) func(*Editor) { return func(e *Editor) { e.Delete(m) } }
	insert := func(text string) func(*Editor) { return func(e *Editor) { e.Insert(text) } }
	wordAt := func(at int) func(*Editor) { return func(e *Editor) { e.SelectWord(at) } }
	cases := []struct {
		from string
		do   func(*Editor)
		want string
	}{
		{"ab|c", move(NextLetter), "abc|"},
		{"abc|", move(NextLetter), "abc|"},
		{"|abc", move(PrevLetter), "|abc"},
		{"a[bc|]d", move(PrevLetter), "a|bcd"},
		{"a[|bc]d", move(NextLetter), "abc|d"},
		{"a[bc|]d", extend(PrevLetter), "a[b|]cd"},
		{"a|bc", extend(LineEnd), "a[bc|]"},
		{"abc|", extend(LineStart), "[|abc]"},
		{"the old| gerb", move(PrevWord), "the |old gerb"},
		{"the |old gerb", move(PrevWord), "|the old gerb"},
		{"the | old", move(PrevWord), "|the  old"},
		{"|the old", move(NextWord), "the |old"},
		{"the |old", move(NextWord), "the old|"},
		{"a|-b c", move(NextWord), "a-|b c"},
		{"cue 4.2|", move(PrevWord), "cue 4.|2"},
		{"Zoe\u0308|y", move(PrevLetter), "Zo|e\u0308y"},         // combining diaeresis stays with its letter
		{"Zo|e\u0308y", move(NextLetter), "Zoe\u0308|y"},         //
		{"Zoe\u0308|y", del(PrevLetter), "Zo|y"},                 //
		{"Zo|e\u0308y", del(NextLetter), "Zo|y"},                 //
		{"e|x", insert("\u0301"), "e\u0301|x"},                   // an accent joins the letter before it
		{"na|me", insert("ïü"), "naïü|me"},                       //
		{"a[bc|]d", insert("X"), "aX|d"},                         //
		{"a|b", insert("1\n2\t3\r\n4\x07"), "a1 2 3 4|b"},        // one line, no control letters
		{"a[bc|]d", del(PrevLetter), "a|d"},                      //
		{"one two|", del(PrevWord), "one |"},                     //
		{"|one two", del(NextWord), "|two"},                      //
		{"|", del(PrevLetter), "|"},                              //
		{"one |two, three", wordAt(5), "one [two|], three"},      //
		{"one |two, three", wordAt(7), "one two[,|] three"},      //
		{"one  |two", wordAt(3), "one[  |]two"},                  //
		{"one|", wordAt(3), "[one|]"},                            //
		{"Straße| 9", wordAt(2), "[Straße|] 9"},                  //
		{"|", wordAt(0), "|"},                                    //
		{"ab|c", (*Editor).SelectAll, "[abc|]"},                  //
		{"ab|c", func(e *Editor) { e.Select(-5, 99) }, "[abc|]"}, //
	}
	for _, c := range cases {
		e := parse(c.from)
		require.Equal(t, c.from, show(e), "the case itself")
		c.do(e)
		require.Equal(t, c.want, show(e), "from %q", c.from)
	}
}

func TestEditorHistory(t *testing.T) {
	e := parse("cue|")
	for _, r := range " at bar" {
		e.Type(r)
	}
	require.True(t, e.Undo())
	require.Equal(t, "cue at |", show(e), "a word is a step")
	require.True(t, e.Undo())
	require.Equal(t, "cue |", show(e))
	require.True(t, e.Undo())
	require.Equal(t, "cue|", show(e))
	require.False(t, e.Undo())
	require.True(t, e.Redo())
	require.True(t, e.Redo())
	require.Equal(t, "cue at |", show(e))
	e.Type('x')
	require.False(t, e.Redo(), "typing drops what was undone")

	e = parse("ab|")
	e.Type('c')
	e.Move(LineStart, false)
	e.Type('d')
	e.Undo()
	require.Equal(t, "|abc", show(e), "moving begins a new step")

	e = parse("a[bc|]d")
	e.Type('x')
	e.Type('y')
	e.Undo()
	require.Equal(t, "a[bc|]d", show(e), "the selection comes back")
}

// slow is a plain editor to compare with: whole copies of letters, and of all states before.
type slow struct {
	letters     []string // a letter with its accents
	caret, mark int      // in letters
	past        []slow
}

// split cuts text into letters with their accents.
func split(text string) []string {
	var list []string
	for _, r := range text {
		if len(list) > 0 && unicode.In(r, unicode.Mn, unicode.Me) {
			list[len(list)-1] += string(r)
		} else {
			list = append(list, string(r))
		}
	}
	return list
}

func (s *slow) text() string { return strings.Join(s.letters, "") }

// replace puts text in place of the letters between caret and mark.
func (s *slow) replace(text string) {
	s.past = append(s.past, slow{letters: s.letters, caret: s.caret, mark: s.mark})
	from, to := min(s.caret, s.mark), max(s.caret, s.mark)
	head := strings.Join(s.letters[:from], "") + text
	tail := strings.Join(s.letters[to:], "")
	s.letters = split(head + tail)
	s.caret = len(split(head))
	s.mark = s.caret
}

// TestEditorAgainstSlow does the same to an Editor and to a plain one.
func TestEditorAgainstSlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var e Editor
		var s slow
		text := rapid.StringOfN(rapid.SampledFrom([]rune("ab é,\u0308ß")), 0, 6, -1)
		runes := func(n int) int { return len([]rune(strings.Join(s.letters[:n], ""))) }
		t.Repeat(map[string]func(*rapid.T){
			"insert": func(t *rapid.T) {
				in := text.Draw(t, "text")
				e.Insert(in)
				s.replace(in)
			},
			"move": func(t *rapid.T) {
				by, extend := rapid.SampledFrom([]Motion{PrevLetter, NextLetter, LineStart, LineEnd}).Draw(t, "by"), rapid.Bool().Draw(t, "extend")
				e.Move(by, extend)
				s.move(by, extend)
			},
			"delete": func(t *rapid.T) {
				by := rapid.SampledFrom([]Motion{PrevLetter, NextLetter}).Draw(t, "by")
				was := e.String()
				e.Delete(by)
				at, single := s.caret, s.mark == s.caret
				if single {
					s.move(by, true)
				}
				if s.mark != s.caret {
					s.replace("")
					if single { // undo brings the caret back, with nothing selected
						s.past[len(s.past)-1].caret = at
					}
				}
				if was == e.String() && e.Len() > 0 && s.text() != was {
					t.Fatal("nothing was deleted")
				}
			},
			"undo": func(t *rapid.T) {
				if e.Undo() != (len(s.past) > 0) {
					t.Fatal("not the same steps")
				}
				if n := len(s.past); n > 0 {
					past := s.past[:n-1]
					s = s.past[n-1]
					s.past = past
				}
				if n := rapid.IntRange(0, 2).Draw(t, "more"); n > 0 && e.Redo() {
					e.Undo() // there and back again is nothing
				}
			},
			"": func(t *rapid.T) {
				if e.String() != s.text() {
					t.Fatalf("text %q, want %q", e.String(), s.text())
				}
				if e.caret != runes(s.caret) || e.mark != runes(s.mark) {
					t.Fatalf("caret and mark %d %d, want %d %d in %q", e.caret, e.mark, runes(s.caret), runes(s.mark), s.text())
				}
			},
		})
	})
}

func (s *slow) move(by Motion, extend bool) {
	from, to := min(s.caret, s.mark), max(s.caret, s.mark)
	at := map[Motion]int{PrevLetter: max(s.caret-1, 0), NextLetter: min(s.caret+1, len(s.letters)), LineStart: 0, LineEnd: len(s.letters)}[by]
	switch {
	case !extend && from != to && by == PrevLetter:
		at = from
	case !extend && from != to && by == NextLetter:
		at = to
	}
	s.caret = at
	if !extend {
		s.mark = at
	}
}
