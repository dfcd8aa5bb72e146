package app

import (
	"image"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// panelWords gives what the panels say, text by text.
func (h *hand) panelWords() []string {
	var list []string
	s := h.frame.Panels
	for i := range s.Shapes {
		if sh := &s.Shapes[i]; sh.Kind == render.KindText {
			list = append(list, string(s.Label(sh)))
		}
	}
	return list
}

// withCue chooses the first cue of a lane of the example, in a window in which the inspector shows all of it.
func withCue(t *testing.T, lane string) (*hand, *timeline.Cue) {
	h := withExample(t)
	h.size = image.Pt(1440, 1800)
	id := h.cues(lane)[0].Cue.ID
	h.a.work.View().Choose(id)
	h.until(func() bool { return h.a.work.Checked() })
	h.step()
	return h, h.a.work.InView().Cue(id)
}

// A chosen cue says where each value comes from, when it is commanded and what comes before and after it on its unit; nothing that is known is written
// as a zero.
func TestInspectorSaysWhereValuesComeFrom(t *testing.T) {
	h, _ := withCue(t, "Jets, lip")
	words := h.panelWords()
	text := strings.Join(words, "\n")
	for _, want := range []string{"Place in the music", "Timecode", "Command", "What it does", "1 of 4 values own", "from the lane", "What it needs", "Lead", "Recovery", "Next here", "Group and note"} {
		require.Contains(t, words, want)
	}
	require.Contains(t, text, "article · ", "its mark stands with it")
	require.Contains(t, text, "command 01:", "the lead bar names the frame")
	require.NotContains(t, text, "0.0000")
	require.Contains(t, text, "own · else 0.5 s")
	if dir := os.Getenv("EMBERBEAT_PICTURES"); dir != "" {
		writePicture(t, dir+"/inspector-cue.png", h.picture())
	}
}

// An own value is given back by its arrow, and holds again as it is inherited.
func TestInspectorGivesAnOwnValueBack(t *testing.T) {
	h, cue := withCue(t, "Jets, lip")
	refs := h.a.inspected()
	open := timeline.KindOf("cue").Field("open")
	h.a.inspector.Assign(open, refs, "0.75")
	h.step()
	require.Contains(t, strings.Join(h.panelWords(), "\n"), "own · else ")
	h.button("back")
	require.Zero(t, h.a.work.Session.Show().Song(h.a.work.Song).Cue(cue.ID).Open)
	h.step()
	require.NotContains(t, strings.Join(h.panelWords(), "\n"), "own · else ")
	h.key("Ctrl+Z")
	require.Equal(t, 750*timeline.Millisecond, h.a.work.Session.Show().Song(h.a.work.Song).Cue(cue.ID).Open, "it was one step")
}

// Many cues are shown in one: what differs from what to what.
func TestInspectorShowsWhatDiffers(t *testing.T) {
	h, _ := withCue(t, "Jets, lip")
	list := h.cues("Jets, lip")
	h.a.work.View().Choose(list[0].Cue.ID, list[1].Cue.ID, list[2].Cue.ID)
	h.step()
	kind := timeline.KindOf("cue")
	h.a.inspector.Assign(kind.Field("open"), h.a.inspected()[:1], "0.4")
	h.a.inspector.Assign(kind.Field("open"), h.a.inspected()[1:2], "0.6")
	h.step()
	text := strings.Join(h.panelWords(), "\n")
	require.Regexp(t, `0\.\d+ to 0\.6 s`, text)
	require.Contains(t, text, "3 own values")
	if dir := os.Getenv("EMBERBEAT_PICTURES"); dir != "" {
		writePicture(t, dir+"/inspector-many.png", h.picture())
	}
}

// Hashes and counts of samples are out of the way until they are asked for.
func TestInspectorKeepsHashesClosed(t *testing.T) {
	h := withExample(t)
	h.size = image.Pt(1440, 2400)
	h.a.Beside(timeline.Ref{Kind: "song", ID: h.a.work.Song})
	h.step()
	require.NotContains(t, h.panelWords(), "Pcm hash")
	require.Contains(t, h.panelWords(), "Title")
	h.button("kept")
	require.Contains(t, h.panelWords(), "Pcm hash")
	require.Contains(t, h.panelWords(), "Sample rate")
}

// What nobody gave says so, and a link beside an inherited value leads to what gives it.
func TestInspectorLinksToWhatGivesAValue(t *testing.T) {
	h, cue := withCue(t, "Jets, lip")
	h.button("source-target")
	require.Equal(t, []timeline.Ref{{Kind: "lane", Song: h.a.work.Song, ID: cue.Lane}}, h.a.inspected())
	h.step()
	require.Contains(t, h.panelWords(), "Cold jet, 6 m · from the rig", "the lane says where its own come from")
	require.Contains(t, h.panelWords(), "0.5 s · article · invented")
}

// Many cues go later and open longer together, from what holds for each, as one step.
func TestInspectorChangesManyTogether(t *testing.T) {
	h, _ := withCue(t, "Jets, lip")
	var ids []timeline.ID
	for _, c := range h.cues("Jets, lip")[:3] {
		ids = append(ids, c.Cue.ID)
	}
	h.a.work.View().Choose(ids...)
	h.step()
	song := func() *timeline.Song { return h.a.work.Session.Show().Song(h.a.work.Song) }
	before := song()
	type in struct{ field, text string }
	for _, x := range []in{{"by-later", "1 beat"}, {"by-longer", "20"}} {
		h.button(x.field)
		h.typed(x.text)
		h.key("Enter")
	}
	h.until(func() bool { return strings.Contains(strings.Join(h.panelWords(), " "), "Findings: ") })
	if dir := os.Getenv("EMBERBEAT_PICTURES"); dir != "" {
		writePicture(t, dir+"/inspector-many.png", h.picture())
	}
	h.button("change-all")
	for _, id := range ids {
		was, is := before.Cue(id), song().Cue(id)
		a, _ := was.At.In(before.Beats)
		require.Equal(t, before.Beats.At(before.Beats.Snap(a+before.Beats.At(timeline.BarBeat{Bar: 13, Beat: timeline.NewRat(1, 1)})-before.Beats.At(timeline.BarBeat{Bar: 13}), timeline.NewRat(1, 1))), mustAt(t, is.At, before.Beats))
		require.Equal(t, was.Open*6/5, is.Open)
	}
	h.key("Ctrl+Z")
	for _, id := range ids {
		require.Equal(t, before.Cue(id), song().Cue(id), "it was one step")
	}
	h.button("by-later")
	h.typed("soon")
	h.step()
	require.Contains(t, strings.Join(h.panelWords(), "\n"), "write beats or a time")
}

func mustAt(t *testing.T, m timeline.Moment, beats *timeline.BeatMap) timeline.Time {
	at, ok := m.In(beats)
	require.True(t, ok)
	return at
}

// While a cue is dragged, what it was stands beside what it would be; once it is let go nothing is said of that any more.
func TestInspectorSaysWhatWasWhileDragging(t *testing.T) {
	h, cue := withCue(t, "Jets, lip")
	require.NoError(t, h.a.song.GoTo("13.1"))
	h.step()
	said := func() string { return strings.Join(h.panelWords(), "\n") }
	require.NotContains(t, said(), "was ")
	from := middle(h.cue(cue.ID))
	h.move(from)
	h.down(widget.Primary)
	for i := 1; i <= 8; i++ {
		h.move(from.Add(image.Pt(h.at("14.1")-h.at("13.1"), 0).Mul(i).Div(8)))
	}
	require.Contains(t, said(), "was 13.1")
	require.Regexp(t, `was 01:\d\d:\d\d:\d\d`, said())
	require.Regexp(t, `after, was [\d.]+ s after`, said())
	if dir := os.Getenv("EMBERBEAT_PICTURES"); dir != "" {
		writePicture(t, dir+"/inspector-drag.png", h.picture())
	}
	h.up()
	h.step()
	require.NotContains(t, said(), "was ")
	require.NotEqual(t, cue.At, h.a.work.InView().Cue(cue.ID).At)
}
