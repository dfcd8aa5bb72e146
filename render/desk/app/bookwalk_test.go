package app

import (
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/cryptotest"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render/desk/openshow"
	"emberbeat/shows"
	"emberbeat/timeline"
)

// walk is one walk through the pages: an App, a home, a clock and a show of its own, so that it goes the same way whatever was walked before.
type walk struct {
	*hand
	in   *openshow.Work // the show that was open after the last step; nil on the start page
	disk *timeline.Show // as it stood on disk when it was opened: where undo must lead back to
}

// day is when all walks begin.
var day = time.Date(2031, 5, 6, 18, 0, 0, 0, time.UTC)

// newWalk opens a copy of a show. end is to be called after the last step.
func newWalk(t *testing.T, try teller, show string) (w *walk, end func()) {
	cryptotest.SetGlobalRandom(t, 1) // ids stand in the tables, in their order
	w = &walk{hand: newHandOf(t, try, day)}
	w.dir = filepath.Join(t.TempDir(), "show")
	require.NoError(try, os.CopyFS(w.dir, os.DirFS(show)))
	require.NoError(try, w.a.Open(w.dir))
	w.look()
	return w, w.a.Close
}

// silentShow copies the example without its recordings: no page of the book hears them.
func silentShow(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	copyLight(t, dir, false)
	return dir
}

// take takes one step: "use" and a command, "type" and a text, "wide" and a width, or a key.
func (w *walk) take(step string) {
	verb, rest, _ := strings.Cut(step, " ")
	switch verb {
	case "use":
		require.True(w.t, w.a.Use(rest), step)
		w.step()
	case "type":
		w.typed(rest)
	case "wide":
		w.size = map[string]image.Point{"640": {640, 900}, "1024": {1024, 900}, "1440": {1440, 900}}[rest]
		w.step()
	default:
		w.key(step)
	}
	w.look()
}

// look waits until all is done that the step began. Menus lead to other shows as well, and to none: from then on it is the other that undo leads
// back in, and only as far as it stood on disk.
func (w *walk) look() {
	w.settle()
	if w.a.work == w.in {
		return
	}
	if w.in = w.a.work; w.in != nil {
		l, err := shows.Load(w.in.Session.Dir())
		require.NoError(w.t, err)
		w.disk = l.Show
	}
}

// undoAll takes everything back, and looks where that leads.
func (w *walk) undoAll() {
	w.a.dialog = nil
	w.a.ui.Blur() // so that no draft is handed over after undo
	w.step()
	w.step()
	w.a.dialog = nil
	w.look()
	if w.in == nil {
		return // on the start page there is nothing to take back
	}
	for needUndo(w.a) == "" {
		w.a.undo()
	}
	w.look()
	require.Empty(w.t, timeline.Diff(w.disk, w.a.work.Session.Show()), "undo does not lead back")
}

// walkSteps draws steps: keys that lead far, any command of the book, texts right and wrong, and windows wide and narrow.
func walkSteps() *rapid.Generator[string] {
	keys := []string{"Insert", "Delete", "Ctrl+D", "Shift+Insert", "Ctrl+Shift+W", "Tab", "Tab", "Shift+Tab", "Enter", "Enter", "Ctrl+Enter", "Esc", "Up", "Down", "Down", "Shift+Down",
		"Left", "Right", "Home", "End", "PgDn", "Ctrl+A", "Ctrl+Z", "Ctrl+Y", "F6", "F2", "Shift+F10", "F1", "P", "Ctrl+Shift+F", "Ctrl+Shift+C", "Ctrl+Shift+PgDn", "Ctrl+Shift+PgUp", "F5", "F9"}
	var uses []string
	for _, c := range New(Options{}).table {
		if c.group == "Book" {
			uses = append(uses, "use "+c.id)
		}
	}
	return rapid.Custom(func(t *rapid.T) string {
		switch rapid.IntRange(0, 9).Draw(t, "kind") {
		case 0:
			return rapid.SampledFrom(uses).Draw(t, "command")
		case 1:
			return "type " + rapid.SampledFrom([]string{"1", "0.5", "-3", "x", "1.100", "99999", "co2", "", "é"}).Draw(t, "text")
		case 2:
			return "wide " + rapid.SampledFrom([]string{"640", "1024", "1440"}).Draw(t, "wide")
		}
		return rapid.SampledFrom(keys).Draw(t, "key")
	})
}

// Whatever keys are pressed on the pages, nothing falls over, and undo leads back to the show that was opened.
func TestKeysAtRandomInTheBook(t *testing.T) {
	show, steps := silentShow(t), walkSteps()
	rapid.Check(t, func(try *rapid.T) {
		w, end := newWalk(t, try, show)
		defer end()
		for range rapid.IntRange(10, 40).Draw(try, "steps") {
			w.take(steps.Draw(try, "step"))
		}
		w.undoAll()
	})
}

// The keys that lead through the menu to another show, found at random: from there on undo leads back in that one.
func TestKeysThatOpenAnotherShow(t *testing.T) {
	show := silentShow(t)
	for name, steps := range map[string]string{
		"the example": "F6,Enter,Down,Down,Enter,Ctrl+Shift+PgDn,Insert,Enter",
		"a new one":   "F6,Enter,Enter,type 1,Enter,Ctrl+Shift+PgDn,Insert,Enter",
	} {
		t.Run(name, func(t *testing.T) {
			w, end := newWalk(t, t, show)
			defer end()
			first := w.in
			for _, step := range strings.Split(steps, ",") {
				w.take(step)
			}
			require.False(t, w.in == first, "the keys lead to no other show any more")
			require.NotEmpty(t, timeline.Diff(w.disk, w.in.Session.Show()))
			w.undoAll()
		})
	}
}
