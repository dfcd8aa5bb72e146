package app

import (
	"image"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/desk/keymap"
	"emberbeat/render/desk/openshow"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// habit is one promise of the window: what a key, a gesture or a place does.
type habit struct {
	name string
	keep func(t *testing.T, h *hand)
}

// habits runs a table of them, each on the example as it was opened.
func habits(t *testing.T, list []habit) {
	h := withExample(t)
	own := h.a.prefs
	for _, x := range list {
		t.Run(x.name, func(t *testing.T) {
			h.t = t
			h.rest(own.Recent)
			x.keep(t, h)
		})
	}
	h.t = t
}

// rest makes the window what it was when the example was opened: nothing done, chosen, playing or asked.
func (h *hand) rest(recent []string) {
	h.t.Helper()
	a := h.a
	if a.gesture != nil {
		h.key("Esc")
		h.up()
	}
	a.dialog, a.gesture, a.quit, a.full, a.note = nil, nil, false, false, note{}
	h.in = widget.Input{Pointer: image.Pt(-1, -1)}
	h.step()
	for range 4 {
		h.key("Esc")
	}
	if a.song.Plays() {
		a.Use("stop")
	}
	if a.song.Strip().Open() {
		a.song.Strip().LeaveAsItWas()
	}
	for {
		if _, ok := a.work.Session.Undo(); !ok {
			break
		}
	}
	for _, id := range []string{"click", "half-speed", "stage-large"} {
		if a.song.IsOn(id) {
			a.Use(id)
		}
	}
	if !a.song.IsOn("follow") {
		a.Use("follow")
	}
	a.turn("")
	fresh := New(Options{}).prefs
	fresh.Folder, fresh.Recent = a.prefs.Folder, recent
	a.prefs = fresh
	a.panel, a.work.Muted, a.work.Solo = panels{}, nil, nil
	a.song.GoSong(a.work.Setlist()[0].ID)
	a.work.Refresh()
	v := a.work.View()
	*v = openshow.View{Selected: map[timeline.ID]bool{}, Serial: v.Serial + 1, Focus: a.work.Data.Lanes[0].Lane.ID}
	h.later()
	h.settle()
	h.step()
}

// bar gives the time of a bar and beat of the song in view.
func (h *hand) bar(text string) timeline.Time {
	h.t.Helper()
	p, err := timeline.ParseBarBeat(text)
	require.NoError(h.t, err)
	return h.a.work.InView().Beats.At(p)
}

// goes puts the playhead somewhere.
func (h *hand) goes(to string) {
	h.t.Helper()
	require.NoError(h.t, h.a.song.GoTo(to))
	h.step()
}

func (h *hand) view() *openshow.View { return h.a.work.View() }

// hits gives the lanes whose cues are hits and not windows, in the order in which they stand.
func (h *hand) hitLanes() []render.LaneData {
	var list []render.LaneData
	for _, l := range h.a.work.Data.Lanes {
		if l.Lane != nil && !l.Lane.Window() && len(l.Cues) > 0 {
			list = append(list, l)
		}
	}
	return list
}

// cueAt gives the place of a cue in the show.
func (h *hand) cueAt(id timeline.ID) string {
	h.t.Helper()
	c := h.a.work.InView().Cue(id)
	require.NotNil(h.t, c)
	return c.At.String()
}

// hit gives the time of a cue in the show.
func (h *hand) hit(id timeline.ID) timeline.Time {
	h.t.Helper()
	at, ok := h.a.work.InView().Cue(id).At.In(h.a.work.InView().Beats)
	require.True(h.t, ok)
	return at
}

// places gives the places of all cues of the song in view but some.
func (h *hand) places(but ...timeline.ID) map[timeline.ID]string {
	m := map[timeline.ID]string{}
	for _, c := range h.a.work.InView().Cues {
		if !slices.Contains(but, c.ID) {
			m[c.ID] = c.At.String()
		}
	}
	return m
}

// undone gives the labels of the steps that undo would take back.
func (h *hand) undone() []string {
	undo, _ := h.a.work.Session.Labels()
	return undo
}

// asks types an answer into the field of a dialog that stands open, and Enter.
func (h *hand) asks(text string) {
	h.t.Helper()
	require.True(h.t, h.a.ui.Typing(), "no field has the focus")
	h.typed(text)
	h.key("Enter")
}

// jets is the first cue of the lane that most habits are tried with.
func (h *hand) jets() timeline.ID { return h.cues("Jets, lip")[0].Cue.ID }

// onBeats is how near, in seconds, a cue that stands on beats comes to a time: it stands on a fraction of a beat that people can read.
const onBeats = 0.0005

// moves says that a key moves the selected cue by a time, and another one back.
func moves(key, back string, by func(h *hand) timeline.Time) func(*testing.T, *hand) {
	return func(t *testing.T, h *hand) {
		id := h.jets()
		h.view().Choose(id)
		was := h.hit(id)
		h.key(key)
		require.InDelta(t, (was + by(h)).Seconds(), h.hit(id).Seconds(), onBeats)
		require.Len(t, h.undone(), 1)
		require.Equal(t, timeline.Time(0), h.view().Playhead, "the playhead stays")
		h.later()
		h.key(back)
		require.Equal(t, "13.1", h.cueAt(id), "there and back")
	}
}

func frames(n int64) func(h *hand) timeline.Time {
	return func(h *hand) timeline.Time { return timeline.Time(n) * h.a.work.Plan.Rate.FrameTicks() }
}

func beats(n int64) func(h *hand) timeline.Time {
	return func(h *hand) timeline.Time { return timeline.Time(n) * (h.bar("13.2") - h.bar("13.1")) }
}

// opens says that a key opens a dialog, which Escape leaves without doing anything.
func opens[D dialog](key string) func(*testing.T, *hand) {
	return func(t *testing.T, h *hand) {
		show := h.a.work.Session.Show()
		h.key(key)
		require.IsType(t, *new(D), h.a.dialog)
		h.key("Esc")
		if h.a.dialog != nil { // the first left a field or a filter
			h.key("Esc")
		}
		require.Nil(t, h.a.dialog)
		require.Same(t, show, h.a.work.Session.Show())
	}
}

// pages says that a key brings a page into view.
func pages(key, id string) func(*testing.T, *hand) {
	return func(t *testing.T, h *hand) {
		h.key(key)
		require.Equal(t, id, h.a.book.at)
	}
}

// taps says that a key places a cue on the lane of that number, unsnapped.
func taps(n int) func(*testing.T, *hand) {
	return func(t *testing.T, h *hand) {
		lanes := h.a.work.Data.Lanes
		h.view().Playhead = h.bar("9.1") + 30*timeline.Millisecond
		before := len(h.a.work.InView().Cues)
		h.key(string(rune('0' + n)))
		if n > len(lanes) {
			require.Len(t, h.a.work.InView().Cues, before)
			require.Contains(t, h.a.note.text, "the song has")
			return
		}
		require.Len(t, h.a.work.InView().Cues, before+1)
		c := h.a.work.Selected()[0]
		require.Equal(t, lanes[n-1].Lane.ID, c.Lane)
		require.InDelta(t, (h.bar("9.1") + 30*timeline.Millisecond).Seconds(), h.hit(c.ID).Seconds(), onBeats, "where it was heard")
	}
}

// grouped are two cues of one group.
func (h *hand) grouped() (a, b timeline.ID) {
	cues := h.cues("Jets, lip")
	a, b = cues[0].Cue.ID, cues[1].Cue.ID
	h.view().Choose(a, b)
	h.key("Ctrl+G")
	return a, b
}

// loops sets the loop from one place to another.
func (h *hand) loops(from, to string) {
	h.t.Helper()
	h.goes(from)
	h.key("I")
	h.goes(to)
	h.key("O")
	require.Equal(h.t, render.Span{From: h.bar(from), To: h.bar(to)}, h.view().Loop)
}

var keyHabits = []habit{
	{"Space", func(t *testing.T, h *hand) {
		h.goes("9.1")
		at := h.view().Playhead
		h.a.ui.Focus("click")
		h.step()
		h.key("Space")
		require.True(t, h.a.song.Plays(), "though a button has the focus")
		require.GreaterOrEqual(t, h.a.song.Heard(), at, "it begins where the playhead is, and nowhere else")
		require.False(t, h.a.song.IsOn("click"))
		h.until(func() bool { return h.a.song.Heard() > at })
		h.key("Space")
		require.False(t, h.a.song.Plays())
		require.Greater(t, h.view().Playhead, at, "a pause stays where it was heard")
		h.key("G")
		h.in.Keys, h.in.Text = []widget.Press{{Key: widget.KeySpace}}, []rune(" ")
		h.step()
		require.False(t, h.a.song.Plays(), "in a field it is a letter")
	}},
	{"R", func(t *testing.T, h *hand) {
		h.goes("9.1")
		at := h.view().Playhead
		h.key("Space")
		h.until(func() bool { return h.a.song.Heard() > at })
		h.key("R")
		require.False(t, h.a.song.Plays())
		require.Equal(t, at, h.view().Playhead)
	}},
	{"Shift+Space", func(t *testing.T, h *hand) {
		c := h.cues("Jets, lip")[0]
		h.view().Choose(c.Cue.ID)
		h.key("Shift+Space")
		require.True(t, h.a.song.Plays())
		require.InDelta(t, (c.Hit - 2*timeline.Second).Seconds(), h.view().Playhead.Seconds(), 0.001)
		h.a.song.Seek(c.End + timeline.Second - 100*timeline.Millisecond)
		h.step()
		require.True(t, h.a.song.Plays(), "it goes on to a second after")
		h.a.song.Seek(c.End + timeline.Second)
		h.until(func() bool { return !h.a.song.Plays() })
		require.InDelta(t, (c.Hit - 2*timeline.Second).Seconds(), h.view().Playhead.Seconds(), 0.001)
	}},
	{"Left", func(t *testing.T, h *hand) { h.walks(t, "Left", frames(-1)(h)) }},
	{"Right", func(t *testing.T, h *hand) { h.walks(t, "Right", frames(1)(h)) }},
	{"Shift+Left", func(t *testing.T, h *hand) {
		h.walks(t, "Shift+Left", -beats(1)(h))
		h.goes("20.1+1/3")
		h.key("Shift+Left")
		require.Equal(t, h.bar("20.1"), h.view().Playhead, "from between two to the one before")
	}},
	{"Shift+Right", func(t *testing.T, h *hand) {
		h.walks(t, "Shift+Right", beats(1)(h))
		h.key("]")
		h.walks(t, "Shift+Right", beats(1)(h)/2)
	}},
	{"Ctrl+Left", func(t *testing.T, h *hand) { h.marks(t, "Ctrl+Left", -1) }},
	{"Ctrl+Right", func(t *testing.T, h *hand) { h.marks(t, "Ctrl+Right", 1) }},
	{"Home", func(t *testing.T, h *hand) {
		h.goes("20.1")
		h.key("Home")
		require.Equal(t, timeline.Time(0), h.view().Playhead)
		require.Empty(t, h.a.work.Selected())
	}},
	{"End", func(t *testing.T, h *hand) {
		h.key("End")
		require.Equal(t, h.a.work.Data.Length(), h.view().Playhead)
	}},
	{"Ctrl+Home", func(t *testing.T, h *hand) { h.songBy(t, "Ctrl+Home", 2, 0) }},
	{"Ctrl+End", func(t *testing.T, h *hand) { h.songBy(t, "Ctrl+End", 1, len(h.a.work.Setlist())-1) }},
	{"Ctrl+PgUp", func(t *testing.T, h *hand) { h.songBy(t, "Ctrl+PgUp", 2, 1); h.songBy(t, "Ctrl+PgUp", 0, 0) }},
	{"Ctrl+PgDn", func(t *testing.T, h *hand) { h.songBy(t, "Ctrl+PgDn", 1, 2) }},
	{"PgUp", func(t *testing.T, h *hand) { h.paged(t, "PgUp", -1) }},
	{"PgDn", func(t *testing.T, h *hand) { h.paged(t, "PgDn", 1) }},
	{"G", func(t *testing.T, h *hand) {
		songs := h.a.work.Setlist()
		for _, c := range []struct {
			text string
			want timeline.Time
		}{{"17.2", h.bar("17.2")}, {"0:12.5", 12500 * timeline.Millisecond}, {"12.5s", 12500 * timeline.Millisecond}, {"01:00:10:00", 10 * timeline.Second}, {"+2 bars", h.bar("7.1")}, {"-1 beat", h.bar("4.4")}, {"+0.5s", h.bar("5.1") + timeline.Second/2}, {"Drop", h.bar("13.1")}} {
			h.goes("5.1")
			h.key("G")
			h.asks(c.text)
			require.Nil(t, h.a.dialog, c.text)
			require.Equal(t, c.want, h.view().Playhead, c.text)
		}
		h.goes("5.1")
		h.key("G")
		h.asks("nowhere")
		require.NotNil(t, h.a.dialog, "it can be mended where it was typed")
		require.True(t, h.says("give a bar 41.2"))
		require.Equal(t, h.bar("5.1"), h.view().Playhead)
		h.key("Esc", "G")
		h.asks(songs[1].Title)
		require.Equal(t, songs[1].ID, h.a.work.Song)
	}},
	{"L", func(t *testing.T, h *hand) {
		h.loops("5.1", "7.1")
		require.True(t, h.view().Looping)
		h.key("L")
		require.False(t, h.view().Looping)
		require.Equal(t, h.bar("5.1"), h.view().Loop.From, "it is kept")
		h.key("L")
		require.True(t, h.view().Looping)
	}},
	{"Shift+L", func(t *testing.T, h *hand) {
		h.view().Choose(h.jets())
		h.key("Shift+L")
		require.Equal(t, render.Span{From: h.bar("13.1"), To: h.bar("14.1")}, h.view().Loop, "whole bars")
		require.True(t, h.view().Looping)
	}},
	{"I", func(t *testing.T, h *hand) {
		h.loops("5.1", "9.1")
		h.goes("7.1")
		h.key("I")
		require.Equal(t, render.Span{From: h.bar("7.1"), To: h.bar("9.1")}, h.view().Loop)
		h.goes("11.1")
		h.key("I")
		require.Equal(t, render.Span{From: h.bar("11.1"), To: h.a.work.Data.Length()}, h.view().Loop, "past its end it lasts to the song's")
	}},
	{"O", func(t *testing.T, h *hand) {
		h.loops("5.1", "9.1")
		h.goes("7.1")
		h.key("O")
		require.Equal(t, render.Span{From: h.bar("5.1"), To: h.bar("7.1")}, h.view().Loop)
		h.goes("3.1")
		h.key("O")
		require.Equal(t, render.Span{To: h.bar("3.1")}, h.view().Loop, "before its start it lasts from the song's")
		require.True(t, h.view().Looping)
	}},
	{"F", func(t *testing.T, h *hand) {
		require.True(t, h.a.song.IsOn("follow"))
		h.key("F")
		require.False(t, h.a.song.IsOn("follow"))
		h.key("F")
		require.True(t, h.a.song.IsOn("follow"))
	}},
	{"Up", func(t *testing.T, h *hand) {
		lanes := h.a.work.Data.Lanes
		h.view().Focus = lanes[2].Lane.ID
		h.key("Up")
		require.Equal(t, lanes[1].Lane.ID, h.view().Focus)
		h.key("Up", "Up", "Up")
		require.Equal(t, lanes[0].Lane.ID, h.view().Focus, "the first is the end")
	}},
	{"Down", func(t *testing.T, h *hand) {
		h.key("Down")
		require.Equal(t, h.a.work.Data.Lanes[1].Lane.ID, h.view().Focus)
	}},
	{"Tab", func(t *testing.T, h *hand) { h.cuesBy(t, "Tab", false, 1) }},
	{"Shift+Tab", func(t *testing.T, h *hand) { h.cuesBy(t, "Shift+Tab", false, -1) }},
	{"Ctrl+Up", func(t *testing.T, h *hand) { h.cuesBy(t, "Ctrl+Up", true, -1) }},
	{"Ctrl+Down", func(t *testing.T, h *hand) { h.cuesBy(t, "Ctrl+Down", true, 1) }},
	{"F8", func(t *testing.T, h *hand) {
		h.settle()
		h.key("F8")
		require.Same(t, &h.a.work.Findings[0], h.a.chosenFinding())
		h.key("F8")
		require.Same(t, &h.a.work.Findings[1], h.a.chosenFinding())
	}},
	{"Shift+F8", func(t *testing.T, h *hand) {
		h.settle()
		h.key("F8", "F8", "Shift+F8")
		require.Same(t, &h.a.work.Findings[0], h.a.chosenFinding())
		h.key("Shift+F8")
		require.Same(t, &h.a.work.Findings[len(h.a.work.Findings)-1], h.a.chosenFinding(), "before the first comes the last")
	}},
	{"Enter", func(t *testing.T, h *hand) {
		lane, _ := h.lane("Sparks")
		h.view().Focus = lane
		h.view().Playhead = h.bar("31.2") + timeline.Millisecond
		h.key("Enter")
		c := h.a.work.Selected()
		require.Len(t, c, 1)
		require.Equal(t, "31.2", c[0].At.String(), "drawn to the grid")
		require.Equal(t, lane, c[0].Lane)
		h.key("Enter")
		require.Contains(t, h.a.note.text, "already has a cue at 31.2")
		require.Len(t, h.undone(), 1)
	}},
	{"T", func(t *testing.T, h *hand) {
		lanes := h.hitLanes()
		h.view().Focus = lanes[0].Lane.ID
		h.view().Playhead = h.bar("9.1") + 30*timeline.Millisecond
		h.key("T")
		c := h.a.work.Selected()[0]
		require.Equal(t, lanes[0].Lane.ID, c.Lane)
		require.InDelta(t, (h.bar("9.1") + 30*timeline.Millisecond).Seconds(), h.hit(c.ID).Seconds(), onBeats, "not drawn to the grid")
		h.view().Armed = lanes[1].Lane.ID
		h.goes("10.1")
		h.key("T")
		require.Equal(t, lanes[1].Lane.ID, h.a.work.Selected()[0].Lane, "the armed lane")
	}},
	{"1", taps(1)}, {"2", taps(2)}, {"3", taps(3)}, {"4", taps(4)}, {"5", taps(5)}, {"6", taps(6)}, {"7", taps(7)}, {"8", taps(8)}, {"9", taps(9)},
	{"M", func(t *testing.T, h *hand) {
		h.view().Playhead = h.bar("9.1") + timeline.Millisecond
		h.key("M")
		m := h.a.work.InView().Markers
		require.Len(t, m, 1)
		at, _ := m[0].At.In(h.a.work.InView().Beats)
		require.Equal(t, h.bar("9.1"), at)
		require.Equal(t, h.bar("9.1")+timeline.Millisecond, h.view().Playhead)
	}},
	{"Ctrl+Shift+M", func(t *testing.T, h *hand) {
		n := len(h.a.work.InView().Sections)
		cues := h.cues("Jets, lip")
		h.view().Choose(cues[0].Cue.ID, cues[1].Cue.ID)
		h.key("Ctrl+Shift+M")
		made := h.a.work.InView().Sections
		require.Len(t, made, n+1)
		h.key("Ctrl+Z")
		h.loops("5.1", "9.1")
		h.key("Ctrl+Shift+M")
		made = h.a.work.InView().Sections
		s := made[slices.IndexFunc(made, func(s *timeline.Section) bool { return strings.HasPrefix(s.Name, "Section ") })]
		from, _ := s.At.In(h.a.work.InView().Beats)
		to, _ := s.To.In(h.a.work.InView().Beats)
		require.Equal(t, render.Span{From: h.bar("5.1"), To: h.bar("9.1")}, render.Span{From: from, To: to}, "the loop comes before the selection")
	}},
	{"+", func(t *testing.T, h *hand) { h.zooms(t, "+", 1) }},
	{"-", func(t *testing.T, h *hand) { h.zooms(t, "-", -1) }},
	{"0", func(t *testing.T, h *hand) {
		whole := h.a.song.Drawn().Show
		h.goes("9.1")
		h.key("+", "+")
		require.NotEqual(t, whole, h.a.song.Drawn().Show)
		h.key("0")
		require.Equal(t, whole, h.a.song.Drawn().Show)
	}},
	{"Z", func(t *testing.T, h *hand) {
		c := h.cues("Jets, lip")[0]
		h.view().Choose(c.Cue.ID)
		h.key("Z")
		now := h.a.song.Drawn().Show
		require.True(t, now.From <= c.Hit && c.End <= now.To)
		require.Less(t, now.To-now.From, 10*timeline.Second)
	}},
	{"Shift+Z", func(t *testing.T, h *hand) {
		h.goes("9.1")
		h.key("+", "+")
		was := h.a.song.Drawn().Show
		h.view().Choose(h.jets())
		h.key("Z")
		near := h.a.song.Drawn().Show
		require.NotEqual(t, was, near)
		h.key("Shift+Z")
		require.Equal(t, was, h.a.song.Drawn().Show)
		h.key("Shift+Z")
		require.Equal(t, near, h.a.song.Drawn().Show, "there and back")
	}},
	{"Ctrl+Alt++", func(t *testing.T, h *hand) {
		h.key("Ctrl+Alt++")
		require.Equal(t, 110, h.a.prefs.Factor)
		require.EqualValues(t, 110, h.a.Scale())
	}},
	{"Ctrl+Alt+-", func(t *testing.T, h *hand) {
		h.key("Ctrl+Alt+-")
		require.Equal(t, 90, h.a.prefs.Factor)
	}},
	{"F9", func(t *testing.T, h *hand) {
		var seen []string
		for range themes {
			seen = append(seen, h.a.Theme().Name)
			h.key("F9")
		}
		require.Equal(t, []string{"Dark", "Night", "Day"}, seen)
		require.Equal(t, "Dark", h.a.Theme().Name)
	}},
	{"F11", func(t *testing.T, h *hand) {
		h.key("F11")
		require.True(t, h.a.Fullscreen())
		h.key("F11")
		require.False(t, h.a.Fullscreen())
	}},
	{"Alt+Left", moves("Alt+Left", "Alt+Right", frames(-1))}, {"Alt+Right", moves("Alt+Right", "Alt+Left", frames(1))}, {",", moves(",", ".", frames(-1))}, {".", moves(".", ",", frames(1))},
	{"Alt+Shift+Left", moves("Alt+Shift+Left", "Alt+Shift+Right", beats(-1))}, {"Alt+Shift+Right", moves("Alt+Shift+Right", "Alt+Shift+Left", beats(1))},
	{"Alt+Up", func(t *testing.T, h *hand) { h.shifts(t, "Alt+Up", -1) }},
	{"Alt+Down", func(t *testing.T, h *hand) { h.shifts(t, "Alt+Down", 1) }},
	{"Ctrl+C", func(t *testing.T, h *hand) {
		h.view().Choose(h.jets())
		h.key("Ctrl+C")
		require.Empty(t, h.undone())
		require.Contains(t, h.a.note.text, "copied 1 cue")
		require.Equal(t, "13.1\n", h.a.ui.Clip.Read(), "as text for other programs")
	}},
	{"Ctrl+X", func(t *testing.T, h *hand) {
		id := h.jets()
		rest := h.places(id)
		h.view().Choose(id)
		h.key("Ctrl+X")
		require.Equal(t, rest, h.places())
		h.goes("15.3")
		h.key("Ctrl+V")
		require.Equal(t, "15.3", h.a.work.Selected()[0].At.String())
	}},
	{"Ctrl+V", func(t *testing.T, h *hand) {
		cues := h.cues("Jets, lip")
		a, b := cues[0], cues[1]
		h.view().Choose(a.Cue.ID, b.Cue.ID)
		h.key("Ctrl+C")
		h.view().Playhead = h.bar("31.2") + timeline.Millisecond
		h.key("Ctrl+V")
		new := h.a.work.Selected()
		require.Len(t, new, 2)
		require.Equal(t, a.Cue.Lane, new[0].Lane)
		require.Equal(t, h.bar("31.2"), h.hit(new[0].ID), "drawn to the grid")
		require.InDelta(t, (b.Hit - a.Hit).Seconds(), (h.hit(new[1].ID) - h.hit(new[0].ID)).Seconds(), 0.0002)
		require.Len(t, h.undone(), 1)
	}},
	{"Ctrl+Shift+V", func(t *testing.T, h *hand) {
		h.view().Choose(h.jets())
		h.key("Ctrl+C", "Ctrl+PgDn")
		h.key("Ctrl+Shift+V")
		require.Equal(t, "13.1", h.a.work.Selected()[0].At.String(), "at the bar it came from, in another song")
		h.key("Ctrl+Z")
		strange := timeline.ID("")
		here, there := h.a.work.Setlist()[0], h.a.work.Setlist()[1]
		h.a.song.GoSong(here.ID)
		for _, l := range h.hitLanes() {
			if h.a.work.Show.Song(there.ID).LaneLike(l.Lane) == nil {
				strange = l.Cues[0].Cue.ID
			}
		}
		require.NotEmpty(t, strange, "a lane that the next song has none like")
		h.view().Choose(strange)
		h.key("Ctrl+C", "Ctrl+PgDn")
		lanes := len(h.a.work.InView().Lanes)
		h.key("Ctrl+Shift+V")
		require.NotNil(t, h.a.dialog, "its lane is chosen")
		h.key("Esc")
		require.Empty(t, h.undone())
		h.key("Ctrl+Shift+V", "Enter", "Down", "Enter")
		h.button("Paste")
		require.Len(t, h.undone(), 1)
		require.Len(t, h.a.work.InView().Lanes, lanes, "on one that is there")
		require.NotNil(t, h.a.work.Show.Song(there.ID).Lane(h.a.work.Selected()[0].Lane))
		h.key("Ctrl+Z", "Ctrl+Shift+V")
		h.button("Paste")
		require.Len(t, h.a.work.InView().Lanes, lanes+1, "or on one of its own")
	}},
	{"Ctrl+D", func(t *testing.T, h *hand) {
		cues := h.cues("Jets, lip")
		h.view().Choose(cues[0].Cue.ID, cues[1].Cue.ID)
		h.key("Ctrl+D")
		first, last := h.a.work.InView().Beats.Locate(cues[0].Hit).Bar, h.a.work.InView().Beats.Locate(cues[1].Hit).Bar
		new := h.a.work.Selected()
		require.Len(t, new, 2)
		require.Equal(t, last+1, new[0].At.Bar.Bar)
		require.Equal(t, last+1+last-first, new[1].At.Bar.Bar, "by whole bars")
	}},
	{"Delete", func(t *testing.T, h *hand) {
		id := h.jets()
		rest := h.places(id)
		h.view().Choose(id)
		h.key("Delete")
		require.Equal(t, rest, h.places(), "nothing else moves")
	}},
	{"Shift+Delete", func(t *testing.T, h *hand) { removesTime(t, h) }},
	{"Ctrl+G", func(t *testing.T, h *hand) {
		a, b := h.grouped()
		h.view().Choose()
		h.tap(middle(h.cue(a)))
		require.Equal(t, map[timeline.ID]bool{a: true, b: true}, h.view().Selected, "a press takes all of a group")
	}},
	{"Ctrl+Shift+G", func(t *testing.T, h *hand) {
		a, _ := h.grouped()
		h.key("Ctrl+Shift+G")
		h.view().Choose()
		h.tap(middle(h.cue(a)))
		require.Equal(t, map[timeline.ID]bool{a: true}, h.view().Selected)
	}},
	{"Ctrl+L", func(t *testing.T, h *hand) {
		id := h.jets()
		h.view().Choose(id)
		h.key("Ctrl+L")
		require.True(t, h.a.work.InView().Cue(id).Locked)
		h.key("Alt+Right")
		require.Equal(t, "13.1", h.cueAt(id))
		require.Contains(t, h.a.note.text, "locked: unlock it with Ctrl+L")
		h.key("Ctrl+L")
		require.False(t, h.a.work.InView().Cue(id).Locked)
	}},
	{"Ctrl+Shift+L", func(t *testing.T, h *hand) {
		id := h.jets()
		lane, _ := h.lane("Jets, lip")
		h.view().Focus = lane
		h.key("Ctrl+Shift+L")
		require.True(t, h.a.work.InView().Lane(lane).Locked)
		h.view().Choose(id)
		h.key("Alt+Right")
		require.Equal(t, "13.1", h.cueAt(id))
		require.Contains(t, h.a.note.text, "Jets, lip is locked: unlock it with Ctrl+Shift+L")
		h.key("Ctrl+Shift+L")
		require.False(t, h.a.work.InView().Lane(lane).Locked)
	}},
	{"H", func(t *testing.T, h *hand) {
		id := h.jets()
		n := len(h.a.work.Data.Plan.Commands)
		h.view().Choose(id)
		h.key("H")
		require.True(t, h.a.work.InView().Cue(id).Disabled)
		require.Less(t, len(h.a.work.Data.Plan.Commands), n, "it is out of the plan")
		h.key("H")
		require.Len(t, h.a.work.Data.Plan.Commands, n)
	}},
	{"Ctrl+U", func(t *testing.T, h *hand) {
		lane := h.view().Focus
		show, findings := h.a.work.Session.Show(), len(h.a.work.Findings)
		h.key("Ctrl+U")
		require.False(t, h.a.work.Previewed(lane))
		require.Same(t, show, h.a.work.Session.Show(), "of the preview alone")
		require.Len(t, h.a.work.Findings, findings)
		h.key("Ctrl+U")
		require.True(t, h.a.work.Previewed(lane))
	}},
	{"Ctrl+Shift+U", func(t *testing.T, h *hand) {
		h.key("Ctrl+Shift+U")
		for i, l := range h.a.work.Data.Lanes {
			require.Equal(t, i == 0, h.a.work.Previewed(l.Lane.ID))
		}
	}},
	{"Q", func(t *testing.T, h *hand) {
		id := h.jets()
		h.view().Choose(id)
		h.key("Alt+Right", "Q")
		require.Equal(t, "13.1", h.cueAt(id))
	}},
	{"S", func(t *testing.T, h *hand) {
		h.key("S")
		require.False(t, h.a.prefs.Snap)
		h.view().Playhead = h.bar("31.2") + 5*timeline.Millisecond
		h.key("M")
		at, _ := h.a.work.InView().Markers[0].At.In(h.a.work.InView().Beats)
		require.InDelta(t, h.view().Playhead.Seconds(), at.Seconds(), onBeats)
		h.key("S")
		require.True(t, h.a.prefs.Snap)
	}},
	{"[", func(t *testing.T, h *hand) {
		h.key("[")
		require.Equal(t, "1/2 bar", h.a.song.GridName())
		require.True(t, h.says("grid 1/2 bar"))
	}},
	{"]", func(t *testing.T, h *hand) {
		h.key("]")
		require.Equal(t, "1/2 beat", h.a.song.GridName())
	}},
	{"Ctrl+Z", func(t *testing.T, h *hand) {
		show := h.a.work.Session.Show()
		h.key("M", "Ctrl+Z")
		require.Same(t, show, h.a.work.Session.Show())
		h.key("Ctrl+Z")
		require.Contains(t, h.a.note.text, "nothing to undo")
	}},
	{"Ctrl+Shift+Z", func(t *testing.T, h *hand) {
		h.key("M", "Ctrl+Z", "Ctrl+Shift+Z")
		require.Len(t, h.a.work.InView().Markers, 1)
	}},
	{"Ctrl+Y", func(t *testing.T, h *hand) {
		h.key("M", "Ctrl+Z", "Ctrl+Y")
		require.Len(t, h.a.work.InView().Markers, 1)
	}},
	{"Ctrl+A", func(t *testing.T, h *hand) {
		lane, _ := h.lane("Jets, lip")
		h.view().Focus = lane
		h.key("Ctrl+A")
		require.Len(t, h.a.work.Selected(), len(h.cues("Jets, lip")))
		h.key("Ctrl+A")
		require.Len(t, h.a.work.Selected(), len(h.a.work.InView().Cues))
	}},
	{"Ctrl+Shift+A", func(t *testing.T, h *hand) {
		h.key("Ctrl+A", "Ctrl+Shift+A")
		require.Empty(t, h.a.work.Selected())
	}},
	{"Shift+End", func(t *testing.T, h *hand) {
		h.sides(t, "Shift+End", func(hit, at timeline.Time) bool { return hit >= at })
	}},
	{"Shift+Home", func(t *testing.T, h *hand) {
		h.sides(t, "Shift+Home", func(hit, at timeline.Time) bool { return hit < at })
	}},
	{"Ctrl+F", func(t *testing.T, h *hand) {
		h.key("Ctrl+F")
		h.typed("Drop")
		h.key("Enter")
		require.Nil(t, h.a.dialog)
		require.Equal(t, h.bar("13.1"), h.view().Playhead)
	}},
	{"F3", func(t *testing.T, h *hand) {
		h.key("F3")
		require.Contains(t, h.a.note.text, "find something first")
		h.key("Ctrl+F")
		h.typed("Verse")
		h.key("Enter")
		found := len(h.a.panel.found)
		require.Greater(t, found, 1)
		type at struct {
			song timeline.ID
			head timeline.Time
		}
		first := at{h.a.work.Song, h.view().Playhead}
		h.key("F3")
		require.NotEqual(t, first, at{h.a.work.Song, h.view().Playhead})
		for range found - 1 {
			h.key("F3")
		}
		require.Equal(t, first, at{h.a.work.Song, h.view().Playhead}, "round to the first")
	}},
	{"Ctrl+Enter", func(t *testing.T, h *hand) {
		h.view().Choose(h.jets())
		h.key("Ctrl+Enter")
		require.True(t, h.a.ui.HasFocus(), "a field of the inspector")
	}},
	{"F2", func(t *testing.T, h *hand) {
		h.view().Choose(h.jets())
		h.key("F2")
		require.True(t, h.a.ui.HasFocus())
	}},
	{"Ctrl+I", opens[*browseDialog]("Ctrl+I")},
	{"Ctrl+E", opens[*exportDialog]("Ctrl+E")},
	{"Ctrl+S", func(t *testing.T, h *hand) {
		before, err := os.ReadDir(filepath.Join(h.dir, "songs"))
		require.NoError(t, err)
		h.key("M")
		require.True(t, h.a.work.Session.Dirty())
		h.key("Ctrl+S")
		require.False(t, h.a.work.Session.Dirty())
		h.key("Ctrl+Z")
		require.Empty(t, h.a.work.InView().Markers, "undo works after saving")
		h.key("Ctrl+S")
		after, err := os.ReadDir(filepath.Join(h.dir, "songs"))
		require.NoError(t, err)
		require.Len(t, after, len(before))
	}},
	{"Ctrl+O", opens[*browseDialog]("Ctrl+O")},
	{"Ctrl+N", opens[*browseDialog]("Ctrl+N")},
	{"Ctrl+,", opens[*prefsDialog]("Ctrl+,")},
	{"Ctrl+Q", func(t *testing.T, h *hand) {
		h.key("M", "Ctrl+Q")
		require.False(t, h.a.Quit(), "unsaved edits are asked about")
		require.IsType(t, &leaveDialog{}, h.a.dialog)
		h.key("Esc", "Ctrl+Z", "Ctrl+Q")
		require.True(t, h.a.Quit())
	}},
	{"Ctrl+Shift+P", func(t *testing.T, h *hand) {
		h.key("Ctrl+Shift+P")
		h.typed("add marker")
		h.key("Enter")
		require.Len(t, h.a.work.InView().Markers, 1)
	}},
	{"F1", opens[*helpDialog]("F1")},
	{"?", func(t *testing.T, h *hand) {
		h.key("?")
		d, ok := h.a.dialog.(*helpDialog)
		require.True(t, ok)
		under := map[string]string{}
		for _, p := range d.parts {
			for _, r := range p.Rows {
				under[r.Keys] = p.Title
			}
		}
		require.Equal(t, "Play", under["Space"])
		require.Equal(t, "Not now: select a cue first", under["Delete"], "what does nothing now says why")
		h.key("Enter")
		h.view().Choose(h.jets())
		h.key("?")
		for _, p := range h.a.dialog.(*helpDialog).parts {
			require.NotEqual(t, "Not now: select a cue first", p.Title)
		}
	}},
	{"F6", func(t *testing.T, h *hand) {
		require.False(t, h.a.ui.HasFocus())
		h.key("F6")
		require.True(t, h.a.ui.HasFocus())
	}},
	{"Shift+F6", func(t *testing.T, h *hand) {
		h.key("Shift+F6")
		require.True(t, h.a.ui.HasFocus())
	}},
	{"Esc", func(t *testing.T, h *hand) {
		h.key("F6")
		require.True(t, h.a.ui.HasFocus())
		h.key("Esc")
		require.False(t, h.a.ui.HasFocus())
		h.key("Ctrl+1", "Esc")
		if h.a.book.at != "" { // the first leaves the table
			h.key("Esc")
		}
		require.Empty(t, h.a.book.at)
		h.view().Choose(h.jets())
		h.key("Esc")
		require.Empty(t, h.a.work.Selected(), "with nothing else to leave it leaves the selection")
	}},
	{"Shift+F10", func(t *testing.T, h *hand) { h.menus(t, "Shift+F10") }},
	{"Menu", func(t *testing.T, h *hand) { h.menus(t, "Menu") }},

	// Of the newer page.
	{"B", func(t *testing.T, h *hand) {
		h.key("B")
		require.True(t, h.a.song.Strip().Open())
		h.key("B")
		require.False(t, h.a.song.Strip().Open())
	}},
	{"V", func(t *testing.T, h *hand) {
		h.move(image.Pt(-1, -1))
		was := textsOf(h.frame.Panels) + textsOf(h.frame.Moving)
		h.key("V")
		require.NotEqual(t, was, textsOf(h.frame.Panels)+textsOf(h.frame.Moving))
		h.key("V")
		require.Equal(t, was, textsOf(h.frame.Panels)+textsOf(h.frame.Moving))
	}},
	{"J", func(t *testing.T, h *hand) {
		h.key("J")
		require.True(t, h.a.song.Strip().Open(), "the first tap opens the strip")
		require.Empty(t, h.undone())
	}},
	{"C", pages("C", "calling")},
	{"W", pages("W", "set-view")},
	{"Shift+F5", func(t *testing.T, h *hand) {
		h.key("Shift+F5")
		require.True(t, h.a.song.IsOn("stage-large"))
		h.key("Shift+F5")
		require.False(t, h.a.song.IsOn("stage-large"))
	}},
	{"Ctrl+Shift+N", func(t *testing.T, h *hand) {
		h.key("Ctrl+Shift+N")
		require.NotNil(t, h.a.dialog)
		require.True(t, h.says("Add lane"))
	}},
	{"Ctrl+Shift+H", pages("Ctrl+Shift+H", "history")},
}

// walks says that a key moves the playhead by a time, and nothing else.
func (h *hand) walks(t *testing.T, key string, by timeline.Time) {
	h.goes("20.1")
	show := h.a.work.Session.Show()
	at := h.view().Playhead
	p := h.a.work.Data.Plan
	h.key(key)
	if d := p.FrameAt(at+by) - p.FrameAt(at); d == 1 || d == -1 {
		require.Equal(t, p.TimeOf(p.FrameAt(at)+d), h.view().Playhead, "a frame is a whole one")
	} else {
		require.InDelta(t, (at + by).Seconds(), h.view().Playhead.Seconds(), 0.0001)
	}
	require.Same(t, show, h.a.work.Session.Show())
}

// marks says that a key goes from section to section and marker to marker.
func (h *hand) marks(t *testing.T, key string, n int) {
	h.goes("10.3")
	h.key("M")
	song := h.a.work.InView()
	stops := []timeline.Time{0, song.Duration(), h.bar("10.3")}
	for _, s := range song.Sections {
		at, _ := s.At.In(song.Beats)
		stops = append(stops, at)
	}
	slices.Sort(stops)
	stops = slices.Compact(stops)
	if n < 0 {
		slices.Reverse(stops)
	}
	h.view().Playhead = stops[0]
	for _, want := range stops[1:] {
		h.key(key)
		require.InDelta(t, want.Seconds(), h.view().Playhead.Seconds(), 0.001)
	}
}

// songBy says that a key goes from one song of the set to another.
func (h *hand) songBy(t *testing.T, key string, from, to int) {
	list := h.a.work.Setlist()
	h.a.song.GoSong(list[from].ID)
	h.step()
	h.key(key)
	require.Equal(t, list[to].ID, h.a.work.Song)
}

// paged says that a key turns a page of time, and leaves the playhead where it is.
func (h *hand) paged(t *testing.T, key string, n int) {
	h.goes("20.1")
	h.view().Set(h.a.work.Data.Whole(), h.bar("18.1"), 10*timeline.Second)
	h.step()
	was := h.a.song.Drawn().Show
	h.key(key)
	now := h.a.song.Drawn().Show
	require.Equal(t, was.To-was.From, now.To-now.From)
	require.Equal(t, timeline.Time(n)*9*timeline.Second, now.From-was.From, "a tenth of the page stays in view")
	require.Equal(t, h.bar("20.1"), h.view().Playhead)
}

// cuesBy says that a key goes from cue to cue, of the lane in focus or of all.
func (h *hand) cuesBy(t *testing.T, key string, all bool, n int) {
	lane, _ := h.lane("Jets, lip")
	h.view().Focus = lane
	var list []render.CueData
	for _, l := range h.a.work.Data.Lanes {
		if all || l.Lane.ID == lane {
			list = append(list, l.Cues...)
		}
	}
	slices.SortFunc(list, func(a, b render.CueData) int {
		if a.Hit != b.Hit {
			return int(max(min(a.Hit-b.Hit, 1), -1))
		}
		return strings.Compare(string(a.Cue.ID), string(b.Cue.ID))
	})
	if n < 0 {
		slices.Reverse(list)
	}
	h.view().Choose(list[0].Cue.ID)
	for _, want := range list[1:min(len(list), 8)] {
		h.key(key)
		id, one := h.view().One()
		require.True(t, one)
		require.Equal(t, want.Cue.ID, id)
		require.Equal(t, want.Cue.Lane, h.view().Focus)
	}
}

// zooms says that a key zooms about the playhead while that is in view, and about the middle otherwise.
func (h *hand) zooms(t *testing.T, key string, n int) {
	h.goes("20.1")
	h.view().Set(h.a.work.Data.Whole(), h.bar("17.1"), 12*timeline.Second)
	h.step()
	column := func(at timeline.Time) float64 {
		now := h.a.song.Drawn().Show
		return float64(at-now.From) / float64(now.To-now.From)
	}
	long := func() float64 { s := h.a.song.Drawn().Show; return (s.To - s.From).Seconds() }
	at, was := column(h.view().Playhead), long()
	h.key(key)
	require.InDelta(t, at, column(h.view().Playhead), 0.001, "the playhead stays where it is on screen")
	require.InDelta(t, 1.4142, max(was/long(), long()/was), 0.001)
	require.Equal(t, n > 0, long() < was)
	h.view().Playhead = 0
	mid := (h.a.song.Drawn().Show.From + h.a.song.Drawn().Show.To) / 2
	h.key(key)
	require.InDelta(t, 0.5, column(mid), 0.001, "out of view, the middle stays")
}

// shifts says that a key moves cues to the next lane.
func (h *hand) shifts(t *testing.T, key string, n int) {
	lanes := h.a.work.Data.Lanes
	for i := range lanes {
		k := i + n
		if k < 0 || k >= len(lanes) || lanes[i].Lane.Window() || lanes[k].Lane.Window() || len(lanes[i].Cues) == 0 {
			continue
		}
		c := lanes[i].Cues[0].Cue
		h.view().Choose(c.ID)
		h.key(key)
		require.Equal(t, lanes[k].Lane.ID, h.a.work.InView().Cue(c.ID).Lane)
		require.Equal(t, c.At, h.a.work.InView().Cue(c.ID).At, "its time stays")
		return
	}
	require.Fail(t, "no two such lanes stand side by side")
}

// sides says that a key selects what lies on one side of the playhead.
func (h *hand) sides(t *testing.T, key string, of func(hit, at timeline.Time) bool) {
	h.goes("17.1")
	at, want := h.view().Playhead, map[timeline.ID]bool{}
	for _, l := range h.a.work.Data.Lanes {
		for _, c := range l.Cues {
			if of(c.Hit, at) {
				want[c.Cue.ID] = true
			}
		}
	}
	require.NotEmpty(t, want)
	h.key(key)
	require.Equal(t, want, h.view().Selected)
	require.Equal(t, at, h.view().Playhead)
}

// menus says that a key opens the menu of what is selected.
func (h *hand) menus(t *testing.T, key string) {
	h.view().Choose(h.jets())
	h.step()
	h.key(key)
	require.True(t, h.a.ui.MenuOpen("context"))
	require.True(t, h.says("Duplicate"))
	h.key("Esc")
	require.False(t, h.a.ui.Modal())
}

// removesTime says that removing time asks first, with what goes, what moves and what stays, and that its button does not have the focus.
func removesTime(t *testing.T, h *hand) {
	h.key("Shift+Delete")
	require.Nil(t, h.a.dialog)
	require.Contains(t, h.a.note.text, "set a loop first")
	song := h.a.work.InView()
	h.loops("13.1", "15.1")
	var stays, gone, later []timeline.ID
	for _, c := range song.Cues {
		switch at := h.hit(c.ID); {
		case at < h.bar("13.1"):
			stays = append(stays, c.ID)
		case at < h.bar("15.1"):
			gone = append(gone, c.ID)
		default:
			later = append(later, c.ID)
		}
	}
	require.NotEmpty(t, gone)
	require.NotEmpty(t, later)
	was := h.places()
	h.key("Shift+Delete")
	require.NotNil(t, h.a.dialog)
	for _, said := range []string{timeline.Counted(len(gone), "cue") + " in it go", timeline.Counted(len(later), "cue") + " after it come", "sections", "markers"} {
		require.Contains(t, strings.ReplaceAll(textsOf(h.frame.Panels), "\n", " "), said)
	}
	h.key("Enter")
	require.Equal(t, was, h.places(), "Enter does not remove")
	h.key("Shift+Delete")
	h.button("Remove")
	require.Len(t, h.undone(), 1)
	for _, id := range stays {
		require.Equal(t, was[id], h.cueAt(id))
	}
	for _, id := range gone {
		require.Nil(t, h.a.work.InView().Cue(id))
	}
	for _, id := range later {
		before, after := song.Cue(id).At, h.a.work.InView().Cue(id).At
		if before.OnBeat {
			require.Equal(t, before.Bar.Bar-2, after.Bar.Bar, "two bars earlier, on the same beat")
			require.Equal(t, before.Bar.Beat, after.Bar.Beat)
		}
	}
	h.key("Ctrl+Z")
	require.Equal(t, was, h.places())
	h.view().Choose(later[0])
	h.key("Ctrl+L", "Shift+Delete")
	h.button("Remove")
	require.Contains(t, h.a.note.text, "is locked", "a lock keeps a cue where it is")
	h.key("Ctrl+Z")
	require.Equal(t, was, h.places())
}

// Each key that is promised does what is promised of it.
func TestHabitsOfKeys(t *testing.T) {
	var named []string
	for _, x := range keyHabits {
		named = append(named, x.name)
	}
	require.Subset(t, named, conventional, "each promised key has a row")
	m := New(Options{}).keys
	for _, taken := range []string{"Ctrl+Space", "Alt+Space", "Ctrl+Tab", "Ctrl+H", "Ctrl+M", "Ctrl+Alt+T"} {
		p, ok := keymap.ParsePress(taken)
		require.True(t, ok)
		require.Empty(t, m.Of(p), "%s belongs to desktops", taken)
	}
	require.Len(t, slices.Compact(slices.Sorted(slices.Values(named))), len(named), "and none two")
	habits(t, keyHabits)
}
