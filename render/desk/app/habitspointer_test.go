package app

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// wheel turns the wheel at a place with modifiers held.
func (h *hand) wheel(p image.Point, by image.Point, mods widget.Mods) {
	h.move(p)
	h.in.Wheel, h.in.Mods = by, mods
	h.step()
	h.in.Mods = 0
	h.step()
}

// press presses the primary button at a place with modifiers held, and lets it go.
func (h *hand) press(p image.Point, mods widget.Mods) {
	h.later()
	h.move(p)
	h.in.Mods = mods
	h.down(widget.Primary)
	h.in.Mods = mods
	h.up()
	h.in.Mods = 0
	h.step()
}

// closeUp shows the stretch of the song around a bar in which the cues of a lane stand apart.
func (h *hand) closeUp(bar string) {
	h.view().Set(h.a.work.Data.Whole(), h.bar(bar)-2*timeline.Second, 12*timeline.Second)
	h.step()
}

// tight makes the window so low that the lanes do not fit, or high again.
func (h *hand) tight(low bool) {
	h.size = image.Pt(1440, 900)
	if low {
		h.size = image.Pt(1440, 420)
	}
	h.step()
	h.step()
}

// inLanes is a place on the lanes where nothing stands.
func (h *hand) inLanes() image.Point {
	_, area := h.lane("Sparks")
	return image.Pt(h.at("15.3"), middle(area).Y)
}

// free is a place on a lane at a bar where nothing stands.
func (h *hand) free(lane, bar string) image.Point {
	h.t.Helper()
	_, area := h.lane(lane)
	return image.Pt(h.at(bar), middle(area).Y)
}

// following says that something done by hand suspends follow until F or the next play.
func following(do func(h *hand)) func(t *testing.T, h *hand) {
	return func(t *testing.T, h *hand) {
		h.closeUp("13.1")
		h.goes("13.1")
		h.view().Choose(h.jets())
		h.key("Space")
		require.True(t, h.a.song.IsOn("follow"))
		do(h)
		require.False(t, h.a.song.IsOn("follow"), "it is suspended")
		shown := h.a.song.Drawn().Show
		at := h.a.song.Heard()
		h.until(func() bool { return h.a.song.Heard() > at })
		require.Equal(t, shown, h.a.song.Drawn().Show)
		h.key("F")
		require.True(t, h.a.song.IsOn("follow"), "until F")
		do(h)
		h.key("Space", "Space")
		require.True(t, h.a.song.IsOn("follow"), "until the next play")
	}
}

// dragging presses a cue and moves it by columns, with modifiers held, without letting go.
func (h *hand) dragging(id timeline.ID, by image.Point, mods widget.Mods) {
	p := middle(h.cue(id))
	h.later()
	h.move(p)
	h.down(widget.Primary)
	h.in.Mods = mods
	h.move(p.Add(by))
	h.in.Mods = mods
	h.step()
}

// bars gives the columns from one bar to another.
func (h *hand) columns(from, to string) int { return h.at(to) - h.at(from) }

var pointerHabits = []habit{
	{"wheel over lanes that fit: time", func(t *testing.T, h *hand) {
		h.closeUp("13.1")
		was := h.a.song.Drawn().Show
		h.wheel(h.inLanes(), image.Pt(0, 1), 0)
		require.Greater(t, h.a.song.Drawn().Show.From, was.From)
		require.Zero(t, h.view().Scroll)
	}},
	{"wheel over lanes that do not fit: lanes", func(t *testing.T, h *hand) {
		h.tight(true)
		defer h.tight(false)
		h.closeUp("13.1")
		was := h.a.song.Drawn().Show
		h.wheel(middle(h.a.song.Drawn().Lanes), image.Pt(0, 1), 0)
		require.Equal(t, was, h.a.song.Drawn().Show)
		require.Positive(t, h.view().Scroll)
		for range 40 {
			h.wheel(middle(h.a.song.Drawn().Lanes), image.Pt(0, 1), 0)
		}
		_, _, all := h.a.song.Drawn().LaneSpan(h.a.work.Data, 0)
		require.Equal(t, all-h.a.song.Drawn().Lanes.Dy(), h.view().Scroll, "no farther than the last")
	}},
	{"wheel over rulers, waveform and density: time", func(t *testing.T, h *hand) {
		h.tight(true)
		defer h.tight(false)
		h.closeUp("13.1")
		d := h.a.song.Drawn()
		for _, row := range []image.Rectangle{d.Timecode, d.Bars, d.Wave, d.Density} {
			was := d.Show
			h.wheel(image.Pt(d.Left+100, middle(row).Y), image.Pt(0, 1), 0)
			require.Greater(t, d.Show.From, was.From)
			require.Zero(t, h.view().Scroll)
		}
	}},
	{"Shift+wheel: time", func(t *testing.T, h *hand) {
		h.tight(true)
		defer h.tight(false)
		h.closeUp("13.1")
		was := h.a.song.Drawn().Show
		h.wheel(middle(h.a.song.Drawn().Lanes), image.Pt(0, 1), widget.Shift)
		require.Greater(t, h.a.song.Drawn().Show.From, was.From)
		require.Equal(t, was.To-was.From, h.a.song.Drawn().Show.To-h.a.song.Drawn().Show.From)
		require.Zero(t, h.view().Scroll)
	}},
	{"Ctrl+wheel: zoom under the pointer, 2^¼ a notch", func(t *testing.T, h *hand) {
		d := h.a.song.Drawn()
		for _, row := range []image.Rectangle{d.Wave, d.Lanes, d.Bars} {
			h.view().Span = render.Span{}
			h.step()
			p := image.Pt(h.at("20.1"), row.Min.Y+10)
			long := (d.Show.To - d.Show.From).Seconds()
			for range 8 {
				before := d.TimeAt(p.X)
				h.wheel(p, image.Pt(0, -1), widget.Ctrl)
				require.InDelta(t, before.Seconds(), d.TimeAt(p.X).Seconds(), (d.TimeAt(p.X+2) - d.TimeAt(p.X)).Seconds())
				now := (d.Show.To - d.Show.From).Seconds()
				require.InDelta(t, math.Pow(2, 0.25), long/now, 0.001)
				long = now
			}
		}
	}},
	{"Alt+wheel: lane height", func(t *testing.T, h *hand) {
		was, follow := h.a.song.Drawn().LaneHigh(), h.a.song.IsOn("follow")
		h.wheel(h.inLanes(), image.Pt(0, -1), widget.Alt)
		require.Equal(t, was+2, h.a.song.Drawn().LaneHigh())
		require.Equal(t, follow, h.a.song.IsOn("follow"), "it neither scrolls nor zooms")
		d := h.a.song.Drawn()
		h.wheel(image.Pt(d.Left+50, d.Wave.Min.Y+20), image.Pt(0, -1), widget.Alt)
		require.Equal(t, 2, h.view().Gain, "over the waveform that is drawn larger")
	}},
	{"middle-drag: pan", func(t *testing.T, h *hand) {
		h.closeUp("13.1")
		d := h.a.song.Drawn()
		was, p := d.Show, h.inLanes()
		under := d.TimeAt(p.X)
		h.move(p)
		h.down(widget.Wheel)
		h.move(p.Add(image.Pt(-120, 30)))
		require.InDelta(t, under.Seconds(), d.TimeAt(p.X-120).Seconds(), 0.05, "what was taken follows the pointer")
		h.up()
		require.Equal(t, was.To-was.From, d.Show.To-d.Show.From)
		require.Empty(t, h.undone())
	}},
	{"key and button zoom: anchored at the playhead if visible, else the middle", func(t *testing.T, h *hand) {
		h.closeUp("13.1")
		h.goes("13.3")
		x := h.a.song.Drawn().X(h.view().Playhead)
		h.button("zoom-in")
		require.InDelta(t, x, h.a.song.Drawn().X(h.view().Playhead), 2)
		h.button("zoom-out")
		require.InDelta(t, x, h.a.song.Drawn().X(h.view().Playhead), 2)
		h.view().Playhead = 0
		d := h.a.song.Drawn()
		mid := d.TimeAt((d.Left + d.Right) / 2)
		h.key("+")
		require.InDelta(t, (d.Left+d.Right)/2, d.X(mid), 2)
	}},
	{"drag in rulers or waveform: playhead", func(t *testing.T, h *hand) {
		d := h.a.song.Drawn()
		for _, row := range []image.Rectangle{d.Timecode, d.Bars, d.Wave} {
			h.later()
			h.drag(image.Pt(h.at("9.1"), middle(row).Y), image.Pt(h.at("21.1")+1, middle(row).Y), 0)
			require.Equal(t, h.bar("21.1"), h.view().Playhead)
			require.Empty(t, h.undone())
		}
	}},
	{"a click in lanes never moves the playhead", func(t *testing.T, h *hand) {
		h.goes("9.1")
		h.press(h.inLanes(), 0)
		require.Equal(t, h.bar("9.1"), h.view().Playhead)
		h.press(middle(h.cue(h.jets())), 0)
		require.Equal(t, h.bar("9.1"), h.view().Playhead)
		h.later()
		h.move(h.inLanes())
		h.down(widget.Secondary)
		h.up()
		require.True(t, h.a.ui.MenuOpen("context"))
		require.Equal(t, h.bar("9.1"), h.view().Playhead, "nor does one that opens the menu")
	}},
	{"what the menu of a lane places stands where it was opened", func(t *testing.T, h *hand) {
		h.goes("9.1")
		h.closeUp("31.1")
		p := h.free("Sparks", "31.2")
		h.later()
		h.move(p)
		h.down(widget.Secondary)
		h.up()
		h.key("Down", "Enter")
		require.Equal(t, "31.2", h.a.work.Selected()[0].At.String())
		require.Equal(t, h.bar("9.1"), h.view().Playhead)
		h.key("M")
		at, _ := h.a.work.InView().Markers[0].At.In(h.a.work.InView().Beats)
		require.Equal(t, h.bar("9.1"), at, "and nothing else")
	}},
	{"double-click on an empty lane: place", func(t *testing.T, h *hand) {
		lane, _ := h.lane("Sparks")
		p := h.free("Sparks", "21.3").Add(image.Pt(1, 0))
		h.tap(p)
		h.tap(p)
		c := h.a.work.Selected()
		require.Len(t, c, 1)
		require.Equal(t, "21.3", c[0].At.String())
		require.Equal(t, lane, c[0].Lane)
		h.key("Ctrl+Z")
		h.tap(p)
		h.later()
		h.tap(p)
		require.Empty(t, h.undone(), "two clicks apart are no double click")
	}},
	{"click selects", func(t *testing.T, h *hand) {
		cues := h.cues("Jets, lip")
		h.press(middle(h.cue(cues[0].Cue.ID)), 0)
		h.press(middle(h.cue(cues[1].Cue.ID)), 0)
		require.Equal(t, map[timeline.ID]bool{cues[1].Cue.ID: true}, h.view().Selected)
		h.press(h.inLanes(), 0)
		require.Empty(t, h.view().Selected, "on nothing it selects none")
	}},
	{"Ctrl+click toggles, also off", func(t *testing.T, h *hand) {
		cues := h.cues("Jets, lip")
		a, b := cues[0].Cue.ID, cues[1].Cue.ID
		h.press(middle(h.cue(a)), 0)
		h.press(middle(h.cue(b)), widget.Ctrl)
		require.Equal(t, map[timeline.ID]bool{a: true, b: true}, h.view().Selected)
		h.press(middle(h.cue(a)), widget.Ctrl)
		require.Equal(t, map[timeline.ID]bool{b: true}, h.view().Selected)
		h.press(middle(h.cue(b)), widget.Ctrl)
		require.Empty(t, h.view().Selected)
	}},
	{"Shift+click: range", func(t *testing.T, h *hand) {
		cues := h.cues("Jets, lip")
		h.press(middle(h.cue(cues[0].Cue.ID)), 0)
		h.press(middle(h.cue(cues[3].Cue.ID)), widget.Shift)
		require.Len(t, h.view().Selected, 4)
		h.press(middle(h.cue(cues[2].Cue.ID)), widget.Shift)
		require.Len(t, h.view().Selected, 3, "from the first, again")
	}},
	{"drag on an empty lane: marquee (Shift adds, Ctrl toggles)", func(t *testing.T, h *hand) {
		_, area := h.lane("Flames, wings")
		across := func(from, to string, mods widget.Mods) {
			h.later()
			h.drag(image.Pt(h.at(from), area.Min.Y+2), image.Pt(h.at(to), area.Max.Y-2), mods)
		}
		across("16.1", "22.1", 0)
		require.Len(t, h.a.work.Selected(), 3)
		across("22.2", "26.1", widget.Shift)
		require.Len(t, h.a.work.Selected(), 4)
		across("16.1", "26.1", widget.Ctrl)
		require.Empty(t, h.a.work.Selected())
		require.Equal(t, timeline.Time(0), h.view().Playhead)
	}},
	{"while dragging: Alt inverts snap", func(t *testing.T, h *hand) {
		id := h.jets()
		by := image.Pt(h.columns("13.1", "14.1")+1, 0)
		h.dragging(id, by, widget.Alt)
		require.NotEqual(t, "14.1", h.cueAt(id))
		require.Equal(t, 14, h.a.work.InView().Cue(id).At.Bar.Bar)
		h.key("Esc")
		h.up()
		h.key("S")
		h.dragging(id, by, 0)
		require.NotEqual(t, "14.1", h.cueAt(id))
		h.in.Mods = widget.Alt
		h.step()
		require.Equal(t, "14.1", h.cueAt(id), "and on where it is off")
	}},
	{"while dragging: Ctrl copies", func(t *testing.T, h *hand) {
		id := h.jets()
		p := middle(h.cue(id))
		h.drag(p, p.Add(image.Pt(h.columns("13.1", "14.1")+1, 0)), widget.Ctrl)
		require.Equal(t, "13.1", h.cueAt(id))
		c := h.a.work.Selected()
		require.Len(t, c, 1)
		require.NotEqual(t, id, c[0].ID)
		require.Equal(t, "14.1", c[0].At.String())
		require.Len(t, h.undone(), 1)
	}},
	{"while dragging: Shift keeps lane or time", func(t *testing.T, h *hand) {
		id := h.jets()
		lane := h.a.work.InView().Cue(id).Lane
		p := middle(h.cue(id))
		h.drag(p, p.Add(image.Pt(h.columns("13.1", "14.1")+1, 12)), widget.Shift)
		require.Equal(t, "14.1", h.cueAt(id))
		require.Equal(t, lane, h.a.work.InView().Cue(id).Lane)
		h.key("Ctrl+Z")
		for i, l := range h.a.work.Data.Lanes[:len(h.a.work.Data.Lanes)-1] {
			next := h.a.work.Data.Lanes[i+1].Lane
			if len(l.Cues) == 0 || l.Lane.Window() || next.Window() {
				continue
			}
			c := l.Cues[0].Cue
			p := middle(h.cue(c.ID))
			h.later()
			h.drag(p, p.Add(image.Pt(7, h.a.song.Drawn().LaneHigh())), widget.Shift)
			require.Equal(t, next.ID, h.a.work.InView().Cue(c.ID).Lane)
			require.Equal(t, c.At, h.a.work.InView().Cue(c.ID).At, "its time stays")
			return
		}
		require.Fail(t, "no two lanes of hits stand side by side")
	}},
	{"while dragging: Esc cancels", func(t *testing.T, h *hand) {
		id, show := h.jets(), h.a.work.Session.Show()
		h.dragging(id, image.Pt(60, 0), 0)
		require.NotEqual(t, "13.1", h.cueAt(id), "the plan follows the pointer")
		require.Same(t, show, h.a.work.Session.Show(), "but the show does not")
		h.key("Esc")
		h.up()
		require.Equal(t, "13.1", h.cueAt(id))
		require.Empty(t, h.undone())
		require.Equal(t, map[timeline.ID]bool{id: true}, h.view().Selected)
	}},
	{"modifiers are read every frame", func(t *testing.T, h *hand) {
		id := h.jets()
		n := len(h.a.work.InView().Cues)
		h.dragging(id, image.Pt(h.columns("13.1", "14.1")+1, 0), 0)
		require.Equal(t, "14.1", h.cueAt(id))
		h.in.Mods = widget.Ctrl
		h.step()
		require.Len(t, h.a.work.InView().Cues, n+1, "pressed without moving")
		require.Equal(t, "13.1", h.cueAt(id))
		h.in.Mods = 0
		h.step()
		require.Len(t, h.a.work.InView().Cues, n, "and let go")
		h.up()
		require.Equal(t, "14.1", h.cueAt(id))
	}},
	{"scrolling by wheel suspends follow", following(func(h *hand) {
		h.wheel(h.inLanes(), image.Pt(0, 1), 0)
	})},
	{"zooming by wheel suspends follow", following(func(h *hand) {
		h.wheel(h.inLanes(), image.Pt(0, -1), widget.Ctrl)
	})},
	{"zooming by key suspends follow", following(func(h *hand) { h.key("+") })},
	{"zooming to the selection suspends follow", following(func(h *hand) { h.key("Z") })},
	{"paging by key suspends follow", following(func(h *hand) { h.key("PgDn") })},
	{"panning suspends follow", following(func(h *hand) {
		p := h.inLanes()
		h.move(p)
		h.down(widget.Wheel)
		h.move(p.Add(image.Pt(-40, 0)))
		h.up()
	})},
	{"hit areas are 24 × 24, unless a neighbour is nearer", func(t *testing.T, h *hand) {
		h.closeUp("13.1")
		h.loops("13.1", "14.1")
		h.key("M")
		h.step()
		s, d := h.a.song.Scene(), h.a.song.Drawn()
		seen := map[render.HitKind]bool{}
		for _, hit := range s.Hits {
			if hit.Ground || hit.Area.Empty() {
				continue
			}
			seen[hit.Kind] = true
			p := middle(hit.Area)
			row := image.Rect(0, 0, h.size.X, h.size.Y)
			for _, r := range []image.Rectangle{d.Transport, d.Strip, d.Sections, d.Wave, d.Lanes, d.Findings} {
				if p.In(r) {
					row = r
				}
			}
			axis := row.Intersect(image.Rect(d.Left, 0, d.Right, h.size.Y))
			cut := hit.Grip.Min.X <= axis.Min.X || hit.Grip.Max.X >= axis.Max.X
			require.True(t, hit.Grip.Dx() >= render.Reach || cut, "%s %s is %v", hit.Kind, hit.ID, hit.Grip)
			require.True(t, hit.Grip.Dy() >= render.Reach || hit.Grip.Min.Y <= row.Min.Y || hit.Grip.Max.Y >= row.Max.Y || row.Dy() < render.Reach || p.In(d.Lanes), "%s %s is %v", hit.Kind, hit.ID, hit.Grip)
			found, ok := s.At(p)
			require.True(t, ok && p.In(found.Area), "%s %s is found where it is drawn, or what lies on it", hit.Kind, hit.ID)
			if free := image.Pt(hit.Area.Max.X+8, p.Y); free.In(hit.Grip) {
				found, ok = s.At(free)
				require.True(t, ok && (found.ID == hit.ID || !found.Ground), "%s %s is found 8 pixels beside it, unless a neighbour is nearer", hit.Kind, hit.ID)
			}
		}
		for _, kind := range []render.HitKind{render.HitCue, render.HitMarker, render.HitSectionStart, render.HitLaneLock} {
			require.True(t, seen[kind], kind)
		}
		h.move(image.Pt(h.at("14.1")+10, middle(d.Timecode).Y))
		h.down(widget.Primary)
		h.move(image.Pt(h.at("14.1")+10+h.columns("13.1", "13.3"), middle(d.Timecode).Y))
		h.up()
		require.Equal(t, h.bar("14.3"), h.view().Loop.To, "10 pixels beside it is on the end of the loop")
	}},
	{"every drag has a field or a nudge as well", func(t *testing.T, h *hand) {
		kinds := map[string][]string{"cue": {"at", "open", "lane"}, "marker": {"at"}, "section": {"at", "to"}}
		for kind, fields := range kinds {
			for _, f := range fields {
				require.NotNil(t, timeline.KindOf(kind).Field(f), "%s of a %s is a field", f, kind)
			}
		}
		for drag, command := range map[string]string{"a cue": "nudge-on", "a cue to another lane": "lane-below", "a copy": "duplicate", "the loop's start": "loop-start", "the loop's end": "loop-end", "the playhead": "frame-on", "the view": "page-on", "a rectangle": "select-all", "a bar line": "grid-line"} {
			require.NotNil(t, h.a.byID(command), drag)
		}
	}},
}

// Pointer and wheel do what is promised of them.
func TestHabitsOfPointerAndWheel(t *testing.T) { habits(t, pointerHabits) }
