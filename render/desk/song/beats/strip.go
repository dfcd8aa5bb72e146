package beats

import (
	"errors"
	"fmt"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/grid"
)

// Host is what the strip needs of the song page, beside what every page needs.
type Host interface {
	page.Host
	openshow.Window

	// Work is the open show, nil while none is.
	Work() *openshow.Work
	// Heard is the song time that is heard, or the playhead; Tapped the one that the user means who taps now.
	Heard() timeline.Time
	Tapped() timeline.Time
	// Tune has the click follow the grid that is tried; Listen plays from where the user is, with the click.
	Tune()
	Listen()
	// TimeAt and Reach turn columns into song time, Column song time into columns.
	TimeAt(x int) timeline.Time
	Reach(px int) timeline.Time
	// Snaps reports whether what is dragged snaps.
	Snaps() bool
}

// Strip is the strip with what is tried in it. It outlives the songs that it is opened on; what was tried ends with the song in view.
type Strip struct {
	h    Host
	open bool

	song  timeline.ID
	base  *timeline.Show    // that the rest was made for
	tried []grid.Correction // one after the other, not kept yet
	locks *grid.Locks       // as they will be, nil as the song has them
	taps  []timeline.Time

	made     *grid.Corrected // nil where nothing is tried
	data     *render.SongData
	view     *render.BeatStrip
	readings []grid.Reading
	drag     *render.BeatDrag // while a line is moved
	dragged  *grid.Correction // that it would be

	ear map[timeline.ID]*listening
}

// listening is what the ear makes of a recording.
type listening struct {
	file  string // of which
	heard *grid.Heard
	err   error
	busy  bool
	part  float64
	again bool // with locks, to be taken once it is there
}

// New gives a strip that is closed.
func New(h Host) *Strip { return &Strip{h: h, ear: map[timeline.ID]*listening{}} }

// Open reports whether the strip is shown: it is open, and there is a song to show it on.
func (s *Strip) Open() bool { return s.open && s.h.Work() != nil && s.h.Work().Data != nil }

// Trying reports whether something is tried that is not kept yet.
func (s *Strip) Trying() bool {
	return s.Open() && (len(s.tried) > 0 || s.locks != nil || s.dragged != nil)
}

// Tried lists what is tried.
func (s *Strip) Tried() []grid.Correction { return s.tried }

// Data gives the song as it is tried, nil where nothing is.
func (s *Strip) Data() *render.SongData {
	if s.Open() && s.made != nil {
		return s.data
	}
	return nil
}

// View gives what the strip shows, nil while it is closed.
func (s *Strip) View() *render.BeatStrip {
	if !s.Open() {
		return nil
	}
	return s.view
}

// Beats gives the grid that is tried, or the one that stands.
func (s *Strip) Beats() *timeline.BeatMap {
	if s.Open() && s.made != nil {
		return s.made.Beats
	}
	return s.h.Work().InView().Beats
}

// Toggle opens the strip, or closes it; what was tried is left then.
func (s *Strip) Toggle() {
	if s.open {
		if s.Trying() {
			s.h.Tell("the beats are left as they were")
		}
		s.close()
		return
	}
	s.show()
}

// show opens the strip.
func (s *Strip) show() {
	if !s.open {
		s.open = true
		s.h.Turn("")
		s.changed()
		s.h.Log("beat strip open")
	}
}

func (s *Strip) close() {
	s.forget()
	s.open = false
	s.h.Log("beat strip closed")
	s.changed()
}

// Leave forgets all, before the show is closed.
func (s *Strip) Leave() {
	s.forget()
	s.open, s.ear, s.song, s.base = false, map[timeline.ID]*listening{}, "", nil
}

// forget drops what is tried.
func (s *Strip) forget() {
	s.tried, s.locks, s.taps, s.drag, s.dragged, s.made, s.data = nil, nil, nil, nil, nil, nil, nil
}

// changed has everything shown anew.
func (s *Strip) changed() {
	s.base = nil
	s.Refresh()
	s.h.Again()
}

// Refresh brings the strip up to date with the show and the song in view.
func (s *Strip) Refresh() {
	if !s.Open() {
		return
	}
	w := s.h.Work()
	if s.song != w.Song {
		if s.song != "" && len(s.tried) > 0 {
			s.h.Tell("what was tried of the beats is left: another song is in view")
		}
		s.forget()
		s.song, s.base = w.Song, nil
	}
	show := w.Session.Show()
	if s.base == show {
		return
	}
	s.base = show
	g := show.Song(s.song)
	if g == nil {
		return
	}
	s.listen(g)
	s.make(g)
	s.read(g)
	s.view = s.shown(g)
	s.h.Tune()
}

// all lists what is tried, with the line that is being moved.
func (s *Strip) all() []grid.Correction {
	list := s.tried
	if s.dragged != nil {
		list = append(slices.Clone(list), *s.dragged)
	}
	return list
}

// make makes the song as it is tried. What cannot be made is said, and dropped.
func (s *Strip) make(g *timeline.Song) {
	s.made, s.data = nil, nil
	for len(s.all()) > 0 {
		err := s.compile(g)
		if err == nil {
			return
		}
		s.h.Warn(err.Error())
		if s.dragged != nil {
			s.dragged, s.drag = nil, nil
		} else {
			s.tried = s.tried[:len(s.tried)-1]
		}
	}
}

func (s *Strip) compile(g *timeline.Song) error {
	w := s.h.Work()
	x, err := grid.Correct(s.base, g.ID, s.all()...)
	if err != nil {
		return err
	}
	t, err := w.Session.Try(x.Edit())
	if err != nil {
		return err
	}
	night := t.Show.Night(w.Night)
	plan := w.Session.PlanOf(t.Show, night)
	for i := range plan.Songs {
		if plan.Songs[i].Song.ID == g.ID {
			s.made, s.data = x, render.NewSongData(t.Show, plan.Songs[i].SongPlan)
			return nil
		}
	}
	alone := w.Session.SongPlanOf(t.Show, g.ID, night)
	if alone == nil || len(alone.Songs) == 0 {
		return errors.New("the song is not in the show any more")
	}
	s.made, s.data = x, render.NewSongData(t.Show, alone.Songs[0].SongPlan)
	return nil
}

// heard gives what the ear makes of the song in view, nil while that is not known.
func (s *Strip) heard() *grid.Heard {
	if e := s.ear[s.song]; e != nil {
		return e.heard
	}
	return nil
}

// read finds the grids that may be meant.
func (s *Strip) read(g *timeline.Song) {
	s.readings = nil
	if h := s.heard(); h != nil {
		s.readings = grid.Readings(g.Beats, *h)
	}
}

// sits gives how well a grid sits in percent, -1 where that is not known.
func sits(f grid.Fit) int {
	if n, known := f.Percent(); known {
		return n
	}
	return -1
}

// shown makes the picture of the strip.
func (s *Strip) shown(g *timeline.Song) *render.BeatStrip {
	b := &render.BeatStrip{Old: g.Beats, Sits: -1, Before: -1, Tried: grid.Said(s.tried), Quiet: s.quiet(g)}
	if h := s.heard(); h != nil {
		b.Before = sits(grid.Sits(g.Beats, h.Attacks))
		b.Sits = sits(grid.Sits(s.Beats(), h.Attacks))
		b.Attacks = grid.Strong(h.Attacks)
		for _, d := range h.Doubts {
			b.Doubts = append(b.Doubts, render.BeatDoubt{Span: render.Span{From: d.From, To: d.To}, Share: d.Share})
		}
	}
	if s.drag != nil && s.made != nil {
		d := *s.drag
		if d.Lines = []string{s.made.Moving()}; s.made.Remaining() != "" {
			d.Lines = append(d.Lines, s.made.Remaining())
		}
		b.Drag = &d
	}
	if s.made != nil {
		b.Comes = s.made.Moving()
		if rest := s.made.Remaining(); rest != "" {
			b.Comes += ", " + rest
		}
		b.OldHits = map[timeline.ID]timeline.Time{}
		for i := range s.made.Moves {
			if m := &s.made.Moves[i]; m.Stays == "" {
				b.OldHits[m.Cue.ID] = m.Was
			}
		}
	}
	for i := range s.readings {
		r := &s.readings[i]
		x := render.BeatReading{Name: r.Name, Detail: r.Detail, Sits: sits(r.Fit), Beats: r.Beats, On: s.Beats().Equal(r.Beats), Foot: "as it stands"}
		if len(r.Corrections) > 0 {
			if made, err := grid.Correct(s.base, g.ID, r.Corrections...); err == nil {
				x.Foot = made.Moving()
			}
		}
		if x.On && len(s.tried) > 0 {
			x.Foot = "being tried"
		}
		b.Readings = append(b.Readings, x)
	}
	locks := s.locksNow(g)
	b.Locked = locks.Words()
	if n := len(s.taps); n > 0 {
		b.Taps = fmt.Sprintf("%s: from %d on they tell", timeline.Counted(n, "tap"), grid.LeastTaps)
		if p, err := grid.Tapped(s.taps); err == nil {
			b.Taps = fmt.Sprintf("%s: %s bpm ± %.0f ms", timeline.Counted(n, "tap"), p.BPM(), 1000*p.Spread.Seconds())
		}
	}
	return b
}

// quiet says why nothing is heard yet, "" where it is.
func (s *Strip) quiet(g *timeline.Song) string {
	e := s.ear[g.ID]
	switch {
	case g.Audio.Path == "":
		return "no recording: type a tempo and say where bar 1 is"
	case e == nil || e.busy:
		if e != nil && e.part > 0 {
			return fmt.Sprintf("listening, %.0f %%", 100*e.part)
		}
		return "listening…"
	case e.err != nil:
		return e.err.Error()
	}
	return ""
}

// locksNow gives the locks as they are, or will be.
func (s *Strip) locksNow(g *timeline.Song) grid.Locks {
	if s.locks != nil {
		return *s.locks
	}
	l, err := grid.ReadLocks(g.Locks)
	if err != nil {
		return grid.Locks{}
	}
	return l
}
