package widget

import (
	"image"
	"time"
	"unicode/utf8"

	"emberbeat/render"
)

// TextSpec says how a text field behaves.
type TextSpec struct {
	Hint  string             // shown while it is empty
	From  string             // value that holds while it is empty, because something else gives it; the field is then no well
	Unit  string             // shown at its right end
	Limit int                // most runes; 0 is no limit
	Check func(string) error // says what would be valid where a text is not; nil takes everything
	Error string             // what is wrong with the value it was given, "" where nothing is
}

// TextEvent is what became of a text field.
type TextEvent struct {
	Text      string // with Changed or Committed: what stands in the field
	Changed   bool   // by typing
	Committed bool   // by Enter or by leaving the field, with a text that differs from the value and passes Check
	Enter     bool   // Enter was pressed, with a text that passes Check, changed or not
	Cancelled bool   // by Escape: the value stands again
}

// textState is what a field keeps between frames.
type textState struct {
	Editor
	frame   uint64
	base    string // the value that the draft began with
	draft   bool   // the text may differ from the value
	focused bool   // in the last frame
	bad     string // why the draft was not taken
	scroll  int    // device pixels
	touched time.Duration
	shown   []byte
	shownAt int
	drag    int // where a pressed selection began; by words where dragWord
	dragTo  int
	words   bool
}

// TextField draws a line of text to be edited. value is what the data says; while the field has the focus it keeps a draft of its own, which
// becomes an event by Enter or when the focus leaves. A draft that Check refuses stays in the field with the reason.
func (u *UI) TextField(key string, r image.Rectangle, value string, spec TextSpec) TextEvent {
	c := u.control("field", key, r, reachPress)
	return u.field(c, value, &spec)
}

func (u *UI) field(c control, value string, spec *TextSpec) TextEvent {
	t := u.textOf(c.id)
	var e TextEvent
	if c.focus && !t.focused {
		t.enter(value, u)
	}
	if !c.focus && t.focused {
		t.commit(&e, spec, value)
	}
	if t.base != value && (!t.draft || t.String() == t.base && !e.Committed) || t.version == 0 {
		t.Set(value)
		t.base = value
		if c.focus {
			t.SelectAll()
		}
	}
	t.focused = c.focus
	if c.focus {
		if u.settle == c.id {
			t.commit(&e, spec, value)
			t.draft = true // the focus stays
		}
		u.edit(t, c, spec, value, &e)
	}
	u.drawField(t, c, spec)
	return e
}

func (u *UI) textOf(id ID) *textState {
	t := u.texts[id]
	if t == nil {
		t = &textState{}
		u.texts[id] = t
	}
	if t.frame < u.frame-1 && t.bad == "" { // it was away: what it shows now is the value
		t.draft, t.focused = false, false
	}
	t.frame = u.frame
	return t
}

// enter begins a draft, or goes on with one that was refused. All is selected, unless the pointer brought the focus.
func (t *textState) enter(value string, u *UI) {
	if !t.draft {
		t.Set(value)
		t.base, t.draft = value, true
	}
	t.touched = u.in.Time
	if u.in.Pressed == 0 {
		t.SelectAll()
	}
}

// commit ends a draft: by an event where it is valid, else it stays with the reason.
func (t *textState) commit(e *TextEvent, spec *TextSpec, value string) bool {
	text := t.String()
	t.bad = ""
	if spec.Check != nil && text != t.base {
		if err := spec.Check(text); err != nil {
			t.bad = err.Error()
			return false
		}
	}
	t.draft = false
	if text != t.base && text != value {
		e.Text, e.Committed = text, true
	}
	t.base = text
	return true
}

// edit applies this frame's input to a focused field.
func (u *UI) edit(t *textState, c control, spec *TextSpec, value string, e *TextEvent) {
	before, caret := t.version, t.Caret()
	u.pointText(t, c)
	u.editKeys(t)
	for _, r := range u.in.Text {
		if from, to := t.Selection(); spec.Limit == 0 || t.Len()-(to-from) < spec.Limit {
			t.Type(r)
		}
	}
	if t.version != before {
		e.Text, e.Changed = t.String(), true
		t.bad = ""
		if spec.Check != nil && e.Text != t.base {
			if err := spec.Check(e.Text); err != nil {
				t.bad = err.Error()
			}
		}
	}
	if t.version != before || t.Caret() != caret {
		t.touched = u.in.Time
	}
	u.leaveKeys(t, spec, value, e)
}

// leaveKeys handles Enter and Escape.
func (u *UI) leaveKeys(t *textState, spec *TextSpec, value string, e *TextEvent) {
	if u.wants(KeyEnter, 0) {
		if t.commit(e, spec, value) {
			e.Enter = true
			t.draft = true // the focus stays, and so does the field's own text
			t.SelectAll()
			if len(u.dialogs) == 0 { // a dialog's main button hears it too
				u.take(KeyEnter, 0)
			}
		} else {
			u.take(KeyEnter, 0)
		}
	}
	if (t.String() != t.base || t.bad != "") && u.take(KeyEscape, 0) {
		t.Set(t.base)
		t.SelectAll()
		t.bad = ""
		e.Cancelled = true
	}
}

// wants says whether an untaken key is there, and leaves it.
func (u *UI) wants(k Key, m Mods) bool {
	for i, p := range u.in.Keys {
		if !u.used[i] && p.Key == k && p.Mods == m {
			return true
		}
	}
	return false
}

// bytes gives the text as UTF-8 without making it anew each frame.
func (t *textState) bytes() []byte {
	if t.shownAt != t.version {
		t.shown = t.shown[:0]
		for _, r := range t.text {
			t.shown = utf8.AppendRune(t.shown, r)
		}
		t.shownAt = t.version
	}
	return t.shown
}

// width gives the device pixels of the first n runes.
func (t *textState) width(f *render.Face, n int) int {
	b := t.bytes()
	at := 0
	for range n {
		_, size := utf8.DecodeRune(b[at:])
		at += size
	}
	return f.MeasureBytes(b[:at])
}
