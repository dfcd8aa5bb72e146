package app

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/desk/page/tonight"
	"emberbeat/render/sheet"
	"emberbeat/shows/report"
	"emberbeat/shows/report/night"
	"emberbeat/timeline"
)

// openTonight opens the page of tonight on the example's first night and waits for its sheet.
func openTonight(t *testing.T) *hand {
	t.Helper()
	h := withExample(t)
	h.a.goNight(h.a.work.Show.Nights[0].ID)
	h.key("Ctrl+9")
	h.until(func() bool { return tonightOf(h.a) != nil })
	h.step()
	return h
}

// tonight gives what the page of tonight remembers.
func (h *hand) tonight() *tonight.Tonight {
	return h.a.families[tonightFamily].State.(*tonight.Tonight)
}

// Tonight says the worst first with a way to it, then what is next to do, with the figures of the sheet of the night; each button leads somewhere.
func TestTonightSaysWhatIsWorst(t *testing.T) {
	h := openTonight(t)
	h.settle()
	page := tonightOf(h.a)
	list := h.tonight().Sayings(page)
	require.Greater(t, len(list), 3)
	worst := h.a.work.Groups()[0]
	require.Equal(t, upper(worst.Title), list[0].Card.Title)
	require.Contains(t, textsOf(h.frame.Panels), list[0].Card.Title)
	cut, swapped := 0, 0
	for _, s := range page.Songs {
		cut, swapped = cut+s.Cut, swapped+s.Swapped
	}
	require.NotZero(t, cut+swapped)
	said := ""
	for i := range list {
		said += list[i].Card.Title + "\n"
	}
	require.Contains(t, said, timeline.Counted(cut, "cue")+" cut, "+strconv.Itoa(swapped)+" swapped")
	require.Contains(t, said, timeline.Counted(page.Used.Pieces, "piece")+" to load")
	require.Contains(t, h.frame.Panels.Dump(), `"2031-05-09   Saltglass Hall, first night"`)
	require.NotRegexp(t, `(?i)\b(safe|ok|clear)\b`, strings.ReplaceAll(textsOf(h.frame.Panels), "clear zone", ""))
	for i := range list {
		h.a.turn("tonight")
		h.a.panel.record, h.a.panel.list, h.a.panel.visited = timeline.Ref{}, false, false
		list[i].Lead()
		h.step()
		require.True(t, h.a.book.at != "tonight" || h.a.panel.visited || h.a.panel.record.Kind != "" || h.a.dialog != nil, "%s leads nowhere", list[i].Card.Title)
		h.a.dialog = nil
	}
}

// Every line of what there is to do leads to a page, a record or a finding, or says that there is nothing.
func TestEveryLineOfTonightLeadsSomewhere(t *testing.T) {
	h := openTonight(t)
	page := tonightOf(h.a)
	list := h.tonight().Todos(page)
	heads := 0
	for i := range list {
		x := list[i]
		if x.Head {
			heads++
			require.Less(t, i+1, len(list))
			require.False(t, list[i+1].Head, "%s: a heading is followed by a line", x.Text)
			continue
		}
		if x.Lead == nil {
			continue
		}
		h.a.turn("tonight")
		h.a.panel.record, h.a.panel.list, h.a.panel.visited = timeline.Ref{}, false, false
		x.Lead()
		h.step()
		require.True(t, h.a.book.at != "tonight" || h.a.panel.visited || h.a.panel.record.Kind != "" || h.a.dialog != nil, "%s leads nowhere", x.Text)
		h.a.dialog = nil
	}
	require.Equal(t, 7, heads)
}

func TestSongOfTonightIsOpened(t *testing.T) {
	h := openTonight(t)
	last := h.a.work.Plan.Songs[2].Song.ID
	require.NotEqual(t, last, h.a.work.Song)
	h.key("Down", "Down", "Enter")
	require.Empty(t, h.a.book.at)
	require.Equal(t, last, h.a.work.Song)
}

// The page is what is seen first where a night was planned for last, or where one is today; else the timeline is.
func TestTonightIsTheStartPanel(t *testing.T) {
	h := withExample(t)
	require.Empty(t, h.a.book.at)
	require.Contains(t, h.a.note.text, "Ctrl+9 shows what it needs")
	h.a.goNight("saltglass-1")
	h.a.leave()
	require.NoError(t, h.a.Open(h.dir))
	h.step()
	require.Equal(t, []string{"tonight", "saltglass-1"}, []string{h.a.book.at, string(h.a.work.Night)})
	h.a.goNight("")
	h.a.leave()
	require.NoError(t, h.a.Open(h.dir))
	require.Empty(t, h.a.book.at)
	h.a.leave()
	h.a.o.Now = func() time.Time { return time.Date(2031, 5, 9, 14, 0, 0, 0, time.UTC) }
	require.NoError(t, h.a.Open(h.dir))
	h.step()
	require.Equal(t, "tonight", h.a.book.at)
}

// textsOf gives all that can be read on a scene.
func textsOf(s *render.Scene) string {
	var b strings.Builder
	for i := range s.Shapes {
		if s.Shapes[i].Kind == render.KindText {
			b.Write(s.Label(&s.Shapes[i]))
			b.WriteByte('\n')
		}
	}
	return b.String()
}

// What is printed is marked; a change then names the sheets to print again, and no others.
func TestTonightNamesSheetsToPrintAgain(t *testing.T) {
	h := openTonight(t)
	again := func() (changed, printed int) {
		h.until(func() bool { return tonightOf(h.a) != nil })
		for _, p := range h.a.Prints() {
			switch p.State {
			case report.Changed:
				changed++
				printed++
			case report.AsPrinted:
				printed++
			}
		}
		return changed, printed
	}
	_, printed := again()
	require.Zero(t, printed)
	h.key("Ctrl+Shift+E")
	d := h.a.dialog.(*exportDialog)
	d.folder = t.TempDir()
	h.button("mark")
	require.True(t, d.ask.Print)
	h.exportNow("Export")
	h.checked()
	changed, printed := again()
	require.Equal(t, []int{0, len(sheet.Kinds())}, []int{changed, printed})
	h.a.doAs("", change{"say more", []timeline.Edit{timeline.ConditionTonight(h.a.work.Night, "no reports")}})
	require.True(t, h.a.do(change{"cut", []timeline.Edit{timeline.CutTonight(h.a.work.Night, timeline.Cut{Selector: timeline.Selector{What: "family", ID: "spark-machine"}})}}))
	h.checked()
	changed, printed = again()
	require.Equal(t, len(sheet.Kinds()), printed)
	require.NotZero(t, changed)
	require.Less(t, changed, printed, "what the cut does not touch stays as it was printed")
	h.a.turn("tonight")
	h.step()
	require.Contains(t, textOfTodos(h), "looks otherwise now")
}

func textOfTodos(h *hand) string {
	text := ""
	for _, x := range h.tonight().Todos(tonightOf(h.a)) {
		text += x.Text + " " + x.Detail + "\n"
	}
	return text
}

// tonightOf gives the sheet of the night in view, nil as long as it is being made.
func tonightOf(a *App) *night.Tonight {
	t, _ := a.work.Tonight()
	return t
}
