package app

import (
	"cmp"
	"context"
	"slices"
	"sync"
	"time"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/play"
	"emberbeat/shows"
	"emberbeat/shows/report/changed"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// work is an open show as the window works on it: the session, what is looked at, and what is derived from both.
type work struct {
	s      *session.Session
	night  timeline.ID // "" = the tour
	song   timeline.ID // the one in view; "" when the show has none
	views  map[timeline.ID]*view
	sounds map[timeline.ID]*play.Sound
	tried  *timeline.Show       // what a gesture would make of the show; nil between gestures
	muted  map[timeline.ID]bool // lanes, in the stage preview
	solo   map[timeline.ID]bool
	grown  int // counts what was read of recordings

	shown *timeline.Show
	plan  *timeline.Plan
	data  *render.SongData // of the song in view; nil without one

	life    context.Context // ends when the show is closed
	end     context.CancelFunc
	running sync.WaitGroup // what goes on beside for as long as that

	looked        time.Time // when the folder was looked at last
	disk          map[string]stamp
	changedOnDisk bool // another program has changed the show on disk

	checks        checks
	forecasts     forecasts
	tonightReport tonightReport
	findings      []rule.Finding         // of the plan that was checked last
	delta         *changed.FindingsDiff  // what the last change did to them; nil before the first
	here          []int                  // of them, those of the song in view, as they stand in marks
	marks         *render.Marks          // nil until the first check is done
	tally         map[timeline.ID][3]int // of findings by song; nil = to be counted
}

func newWork(s *session.Session) *work {
	w := &work{s: s, views: map[timeline.ID]*view{}, sounds: map[timeline.ID]*play.Sound{}}
	w.life, w.end = context.WithCancel(context.Background())
	w.refresh()
	if songs := w.setlist(); len(songs) > 0 {
		w.song = songs[0].ID
	}
	w.refresh()
	return w
}

// current gives the snapshot that is drawn.
func (w *work) current() *timeline.Show {
	if w.tried != nil {
		return w.tried
	}
	return w.s.Show()
}

// refresh derives anew what the snapshot has changed. It reports whether anything has.
func (w *work) refresh() bool {
	show := w.current()
	night := show.Night(w.night)
	if night == nil {
		w.night = ""
	}
	if w.plan == nil || show != w.shown || w.plan.Night != night {
		w.shown, w.plan = show, w.s.PlanOf(show, night)
		if show.Song(w.song) == nil {
			w.song = ""
			if songs := w.setlist(); len(songs) > 0 {
				w.song = songs[0].ID
			}
		}
	}
	plan := w.songPlan()
	if plan == nil {
		changed := w.data != nil
		w.data = nil
		return changed
	}
	if w.data != nil && w.data.Plan == plan && w.data.Show == show {
		return false
	}
	w.data = render.NewSongData(show, plan)
	w.keepSelection()
	return true
}

// songPlan gives the plan of the song in view, whether or not the set holds it.
func (w *work) songPlan() *timeline.SongPlan {
	if w.song == "" {
		return nil
	}
	for i := range w.plan.Songs {
		if w.plan.Songs[i].Song.ID == w.song {
			return w.plan.Songs[i].SongPlan
		}
	}
	if w.data != nil && w.data.Show == w.shown && w.data.Plan.Song.ID == w.song && w.data.Plan.Units == w.plan.Units {
		return w.data.Plan
	}
	alone := w.s.SongPlanOf(w.shown, w.song, w.shown.Night(w.night))
	if alone == nil || len(alone.Songs) == 0 {
		return nil
	}
	return alone.Songs[0].SongPlan
}

// keepSelection drops from the selection what is gone.
func (w *work) keepSelection() {
	v, song := w.view(), w.data.Plan.Song
	for id := range v.selected {
		if song.Cue(id) == nil {
			delete(v.selected, id)
		}
	}
	if song.Lane(v.focus) == nil {
		v.focus = ""
		if len(w.data.Lanes) > 0 && w.data.Lanes[0].Lane != nil {
			v.focus = w.data.Lanes[0].Lane.ID
		}
	}
}

// view gives how the song in view is looked at.
func (w *work) view() *view {
	v := w.views[w.song]
	if v == nil {
		v = newView()
		w.views[w.song] = v
	}
	return v
}

// setlist gives the songs in the order they are listed.
func (w *work) setlist() []*timeline.Song { return page.Setlist(w.plan) }

// songInView gives the song in view, or nil.
func (w *work) songInView() *timeline.Song {
	if w.data == nil {
		return nil
	}
	return w.data.Plan.Song
}

// selected gives the chosen cues by time.
func (w *work) selected() []*timeline.Cue {
	song := w.songInView()
	if song == nil {
		return nil
	}
	var cues []*timeline.Cue
	for id := range w.view().selected {
		if c := song.Cue(id); c != nil {
			cues = append(cues, c)
		}
	}
	slices.SortFunc(cues, func(a, b *timeline.Cue) int {
		ta, _ := a.At.In(song.Beats)
		tb, _ := b.At.In(song.Beats)
		return cmp.Or(cmp.Compare(ta, tb), cmp.Compare(a.ID, b.ID))
	})
	return cues
}

// lane gives the index of a lane as it stands on screen, or -1.
func (w *work) lane(id timeline.ID) int {
	return slices.IndexFunc(w.data.Lanes, func(l render.LaneData) bool { return l.Lane != nil && l.Lane.ID == id })
}

// ids hands out new ids that nothing in the show has, and none of those handed out before.
func (w *work) ids() newIDs {
	given := map[timeline.ID]bool{}
	show := w.s.Show() // not asked for again: edits that take ids run while the session is busy
	return func(kind string, song timeline.ID) timeline.ID {
		for {
			if id := shows.NewIDFor(show, kind, song); !given[id] {
				given[id] = true
				return id
			}
		}
	}
}

// close ends everything that runs for the show.
func (w *work) close() error {
	for _, s := range w.sounds {
		s.Stop()
	}
	w.end()
	w.running.Wait()
	return w.s.Close()
}
