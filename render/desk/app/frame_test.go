package app

import (
	"fmt"
	"image"
	"image/color"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/desk/song"
	"emberbeat/render/widget"
)

// seenText is a text of the window as it is seen: what something drawn later hides of it is left out.
type seenText struct {
	text   string
	box    image.Rectangle
	ink    color.RGBA
	ground color.RGBA
}

// seenTexts gives the texts of a frame that can be read, with what they stand on.
func (h *hand) seenTexts() []seenText {
	layers := []*render.Scene{h.frame.Song, h.frame.Panels, h.frame.Moving}
	if h.frame.Below {
		layers = []*render.Scene{h.frame.Song, h.frame.Moving, h.frame.Panels}
	}
	var seen []seenText
	type fill struct {
		box    image.Rectangle
		points []render.Point // of a polygon
		ink    render.Ink
		cover  uint8
	}
	var fills []fill
	th := h.frame.Theme
	for _, s := range layers {
		if s == nil {
			continue
		}
		clip := s.Bounds()
		for i := range s.Shapes {
			sh := &s.Shapes[i]
			switch sh.Kind {
			case render.KindClip:
				clip = sh.Box
			case render.KindRect:
				if sh.Box.Dx() > 3 { // a line beside letters is no ground
					fills = append(fills, fill{sh.Box, nil, sh.Ink, sh.Cover})
				}
				if sh.Cover == 255 {
					seen = slices.DeleteFunc(seen, func(t seenText) bool {
						return t.box.Inset(1).In(sh.Box) || middle(t.box).In(sh.Box) && t.box.Dy() <= sh.Box.Dy()
					})
					for k := range seen { // what is hidden of its end or its beginning
						if b := &seen[k].box; b.Min.Y >= sh.Box.Min.Y && b.Max.Y <= sh.Box.Max.Y && b.Overlaps(sh.Box) {
							if b.Min.X < sh.Box.Min.X {
								b.Max.X = sh.Box.Min.X
							} else {
								b.Min.X = sh.Box.Max.X
							}
						}
					}
				}
			case render.KindPoly:
				fills = append(fills, fill{sh.Box, s.Points(sh), sh.Ink, sh.Cover})
			case render.KindText:
				box := sh.Box.Intersect(clip)
				if box.Dx() < 3 || box.Dy() < sh.Box.Dy()*2/3 {
					continue
				}
				ground := th.Light(render.InkPanel)
				p := middle(box)
				for k := range fills {
					if f := &fills[k]; p.In(f.box) && (f.points == nil || inside(f.points, p)) {
						ground = render.Over(th.Light(f.ink), ground, f.cover)
					}
				}
				seen = append(seen, seenText{string(s.Label(sh)), box, th.Light(sh.Ink), ground})
			}
		}
	}
	return seen
}

// inside reports whether a point lies in a polygon.
func inside(points []render.Point, p image.Point) bool {
	in, x, y := false, float32(p.X), float32(p.Y)
	for i, a := range points {
		b := points[(i+len(points)-1)%len(points)]
		if (a.Y > y) != (b.Y > y) && x < (b.X-a.X)*(y-a.Y)/(b.Y-a.Y)+a.X {
			in = !in
		}
	}
	return in
}

// overlaps names two texts that lie over each other, "" where none do. Of a line's height only what letters take counts.
func overlaps(list []seenText) string {
	tight := func(r image.Rectangle) image.Rectangle {
		d := r.Dy() / 5
		return image.Rect(r.Min.X+1, r.Min.Y+d, r.Max.X-1, r.Max.Y-d)
	}
	for i, a := range list {
		for _, b := range list[:i] {
			if strings.TrimSpace(a.text) != "" && strings.TrimSpace(b.text) != "" && tight(a.box).Overlaps(tight(b.box)) {
				return fmt.Sprintf("%q at %v lies over %q at %v", a.text, a.box, b.text, b.box)
			}
		}
	}
	return ""
}

// screens are the windows that pages are looked at in.
var screens = []struct {
	size  image.Point
	scale render.Scale
}{{image.Pt(1366, 768), 100}, {image.Pt(1440, 900), 100}, {image.Pt(2560, 1440), 200}, {image.Pt(1024, 700), 100}}

// Whatever the size of window and letters, no text of the song's page lies over another.
func TestNoTextLiesOverAnother(t *testing.T) {
	h := withExample(t)
	h.a.work.View().Choose(h.a.work.InView().Cues[3].ID)
	require.NoError(t, h.a.song.GoTo("17.1"))
	h.move(image.Pt(-1, -1))
	for _, screen := range screens {
		h.size, h.scale = screen.size, screen.scale
		for _, factor := range factors {
			h.a.prefs.Factor = factor
			h.step()
			h.step()
			require.Empty(t, overlaps(h.seenTexts()), "%v at %d, factor %d", screen.size, screen.scale, factor)
		}
	}
}

// In every theme each text of the window can be read on what it stands on (WCAG 2.2, 1.4.3).
func TestTextsCanBeReadOnTheirGrounds(t *testing.T) {
	h := withExample(t)
	h.a.work.View().Choose(h.a.work.InView().Cues[3].ID)
	h.move(image.Pt(-1, -1))
	for range themes {
		for _, at := range []string{"", "rules", "sets", "tonight"} {
			h.a.turn(at)
			h.step()
			h.step()
			for _, s := range h.seenTexts() {
				require.GreaterOrEqual(t, render.Contrast(s.ink, s.ground), 4.5, "%s, page %q: %q at %v", h.a.Theme().Name, at, s.text, s.box)
			}
		}
		h.a.Use("theme")
	}
}

// barControls are what stands on the bars of the song's page.
var barControls = []string{"play", "stop", "loop", "click", "half-speed", "follow", "zoom-out", "zoom-in", "zoom-song", "add-song", "set", "night", "view-timeline", "view-book"}

// shown reports whether a control of the frame can be pressed.
func (h *hand) shown(key string) bool {
	return slices.ContainsFunc(h.frame.Panels.Hits, func(hit render.Hit) bool {
		return hit.ID == key && !hit.Ground && middle(hit.Area).In(image.Rectangle{Max: h.size})
	})
}

// Whatever the size of window and letters, each control of a bar can be pressed, or is in the menu of the button that stands for those without room.
func TestControlsAreTwoPressesAway(t *testing.T) {
	h := withExample(t)
	h.move(image.Pt(-1, -1))
	narrow := 0
	for _, width := range []int{1024, 1280, 1366, 1600, 1920, 2560} {
		for _, factor := range []int{80, 100, 125, 150, 200, 250} {
			h.size, h.a.prefs.Factor = image.Pt(width, width*3/4), factor
			h.step()
			h.step()
			in := ""
			for _, bar := range []string{"transport-more", "sound-tools-more", "stage-tools-more"} {
				if !h.shown(bar) {
					continue
				}
				h.later()
				h.button(bar)
				in += textsOf(h.frame.Panels)
				h.key("Esc")
				narrow++
			}
			for _, id := range barControls {
				if h.shown(id) {
					continue
				}
				c := h.a.byID(id)
				require.NotNil(t, c, "%s is not there at %d wide, factor %d", id, width, factor)
				word, _, _ := strings.Cut(c.name, " ")
				require.Contains(t, in, word, "%s at %d wide, factor %d", id, width, factor)
			}
			if !h.shown("play") {
				t.Errorf("Play is not there at %d wide, factor %d", width, factor)
			}
			if h.a.dockShown() {
				require.True(t, h.shown("stage-hide") || h.shown("stage-tools-more"), "%d wide, factor %d", width, factor)
			} else {
				require.True(t, h.shown("side"), "%d wide, factor %d", width, factor)
			}
		}
	}
	require.Positive(t, narrow, "no bar was ever too narrow")
}

// The dock stands beside the page from 1024 wide on, and over it below; F5 opens and closes it, its edge is dragged.
func TestDock(t *testing.T) {
	h := withExample(t)
	lane := func() int { return h.a.song.Drawn().Lanes.Dx() }
	for _, c := range []struct{ width, page int }{{1366, 1366 - 344 - 5}, {1440, 1440 - 432 - 5}, {2560, 2560 - 720 - 5}, {1024, 1024 - 344 - 5}, {1000, 1000}} {
		h.size = image.Pt(c.width, 800)
		h.step()
		h.step()
		require.Equal(t, c.page, lane(), "%d wide", c.width)
	}
	require.False(t, h.shown("stage-hide"))
	h.key("F5")
	require.True(t, h.shown("stage-hide"), "it lies over the page")
	require.Equal(t, 1000, lane())
	h.key("F5")
	require.False(t, h.shown("stage-hide"))
	h.size = image.Pt(1440, 900)
	h.step()
	h.step()
	h.drag(image.Pt(1440-432-2, 300), image.Pt(1440-500-2, 300), 0)
	require.InDelta(t, 1440-500-5, lane(), 3)
	require.InDelta(t, 500, h.a.prefs.Dock, 3)
}

// A refusal stands beside Undo, never over it, and goes after six seconds; what was done last is said again then.
func TestRefusalStandsBesideUndo(t *testing.T) {
	h := withExample(t)
	h.a.work.View().Choose(h.cues("Jets, lip")[0].Cue.ID)
	h.key("Alt+Right")
	require.True(t, h.shown("undo"))
	last := h.a.note.text
	h.a.Warn("the lane is locked: unlock it first")
	h.step()
	h.step()
	require.True(t, h.shown("undo"))
	require.Contains(t, textsOf(h.frame.Panels), "the lane is locked")
	wait, ok := h.a.Due(h.now)
	require.True(t, ok)
	require.Positive(t, wait)
	require.LessOrEqual(t, wait, refusalTime)
	h.now += refusalTime - wait/100
	h.step()
	h.step()
	require.NotContains(t, textsOf(h.frame.Panels), "the lane is locked")
	require.Contains(t, textsOf(h.frame.Panels), last)
	require.True(t, h.shown("undo"))
}

// The switches of a lane: taps go where its cap is lit, the eye and the ring are of the stage alone, the padlock is of the show and can be undone.
func TestSwitchesOfLanes(t *testing.T) {
	h := withExample(t)
	press := func(kind render.HitKind, n int) {
		h.t.Helper()
		id := string(h.a.work.Data.Lanes[n].Lane.ID)
		for _, hit := range h.a.song.Scene().Hits {
			if hit.Kind == kind && hit.ID == id {
				h.later()
				h.tap(middle(hit.Area))
				return
			}
		}
		require.Fail(h.t, "there is no such switch", "%s", kind)
	}
	w := h.a.work
	one, two := w.Data.Lanes[0].Lane, w.Data.Lanes[1].Lane
	show := w.Session.Show()
	press(render.HitLaneHide, 0)
	require.False(t, w.Previewed(one.ID))
	require.Contains(t, textsOf(h.frame.Song), "hidden in stage")
	press(render.HitLaneOnly, 1)
	require.True(t, w.Previewed(two.ID))
	require.False(t, w.Previewed(w.Data.Lanes[2].Lane.ID))
	h.a.Use("show-lanes")
	require.True(t, w.Previewed(one.ID))
	require.Same(t, show, w.Session.Show(), "the show knows nothing of it")

	press(render.HitLaneLock, 0)
	require.True(t, w.InView().Lane(one.ID).Locked)
	h.key("Ctrl+Z")
	require.False(t, w.InView().Lane(one.ID).Locked)

	press(render.HitLaneArm, 1)
	w.View().Focus = one.ID
	n := len(h.cues(w.Data.Lanes[1].Name))
	require.NoError(t, h.a.song.GoTo("0:01.3"))
	h.key("T")
	require.Len(t, h.cues(w.Data.Lanes[1].Name), n+1)
	h.key("Ctrl+Z")

	w.View().Focus = one.ID
	h.key("Ctrl+U")
	require.False(t, w.Previewed(one.ID))
	h.key("Ctrl+Shift+U")
	require.True(t, w.Previewed(one.ID))
	h.a.Use("show-lanes")
	h.a.Use("hide-others")
	require.True(t, w.Previewed(one.ID))
	require.False(t, w.Previewed(two.ID))
	h.a.Use("show-lanes")
	h.a.Use("lock-others")
	require.True(t, w.InView().Lane(two.ID).Locked)
	h.key("Ctrl+Z")
	require.False(t, w.InView().Lane(two.ID).Locked, "one step")
}

// A marker, the list of findings and their going move no lane.
func TestNothingMovesTheLanes(t *testing.T) {
	h := withExample(t)
	top := func() int { _, r := h.lane("Jets, lip"); return r.Min.Y }
	was := top()
	require.Empty(t, h.a.work.InView().Markers, "the first marker of a song is tried")
	require.NoError(t, h.a.song.GoTo("5.1"))
	h.key("M")
	require.NotEmpty(t, h.a.work.InView().Markers)
	require.Equal(t, was, top(), "a marker")
	h.key("F7")
	require.Equal(t, was, top(), "the list of findings")
	h.key("F7")
	require.Equal(t, was, top())
}

// The picture of the stage is as high as the dock lets it be, and never less than can be seen.
func TestStageHigh(t *testing.T) {
	for _, c := range []struct{ width, high, want int }{{344, 676, 150}, {432, 808, 248}, {720, 1348, 480}, {344, 300, 0}, {400, 2000, 266}} {
		require.Equal(t, c.want, song.StageHigh(c.width, c.high), "%d×%d", c.width, c.high)
	}
}

// The wheel over the waveform with Alt draws it larger, over lanes makes these higher; a command gives the lanes what there is.
func TestAltWheel(t *testing.T) {
	h := withExample(t)
	turn := func(p image.Point) {
		h.move(p)
		h.in.Wheel, h.in.Mods = image.Pt(0, -1), widget.Alt
		h.step()
		h.in.Mods = 0
		h.step()
	}
	d := h.a.song.Drawn()
	turn(image.Pt(d.Left+50, d.Wave.Min.Y+20))
	require.Equal(t, 2, h.a.work.View().Gain)
	require.Contains(t, textsOf(h.frame.Song), "drawn +2 dB")
	was := d.LaneHigh()
	turn(image.Pt(d.Left+50, d.Lanes.Min.Y+20))
	require.Equal(t, was+2, d.LaneHigh())
	h.a.Use("free-lanes")
	h.step()
	require.Equal(t, was, d.LaneHigh())
}
