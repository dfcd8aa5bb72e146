package app

import (
	"fmt"
	"image"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/shows"
	"emberbeat/shows/example"
	"emberbeat/timeline"
	"emberbeat/timeline/grid"
)

// withHeard opens the example with its own recordings, which have beats to be heard, on one of its songs.
func withHeard(t *testing.T, slug string) *hand {
	t.Helper()
	h := newHand(t)
	h.dir = filepath.Join(t.TempDir(), "show")
	require.NoError(t, example.CopyTo(h.dir))
	require.NoError(t, h.a.Open(h.dir))
	h.settle()
	for _, g := range h.a.work.Show.Songs {
		if g.Slug == slug {
			h.a.song.GoSong(g.ID)
		}
	}
	h.settle()
	require.Equal(t, slug, h.a.work.InView().Slug)
	return h
}

// spoil makes the grid of the song in view wrong on purpose, as it would have come in, and gives the show as it was.
func (h *hand) spoil(list ...grid.Correction) *timeline.Show {
	h.t.Helper()
	right := h.a.work.Session.Show()
	x, err := grid.Correct(right, h.a.work.Song, list...)
	require.NoError(h.t, err)
	require.True(h.t, h.a.do(change{"spoil", []timeline.Edit{x.Edit()}}))
	h.settle()
	return right
}

// strip is what the beat strip shows.
func (h *hand) strip() *render.BeatStrip { return h.a.song.Strip().View() }

// bestReading gives the number of the card that says it sits best, from 1.
func (h *hand) bestReading() int {
	best := 0
	for i, r := range h.strip().Readings {
		if r.Sits > h.strip().Readings[best].Sits {
			best = i
		}
	}
	return best + 1
}

// onWave gives a place on the sound at a song time.
func (h *hand) onWave(at timeline.Time) image.Point {
	l := &h.a.song.Drawn().SongLayout
	return image.Pt(l.X(at), middle(l.Wave).Y)
}

// pick chooses an entry of a dropdown of the strip, which takes two presses.
func (h *hand) pick(key, entry string) {
	h.t.Helper()
	h.button(key)
	var at image.Rectangle // the last one is on top
	for i := range h.frame.Panels.Shapes {
		if sh := &h.frame.Panels.Shapes[i]; sh.Kind == render.KindText && string(h.frame.Panels.Label(sh)) == entry {
			at = sh.Box
		}
	}
	h.later()
	h.tap(middle(at))
	require.False(h.t, h.a.ui.Modal(), "there is no %q to choose", entry)
}

// A grid that is wrong is righted in three actions at most, whatever is wrong with it; the show is then what it was before, and taking the
// step back gives the wrong one again.
func TestWrongGridIsRightedInThreeActions(t *testing.T) {
	h := withHeard(t, "slow-matches")
	key := func(k string) func() { return func() { h.key(k) } }
	best := func() { h.settle(); h.key(strconv.Itoa(h.bestReading())) }
	shift := func(n, d int64) grid.Correction {
		return grid.Correction{Kind: grid.Shift, Beats: timeline.NewRat(n, d)}
	}
	song := h.a.work.InView()
	one := song.Beats.BarStart(1)
	for _, c := range []struct {
		name    string
		wrong   grid.Correction
		actions []func()
	}{
		{"half as many", grid.Correction{Kind: grid.Half}, []func(){key("X"), key("Enter")}},
		{"twice as many", grid.Correction{Kind: grid.Double}, []func(){key("Shift+X"), key("Enter")}},
		{"three for two", grid.Correction{Kind: grid.ThreeTwo}, []func(){key("B"), best, key("Enter")}},
		{"two for three", grid.Correction{Kind: grid.TwoThree}, []func(){key("B"), best, key("Enter")}},
		{"half a beat early", shift(-1, 2), []func(){key("Alt+\\"), key("Enter")}},
		{"half a beat late", shift(1, 2), []func(){key("Alt+\\"), key("Alt+["), key("Enter")}},
		{"a beat late", shift(1, 1), []func(){key("Alt+["), key("Enter")}},
		{"two beats early", shift(-2, 1), []func(){key("Alt+]"), key("Alt+]"), key("Enter")}},
		{"bar 1 on the third beat", grid.Correction{Kind: grid.BarOne, At: song.Beats.At(timeline.BarBeat{Bar: 1, Beat: timeline.NewRat(2, 1)})},
			[]func(){func() { h.tap(h.onWave(one)) }, key("Alt+1"), key("Enter")}},
		{"three in a bar", grid.Correction{Kind: grid.Metre, Metre: timeline.Metre{Num: 3, Den: 4}}, []func(){key("B"), func() { h.pick("metre", "4/4") }, key("Enter")}},
	} {
		h.later()
		right := h.spoil(c.wrong)
		wrong := h.a.work.Session.Show()
		require.NotEmpty(t, timeline.Diff(right, wrong), c.name)
		require.LessOrEqual(t, len(c.actions), 3, c.name)
		for _, act := range c.actions {
			require.Same(t, wrong, h.a.work.Session.Show(), "%s: nothing is done before it is kept", c.name)
			act()
		}
		h.settle()
		require.Nil(t, h.strip(), "%s: it is kept: %s", c.name, h.a.note.text)
		require.Empty(t, timeline.Diff(right, h.a.work.Session.Show()), c.name)
		h.key("Ctrl+Z")
		require.Empty(t, timeline.Diff(wrong, h.a.work.Session.Show()), "%s: all of it is one step", c.name)
		h.key("Ctrl+Z")
		h.settle()
	}
}

// A grid whose tempo moves is righted as well; how many actions that takes is counted.
func TestMovingTempoIsRighted(t *testing.T) {
	h := withHeard(t, "lanterns-over-the-weir")
	song := h.a.work.InView()
	bpm := grid.TempoOf(song.Beats, song.Beats.BarStart(2))
	right := h.spoil(grid.Correction{Kind: grid.Tempo, BPM: bpm, Cues: grid.WithSound})
	h.key("B")
	h.settle()
	actions := 1
	for _, bar := range []int{35, 36, 37} {
		v := h.a.work.View()
		v.Set(h.a.work.Data.Whole(), song.Beats.BarStart(bar)-4*timeline.Second, 8*timeline.Second)
		h.step()
		from := h.a.song.Strip().Beats().BarStart(bar)
		to := song.Beats.BarStart(bar)
		if d := to - from; max(d, -d) < grid.Near {
			continue
		}
		h.later()
		h.drag(h.onWave(from), h.onWave(to), widget.Ctrl)
		actions++
	}
	h.key("Enter")
	actions++
	beats := h.a.work.InView().Beats
	for bar := 1; bar <= 36; bar++ {
		require.InDelta(t, right.Song(song.ID).Beats.BarStart(bar).Seconds(), beats.BarStart(bar).Seconds(), 0.03, "bar %d", bar)
	}
	t.Logf("righted in %d actions", actions)
	require.LessOrEqual(t, actions, 5)
}

// Trying, and leaving it: not a byte of the show on disk or in memory changes, whatever was tried.
func TestStripLeavesTheShowAsItWas(t *testing.T) {
	h := withHeard(t, "slow-matches")
	was := h.a.work.Session.Show()
	h.key("B")
	h.settle()
	require.NotNil(t, h.strip())
	require.Empty(t, h.strip().Tried)
	h.key("X", "Alt+\\", "2", "Alt+1", "Shift+X")
	require.NotEmpty(t, h.strip().Tried)
	require.Same(t, was, h.a.work.Session.Show())
	require.False(t, h.a.work.Session.Dirty())
	h.button("leave")
	require.Nil(t, h.strip())
	require.Same(t, was, h.a.work.Session.Show())

	h.key("X", "Alt+\\")
	require.Equal(t, "twice as many beats, half a beat later", h.strip().Tried)
	h.key("Esc")
	require.Equal(t, "twice as many beats", h.strip().Tried, "Esc takes back what was tried last")
	h.key("Esc")
	require.Empty(t, h.strip().Tried)
	h.key("Esc")
	require.Nil(t, h.strip(), "and then closes the strip")
}

// Kept and taken back, the files of the show are the same to the byte.
func TestKeptAndTakenBackIsTheSameToTheByte(t *testing.T) {
	h := withHeard(t, "slow-matches")
	read := func() string {
		text := ""
		require.NoError(t, filepath.WalkDir(h.dir, func(path string, e os.DirEntry, err error) error {
			if err == nil && filepath.Ext(path) == ".toml" {
				b, err := os.ReadFile(path)
				require.NoError(t, err)
				text += path + "\n" + string(b)
			}
			return err
		}))
		return text
	}
	h.key("Ctrl+S")
	h.settle()
	was := read()
	h.key("X", "Alt+\\", "Enter", "Ctrl+S")
	h.settle()
	require.NotEqual(t, was, read())
	h.key("Ctrl+Z", "Ctrl+S")
	h.settle()
	require.Equal(t, was, read())
}

// What the foot and the cards say of cues is what keeping does to them.
func TestStripSaysWhatMoves(t *testing.T) {
	h := withHeard(t, "slow-matches")
	before := h.a.work.InView()
	h.key("Alt+\\")
	h.settle()
	x, err := grid.Correct(h.a.work.Session.Show(), before.ID, h.a.song.Strip().Tried()...)
	require.NoError(t, err)
	require.Contains(t, h.strip().Comes, x.Moving())
	n, least, most := x.Moved()
	require.Positive(t, n)
	require.True(t, h.says(x.Moving()), "it stands at the foot")
	require.Less(t, h.strip().Sits, h.strip().Before, "half a beat beside the music sits worse")
	h.settle()
	require.True(t, h.says("Findings: ") || h.says("No finding"), "what findings come and go stands there as soon as it is known")
	h.key("Enter")
	moved := 0
	for _, c := range before.Cues {
		was, _ := c.At.In(before.Beats)
		is, _ := h.a.work.InView().Cue(c.ID).At.In(h.a.work.InView().Beats)
		if d := is - was; d != 0 {
			moved++
			require.InDelta(t, 0, min(d-least, most-d).Seconds(), 0.0002)
		}
	}
	require.Equal(t, n, moved)
}

// says reports whether a text stands anywhere on the panels.
func (h *hand) says(text string) bool {
	for i := range h.frame.Panels.Shapes {
		if sh := &h.frame.Panels.Shapes[i]; sh.Kind == render.KindText && containsText(h.frame.Panels.Label(sh), text) {
			return true
		}
	}
	return false
}

func containsText(b []byte, text string) bool {
	for i := 0; i+len(text) <= len(b); i++ {
		if string(b[i:i+len(text)]) == text {
			return true
		}
	}
	return false
}

// "Keep, confirm" keeps and confirms in one step.
func TestKeepAndConfirm(t *testing.T) {
	h := withHeard(t, "slow-matches")
	h.a.do(change{"unconfirm", []timeline.Edit{grid.Confirm(h.a.work.Song, false)}})
	h.later()
	was := h.a.work.Session.Show()
	h.key("Alt+]", "Shift+Enter")
	require.True(t, h.a.work.InView().Confirmed)
	h.key("Ctrl+Z")
	require.Empty(t, timeline.Diff(was, h.a.work.Session.Show()))
}

// Taps along with the beats of a song that has none make its grid, and the attacks that are heard make it exact.
func TestTapsMakeAGrid(t *testing.T) {
	h := withHeard(t, "slow-matches")
	right := h.a.work.InView().Beats
	h.a.do(change{"no beats", []timeline.Edit{func(d *timeline.Draft) error {
		g := d.Show().Song(h.a.work.Song)
		head := timeline.KindOf("song").Clone(&g.SongHead).(*timeline.SongHead)
		head.Beats, head.Confirmed = nil, false
		d.Put("", head)
		for _, c := range g.Cues {
			if c.At.OnBeat {
				q := *c
				q.At = timeline.AtTime(right.At(c.At.Bar))
				d.Put(g.ID, &q)
			}
		}
		return nil
	}}})
	h.key("B")
	h.settle()
	require.NotEmpty(t, h.strip().Readings, "what is heard is offered")
	for i, off := range []int{12, -9, 20, -14, 3, -5} { // ms by which a hand misses
		at := right.At(timeline.BarBeat{Bar: 3, Beat: timeline.NewRat(int64(i), 1)})
		h.a.song.Seek(at + timeline.Time(off)*timeline.Millisecond)
		h.key("J")
	}
	require.Contains(t, h.strip().Taps, "6 taps")
	h.key("Enter")
	beats := h.a.work.InView().Beats
	require.False(t, beats.Empty())
	for bar := 3; bar < 20; bar++ {
		p := beats.Snap(right.BarStart(bar), timeline.NewRat(1, 1))
		require.InDelta(t, right.BarStart(bar).Seconds(), beats.At(p).Seconds(), 0.005, "bar %d", bar)
	}
}

// A line that is dragged goes to the attack beside it; Ctrl takes all after it along, Shift that bar only, Esc nothing.
func TestDragOfABarLine(t *testing.T) {
	h := withHeard(t, "slow-matches")
	h.key("B")
	h.settle()
	beats := h.a.work.InView().Beats
	h.a.work.View().Set(h.a.work.Data.Whole(), beats.BarStart(6), 10*timeline.Second)
	h.step()
	from := beats.BarStart(8)
	for _, c := range []struct {
		mods  widget.Mods
		reach grid.Reach
	}{{0, ""}, {widget.Ctrl, grid.After}, {widget.Shift, grid.Only}} {
		h.later()
		h.drag(h.onWave(from), h.onWave(from+300*timeline.Millisecond), c.mods|widget.Alt)
		tried := h.a.song.Strip().Tried()
		require.Len(t, tried, 1)
		require.Equal(t, c.reach, tried[0].Reach)
		require.Equal(t, 8, tried[0].Bar)
		require.InDelta(t, (from + 300*timeline.Millisecond).Seconds(), tried[0].At.Seconds(), 0.02)
		h.key("Esc")
	}
	h.later()
	h.move(h.onWave(from))
	h.down(widget.Primary)
	h.move(h.onWave(from + 200*timeline.Millisecond))
	require.NotNil(t, h.strip().Drag)
	require.NotEmpty(t, h.strip().Drag.Lines)
	h.key("Esc")
	h.up()
	require.Nil(t, h.strip().Drag)
	require.Empty(t, h.strip().Tried)

	h.later()
	attack := h.strip().Attacks[0]
	for _, a := range h.strip().Attacks {
		if a > from+100*timeline.Millisecond {
			attack = a
			break
		}
	}
	near := attack + h.a.song.Drawn().TimeAt(h.a.song.Drawn().Left+3) - h.a.song.Drawn().TimeAt(h.a.song.Drawn().Left)
	h.drag(h.onWave(from), h.onWave(near), 0)
	require.Equal(t, attack, h.a.song.Strip().Tried()[0].At, "it is drawn to the attack")
}

// Without a recording the strip says what to do, and a tempo makes a grid.
func TestStripWithoutARecording(t *testing.T) {
	h := newHand(t)
	require.NoError(t, h.a.newShow(filepath.Join(t.TempDir(), "mine"), "Mine"))
	require.True(t, h.a.do(change{"song", []timeline.Edit{func(d *timeline.Draft) error {
		head := timeline.KindOf("song").New(shows.NewIDFor(d.Show(), "song", "")).(*timeline.SongHead)
		head.Title, head.Slug, head.Length = "Quiet", "quiet", timeline.Minute
		d.Put("", head)
		return nil
	}}}))
	h.step()
	h.key("B")
	require.NotNil(t, h.strip())
	require.Contains(t, h.strip().Quiet, "no recording")
	require.Empty(t, h.strip().Readings)
	h.a.song.Seek(timeline.Second)
	h.button("tempo")
	h.typed("120")
	h.key("Enter")
	require.Contains(t, h.strip().Tried, "120 bpm")
	h.key("Enter")
	require.Equal(t, timeline.Second, h.a.work.InView().Beats.BarStart(1))
}

// Listening again keeps what is locked.
func TestListeningAgainKeepsWhatIsLocked(t *testing.T) {
	h := withHeard(t, "slow-matches")
	right := h.a.work.InView().Beats
	h.spoil(grid.Correction{Kind: grid.Half})
	h.key("B")
	h.settle()
	half := h.a.song.Strip().Beats()
	h.button("lock-tempo")
	h.button("listen")
	h.settle()
	require.NotEmpty(t, h.strip().Tried)
	require.InDelta(t, half.BPM(half.BarStart(2)), h.a.song.Strip().Beats().BPM(half.BarStart(2)), 1, "the tempo is locked at half")
	h.key("Esc")
	h.button("lock-tempo")
	h.button("listen")
	h.settle()
	require.InDelta(t, right.BPM(right.BarStart(2)), h.a.song.Strip().Beats().BPM(right.BarStart(2)), 1, "without the lock it is as it is heard")
	h.key("Enter")
	require.Empty(t, h.a.work.InView().Locks)
}

// Pictures of the strip, in each theme and on small windows: everything that is written stands inside the window and is not written over.
func TestBeatStripPictures(t *testing.T) {
	h := withHeard(t, "slow-matches")
	h.key("B")
	h.settle()
	h.a.work.View().Set(h.a.work.Data.Whole(), h.a.work.InView().Beats.BarStart(8), 12*timeline.Second)
	h.key("Alt+\\")
	h.settle()
	dir := os.Getenv("EMBERBEAT_PICTURES")
	for _, size := range []image.Point{{1440, 900}, {1366, 768}, {1024, 640}} {
		for i := range themes {
			h.size = size
			h.a.prefs.Theme = i
			h.step()
			h.step()
			h.noTextOverText(h.a.song.Scene())
			if dir != "" {
				writePicture(t, filepath.Join(dir, fmt.Sprintf("beats-%dx%d-%s.png", size.X, size.Y, themes[i].Name)), h.picture())
			}
		}
	}
}

// noTextOverText says where two texts of a scene lie over each other.
func (h *hand) noTextOverText(s *render.Scene) {
	h.t.Helper()
	var boxes []*render.Shape
	for i := range s.Shapes {
		if sh := &s.Shapes[i]; sh.Kind == render.KindText {
			for _, o := range boxes {
				require.False(h.t, o.Box.Overlaps(sh.Box), "%q over %q", s.Label(sh), s.Label(o))
			}
			boxes = append(boxes, sh)
		}
	}
}
