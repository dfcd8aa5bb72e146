package app

import (
	"image"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// snapReach is how near in logical pixels something is caught.
const snapReach = 8

// caughtName gives the name that is written where a drag has caught something, "" where it has not.
func (h *hand) caughtName() string {
	text := strings.Split(textsOf(h.frame.Moving), "\n")
	for _, line := range text {
		if strings.HasPrefix(line, "bar ") || line == "playhead" || line == "cue" || line == "cue end" {
			return line
		}
		for _, s := range h.a.work.InView().Sections {
			if line == s.Name && !strings.Contains(textsOf(h.frame.Song), "dragged") {
				return line
			}
		}
	}
	return ""
}

// snapped is something that is dragged: where it is taken, and where it stands in the show.
type snapped struct {
	name string
	// ready makes it, standing at bar 14.1 with the window over it, and gives where it is taken.
	ready func(h *hand) image.Point
	at    func(h *hand) timeline.Time
}

// grip gives where something of a kind is drawn.
func (h *hand) grip(kind render.HitKind, id timeline.ID) image.Point {
	h.t.Helper()
	for _, hit := range h.a.song.Scene().Hits {
		if hit.Kind == kind && (id == "" || hit.ID == string(id)) {
			return middle(hit.Area)
		}
	}
	require.Fail(h.t, "it is not drawn", "%s %s", kind, id)
	return image.Point{}
}

// part makes a section from one bar to another.
func (h *hand) part(from, to string) timeline.ID {
	h.loops(from, to)
	h.key("Ctrl+Shift+M", "L")
	for _, s := range h.a.work.InView().Sections {
		if at, _ := s.At.In(h.a.work.InView().Beats); strings.HasPrefix(s.Name, "Section ") && at == h.bar(from) {
			return s.ID
		}
	}
	require.Fail(h.t, "no section was made")
	return ""
}

var snaps = []snapped{
	{"cue", func(h *hand) image.Point {
		id := h.jets()
		h.view().Choose(id)
		h.key("Alt+Shift+Right", "Alt+Shift+Right", "Alt+Shift+Right", "Alt+Shift+Right")
		h.closeUp("14.1")
		return middle(h.cue(id))
	}, func(h *hand) timeline.Time { return h.hit(h.jets()) }},
	{"end of a cue", func(h *hand) image.Point {
		id := h.jets()
		c := *h.a.work.InView().Cue(id)
		c.Open = h.bar("14.1") - h.bar("13.1")
		h.a.do(change{"open", []timeline.Edit{func(d *timeline.Draft) error { d.Put(h.a.work.Song, &c); return nil }}})
		h.closeUp("14.1")
		return h.grip(render.HitCueEnd, id)
	}, func(h *hand) timeline.Time { return h.hit(h.jets()) + h.a.work.InView().Cue(h.jets()).Open }},
	{"marker", func(h *hand) image.Point {
		h.goes("14.1")
		h.key("M")
		h.closeUp("14.1")
		return h.grip(render.HitMarker, "")
	}, func(h *hand) timeline.Time {
		at, _ := h.a.work.InView().Markers[0].At.In(h.a.work.InView().Beats)
		return at
	}},
	{"start of a section", func(h *hand) image.Point {
		id := h.part("14.1", "16.1")
		h.closeUp("14.1")
		return h.grip(render.HitSectionStart, id)
	}, func(h *hand) timeline.Time { return h.made().From }},
	{"end of a section", func(h *hand) image.Point {
		id := h.part("12.1", "14.1")
		h.closeUp("14.1")
		return h.grip(render.HitSectionEnd, id)
	}, func(h *hand) timeline.Time { return h.made().To }},
	{"start of the loop", func(h *hand) image.Point {
		h.loops("14.1", "16.1")
		h.closeUp("14.1")
		return image.Pt(h.at("14.1"), middle(h.a.song.Drawn().Timecode).Y)
	}, func(h *hand) timeline.Time { return h.view().Loop.From }},
	{"end of the loop", func(h *hand) image.Point {
		h.loops("12.1", "14.1")
		h.closeUp("14.1")
		return image.Pt(h.at("14.1"), middle(h.a.song.Drawn().Timecode).Y)
	}, func(h *hand) timeline.Time { return h.view().Loop.To }},
	{"playhead", func(h *hand) image.Point {
		h.goes("14.1")
		h.closeUp("14.1")
		return image.Pt(h.at("14.1"), middle(h.a.song.Drawn().Bars).Y)
	}, func(h *hand) timeline.Time { return h.view().Playhead }},
}

// made is the section that was made by hand.
func (h *hand) made() render.Span {
	for _, s := range h.a.work.InView().Sections {
		if strings.HasPrefix(s.Name, "Section ") {
			from, _ := s.At.In(h.a.work.InView().Beats)
			to, _ := s.To.In(h.a.work.InView().Beats)
			return render.Span{From: from, To: to}
		}
	}
	return render.Span{}
}

// snapsAndNames says that something that is dragged is caught within 8 pixels of the grid, that what has caught it is named, that it is not
// caught farther away, and that Alt inverts it; that it is one step, and Escape leaves it.
func snapsAndNames(x snapped) func(t *testing.T, h *hand) {
	return func(t *testing.T, h *hand) {
		from := x.ready(h)
		was := x.at(h)
		require.InDelta(t, h.bar("14.1").Seconds(), was.Seconds(), 0.00011)
		steps := len(h.undone())
		target, step := h.bar("14.3"), h.at("14.3")-h.at("14.1")
		require.Greater(t, h.at("14.3")-h.at("14.2"), 3*snapReach, "the grid is coarse enough to stand between two lines")
		h.later()
		h.move(from)
		h.down(widget.Primary)
		for _, c := range []struct {
			off    int
			mods   widget.Mods
			caught bool
		}{{snapReach - 1, 0, true}, {1 - snapReach, 0, true}, {snapReach + 3, 0, false}, {3, widget.Alt, false}, {3, 0, true}} {
			h.in.Mods = c.mods
			h.move(from.Add(image.Pt(step+c.off, 0)))
			h.in.Mods = c.mods
			h.step()
			if c.caught {
				require.InDelta(t, target.Seconds(), x.at(h).Seconds(), 0.00011, "%d pixels beside it", c.off)
				require.Equal(t, "bar 14.3", h.caughtName())
			} else {
				require.Greater(t, max(x.at(h)-target, target-x.at(h)), timeline.Millisecond, "%d pixels beside it", c.off)
				require.Empty(t, h.caughtName())
			}
		}
		h.in.Mods = 0
		h.up()
		require.InDelta(t, target.Seconds(), x.at(h).Seconds(), 0.00011)
		require.Empty(t, h.caughtName(), "it is named while it is dragged")
		if kept := len(h.undone()) - steps; strings.Contains(x.name, "loop") || x.name == "playhead" {
			require.Zero(t, kept, "it is no part of the show")
			return
		} else {
			require.Equal(t, 1, kept, "one step")
		}
		h.key("Ctrl+Z")
		require.Equal(t, was, x.at(h))
		h.later()
		h.move(from)
		h.down(widget.Primary)
		h.move(from.Add(image.Pt(step, 0)))
		h.key("Esc")
		h.up()
		require.Equal(t, was, x.at(h))
		require.Len(t, h.undone(), steps)
	}
}

// pastesAt says where a paste at a time goes and what is said of it.
func (h *hand) pastesAt(at timeline.Time) (timeline.Time, string) {
	h.view().Choose(h.jets())
	h.key("Ctrl+C")
	h.view().Playhead = at
	h.step()
	h.key("Ctrl+V")
	made := h.hit(h.a.work.Selected()[0].ID)
	said := h.a.note.text
	h.key("Ctrl+Z")
	return made, said
}

var timeHabits = []habit{
	{"one snap routine: pastes", func(t *testing.T, h *hand) {
		h.closeUp("14.1")
		d := h.a.song.Drawn()
		px := (d.TimeAt(d.Left+100) - d.TimeAt(d.Left)) / 100
		made, said := h.pastesAt(h.bar("14.3") + (snapReach-1)*px)
		require.InDelta(t, h.bar("14.3").Seconds(), made.Seconds(), 0.0001)
		require.Contains(t, said, "at bar 14.3")
		made, said = h.pastesAt(h.bar("14.3") + (snapReach+3)*px)
		require.Greater(t, made, h.bar("14.3")+timeline.Millisecond)
		require.NotContains(t, said, "14.3")
		h.key("S")
		made, _ = h.pastesAt(h.bar("14.3") + 3*px)
		require.Greater(t, made, h.bar("14.3")+timeline.Millisecond, "snapping is off")
	}},
	{"one snap routine: loop ends by key", func(t *testing.T, h *hand) {
		h.closeUp("14.1")
		h.view().Playhead = h.bar("14.1") + 3*timeline.Millisecond
		h.key("I")
		require.Equal(t, h.bar("14.1"), h.view().Loop.From)
		h.view().Playhead = h.bar("15.1") - 3*timeline.Millisecond
		h.key("O")
		require.Equal(t, h.bar("15.1"), h.view().Loop.To)
	}},
	{"targets in order: grid, marker or section, other cue edge, playhead", func(t *testing.T, h *hand) {
		h.key("[", "[") // whole bars
		h.closeUp("14.1")
		d := h.a.song.Drawn()
		px := (d.TimeAt(d.Left+100) - d.TimeAt(d.Left)) / 100
		id := h.jets()
		cue := func(at timeline.Time, name string) {
			lane, _ := h.lane("Sparks")
			c := &timeline.Cue{Base: timeline.Base{ID: timeline.ID(name)}, Lane: lane, At: timeline.AtTime(at)}
			require.True(t, h.a.do(change{name, []timeline.Edit{func(d *timeline.Draft) error { d.Put(h.a.work.Song, c); return nil }}}))
		}
		mark := func(at timeline.Time, name string) {
			m := &timeline.Marker{Base: timeline.Base{ID: "here"}, Name: name, At: timeline.AtTime(at)}
			require.True(t, h.a.do(change{name, []timeline.Edit{func(d *timeline.Draft) error { d.Put(h.a.work.Song, m); return nil }}}))
		}
		at := h.bar("14.1")
		h.view().Playhead = at + 20*px
		cue(at+26*px, "other")
		mark(at+32*px, "Here")
		h.step()
		from := middle(h.cue(id))
		h.move(from)
		h.down(widget.Primary)
		for _, c := range []struct {
			to   timeline.Time
			want string
		}{{at + 15*px, "playhead"}, {at + 19*px, "cue"}, {at + 25*px, "Here"}, {at + 7*px, "bar 14.1"}, {at + 45*px, ""}} {
			h.move(from.Add(image.Pt(d.X(c.to)-d.X(h.bar("13.1")), 0)))
			h.step()
			name := h.caughtName()
			if c.want == "Here" && strings.Contains(textsOf(h.frame.Moving), "Here") {
				name = "Here"
			}
			require.Equal(t, c.want, name, "%d pixels after the bar", (c.to-at)/px)
		}
		h.key("Esc")
		h.up()
	}},
	{"the end of another cue catches as its start does", func(t *testing.T, h *hand) {
		lane, _ := h.lane("Sparks")
		end := h.bar("14.1") + 300*timeline.Millisecond
		c := &timeline.Cue{Base: timeline.Base{ID: "long"}, Lane: lane, At: timeline.AtTime(end - timeline.Second), Open: timeline.Second}
		require.True(t, h.a.do(change{"long", []timeline.Edit{func(d *timeline.Draft) error { d.Put(h.a.work.Song, c); return nil }}}))
		h.key("[", "[")
		h.closeUp("14.1")
		id := h.jets()
		from := middle(h.cue(id))
		h.move(from)
		h.down(widget.Primary)
		d := h.a.song.Drawn()
		h.move(from.Add(image.Pt(d.X(end)-d.X(h.bar("13.1"))+3, 0)))
		h.step()
		require.InDelta(t, end.Seconds(), h.hit(id).Seconds(), onBeats)
		require.Equal(t, "cue end", h.caughtName())
		h.key("Esc")
		h.up()
	}},
	{"snapping off can be seen", func(t *testing.T, h *hand) {
		h.key("S")
		for _, screen := range screens {
			h.size, h.scale = screen.size, screen.scale
			for _, factor := range []int{100, 125, 150} {
				h.a.prefs.Factor = factor
				h.step()
				h.step()
				require.True(t, h.says("snap off"), "%v at %d, factor %d", screen.size, screen.scale, factor)
			}
		}
		h.size, h.scale = image.Pt(1440, 900), render.Unit
	}},
	{"a group keeps its inner timing", func(t *testing.T, h *hand) {
		cues := h.cues("Jets, lip")
		a, b := cues[0].Cue.ID, cues[1].Cue.ID
		h.view().Choose(b)
		h.later()
		h.key("Alt+Right", "Alt+Right") // beside the grid
		h.view().Choose(a, b)
		h.key("Ctrl+G")
		between := h.hit(b) - h.hit(a)
		p := middle(h.cue(a))
		h.later()
		h.drag(p, p.Add(image.Pt(h.columns("13.1", "14.1")+2, 0)), 0)
		require.Equal(t, "14.1", h.cueAt(a), "the one that was taken is drawn to the grid")
		require.InDelta(t, between.Seconds(), (h.hit(b) - h.hit(a)).Seconds(), onBeats, "the rest goes as far")
		p = middle(h.cue(b))
		h.later()
		h.drag(p, p.Add(image.Pt(h.columns("13.1", "13.2")+2, 0)), 0)
		require.InDelta(t, between.Seconds(), (h.hit(b) - h.hit(a)).Seconds(), onBeats)
	}},
	{"a cue has exactly one anchor, beat or time", func(t *testing.T, h *hand) {
		id := h.jets()
		c := *h.a.work.InView().Cue(id)
		require.True(t, c.At.OnBeat)
		h.view().Choose(id)
		h.key("Alt+Right")
		require.True(t, h.a.work.InView().Cue(id).At.OnBeat, "a nudge leaves it on beats")
		timed := timeline.AtTime(h.bar("13.1") + 7*timeline.Millisecond)
		c.At = timed
		require.True(t, h.a.do(change{"by the clock", []timeline.Edit{func(d *timeline.Draft) error { d.Put(h.a.work.Song, &c); return nil }}}))
		h.later()
		h.key("Alt+Right")
		at := h.a.work.InView().Cue(id).At
		require.False(t, at.OnBeat, "and one by the clock by the clock")
		require.Equal(t, timeline.BarBeat{}, at.Bar, "of the other there is nothing")
		require.Equal(t, (timed.Time + frames(1)(h)).RoundTo(timeline.EntryStep), at.Time)
		require.Contains(t, h.a.work.InView().Cue(h.cues("Jets, lip")[1].Cue.ID).At.String(), ".")
	}},
	{"beat-map edits never move audio and say how many cues will shift", func(t *testing.T, h *hand) {
		song := h.a.work.InView()
		onBeat := 0
		for _, c := range song.Cues {
			if c.At.OnBeat {
				onBeat++
			}
		}
		h.key("Alt+\\")
		h.settle()
		require.True(t, h.says(timeline.Counted(onBeat, "cue")), "before it is kept")
		h.key("Enter")
		require.Len(t, h.undone(), 1)
		now := h.a.work.InView()
		require.NotEqual(t, song.Beats.BarStart(1), now.Beats.BarStart(1))
		require.Equal(t, song.Audio, now.Audio)
		require.Equal(t, song.Duration(), now.Duration())
		for _, c := range song.Cues {
			require.Equal(t, c.At, now.Cue(c.ID).At, "a cue on a beat stays on that beat, one by the clock at its time")
		}
	}},
	{"frame, time and frame again are the same", func(t *testing.T, h *hand) {
		p := h.a.work.Data.Plan
		h.goes("0:10")
		first := p.FrameAt(h.view().Playhead)
		for i := int64(1); i <= 30; i++ {
			h.key("Right")
			require.Equal(t, first+i, p.FrameAt(h.view().Playhead))
		}
		for range 30 {
			h.key("Left")
		}
		require.Equal(t, p.TimeOf(first), h.view().Playhead)
		require.Equal(t, first, p.FrameAt(h.view().Playhead))
	}},
	{"taps use the position heard", func(t *testing.T, h *hand) {
		lane := h.hitLanes()[0].Lane.ID
		h.view().Focus = lane
		h.a.prefs.LeadMS = 120
		h.goes("9.1+1/3")
		at := h.view().Playhead
		h.key("T")
		require.InDelta(t, at.Seconds(), h.hit(h.a.work.Selected()[0].ID).Seconds(), onBeats, "at rest there is nothing to lead")
		h.key("Space")
		h.until(func() bool { return h.a.song.Heard() > at+150*timeline.Millisecond })
		heard := h.a.song.Heard()
		h.a.Use("tap")
		require.InDelta(t, heard.Seconds()-0.12, h.hit(h.a.work.Selected()[0].ID).Seconds(), 0.01)
	}},
	{"key repeats within 0.7 s merge into one step", func(t *testing.T, h *hand) {
		cues := h.cues("Jets, lip")
		a, b := cues[0].Cue.ID, cues[1].Cue.ID
		h.view().Choose(a)
		for range 5 {
			h.in.Keys = []widget.Press{{Key: widget.KeyRight, Mods: widget.Alt, Repeat: true}}
			h.step()
			h.now += 500 * time.Millisecond
		}
		require.Len(t, h.undone(), 1)
		h.now += 300 * time.Millisecond
		h.key("Alt+Right")
		require.Len(t, h.undone(), 2, "later it is another")
		h.view().Choose(b)
		h.key("Alt+Right")
		require.Len(t, h.undone(), 3, "of another cue it is another")
		h.key("Ctrl+Z")
		require.Equal(t, cues[1].Cue.At, h.a.work.InView().Cue(b).At)
		h.key("Ctrl+Z", "Ctrl+Z")
		require.Equal(t, "13.1", h.cueAt(a))
	}},
}

// What is moved is drawn to what stands near it, and time is kept as promised.
func TestHabitsOfSnapAndTime(t *testing.T) {
	var list []habit
	for _, x := range snaps {
		list = append(list, habit{"one snap routine: " + x.name, snapsAndNames(x)})
	}
	habits(t, append(list, timeHabits...))
}
