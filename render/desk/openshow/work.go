package openshow

import (
	"cmp"
	"context"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/play"
	"emberbeat/shows"
	"emberbeat/shows/report"
	"emberbeat/shows/report/changed"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Window is what the work tells of what goes on beside it.
type Window interface {
	// Post has something done by the window's goroutine; it may be called from any.
	Post(f func())
	// Again asks for the frame to be drawn once more.
	Again()
	// Log tells of a change of state, for tests and bug reports.
	Log(format string, args ...any)
}

// Work is an open show as the window works on it: the session, what is looked at, and what is derived from both.
type Work struct {
	Session  *session.Session
	Night    timeline.ID          // "" = the tour
	Song     timeline.ID          // the one in view; "" when the show has none
	Tried    *timeline.Show       // what a gesture would make of the show; nil between gestures
	Muted    map[timeline.ID]bool // lanes, in the stage preview
	Solo     map[timeline.ID]bool
	Previews int                         // counts changes of these
	Sounds   map[timeline.ID]*play.Sound // recordings, by song, as far as they were asked for

	Show *timeline.Show // as it is drawn
	Plan *timeline.Plan
	Data *render.SongData // of the song in view; nil without one

	Findings []rule.Finding        // of the plan that was checked last
	Delta    *changed.FindingsDiff // what the last change did to them; nil before the first
	Here     []int                 // of them, those of the song in view, as they stand in Marks
	Marks    *render.Marks         // nil until the first check is done

	ChangedOnDisk bool // another program has changed the show on disk

	window  Window
	views   map[timeline.ID]*View
	life    context.Context // ends when the show is closed
	end     context.CancelFunc
	running sync.WaitGroup // what goes on beside for as long as that

	looked  time.Time // when the folder was looked at last
	looking atomic.Bool
	noted   int // how often it was taken to be as this window knows it
	disk    map[string]Stamp

	checks        checks
	forecasts     forecasts
	tonightReport tonightReport
	loudness      loudness
	selected      selected
	tally         map[timeline.ID][3]int                 // of findings by song; nil = to be counted
	groups        []report.FindingGroup                  // of findings by cause; nil = to be gathered
	found         map[timeline.ID]map[timeline.Ref][]int // findings that nobody has accepted, by the song of their record and that; a song is looked through when it is asked for
}

// New is for a session that was just opened; its first song is in view, of the tour.
func New(s *session.Session, of Window) *Work {
	w := &Work{window: of, Session: s, views: map[timeline.ID]*View{}, Sounds: map[timeline.ID]*play.Sound{}}
	w.life, w.end = context.WithCancel(context.Background())
	w.Refresh()
	if songs := w.Setlist(); len(songs) > 0 {
		w.Song = songs[0].ID
	}
	w.Refresh()
	return w
}

// current gives the snapshot that is drawn.
func (w *Work) current() *timeline.Show {
	if w.Tried != nil {
		return w.Tried
	}
	return w.Session.Show()
}

// Refresh derives anew what the snapshot has changed. It reports whether anything has.
func (w *Work) Refresh() bool {
	show := w.current()
	night := show.Night(w.Night)
	if night == nil {
		w.Night = ""
	}
	if w.Plan == nil || show != w.Show || w.Plan.Night != night {
		w.Show, w.Plan = show, w.Session.PlanOf(show, night)
		if show.Song(w.Song) == nil {
			w.Song = ""
			if songs := w.Setlist(); len(songs) > 0 {
				w.Song = songs[0].ID
			}
		}
	}
	plan := w.songPlan()
	if plan == nil {
		changed := w.Data != nil
		w.Data = nil
		return changed
	}
	if w.Data != nil && w.Data.Plan == plan && w.Data.Show == show {
		return false
	}
	w.Data = render.NewSongData(show, plan)
	w.keepSelection()
	return true
}

// songPlan gives the plan of the song in view, whether or not the set holds it.
func (w *Work) songPlan() *timeline.SongPlan {
	if w.Song == "" {
		return nil
	}
	for i := range w.Plan.Songs {
		if w.Plan.Songs[i].Song.ID == w.Song {
			return w.Plan.Songs[i].SongPlan
		}
	}
	if w.Data != nil && w.Data.Show == w.Show && w.Data.Plan.Song.ID == w.Song && w.Data.Plan.Units == w.Plan.Units {
		return w.Data.Plan
	}
	alone := w.Session.SongPlanOf(w.Show, w.Song, w.Show.Night(w.Night))
	if alone == nil || len(alone.Songs) == 0 {
		return nil
	}
	return alone.Songs[0].SongPlan
}

// keepSelection drops from the selection what is gone.
func (w *Work) keepSelection() {
	v, song := w.View(), w.Data.Plan.Song
	for id := range v.Selected {
		if song.Cue(id) == nil {
			delete(v.Selected, id)
		}
	}
	if song.Lane(v.Armed) == nil {
		v.Armed = ""
	}
	if song.Lane(v.Focus) == nil {
		v.Focus = ""
		if len(w.Data.Lanes) > 0 && w.Data.Lanes[0].Lane != nil {
			v.Focus = w.Data.Lanes[0].Lane.ID
		}
	}
}

// View gives how the song in view is looked at.
func (w *Work) View() *View {
	v := w.views[w.Song]
	if v == nil {
		v = newView()
		w.views[w.Song] = v
	}
	return v
}

// Setlist gives the songs in the order they are listed.
func (w *Work) Setlist() []*timeline.Song { return page.Setlist(w.Plan) }

// InView gives the song in view, or nil.
func (w *Work) InView() *timeline.Song {
	if w.Data == nil {
		return nil
	}
	return w.Data.Plan.Song
}

// Selected gives the chosen cues by time. The list is kept until others are chosen or the song is another, and is not to be changed.
func (w *Work) Selected() []*timeline.Cue {
	song := w.InView()
	if song == nil {
		return nil
	}
	v := w.View()
	if s := &w.selected; s.of == w.Data && s.view == v && s.serial == v.Serial && s.n == len(v.Selected) {
		return s.cues
	}
	type timed struct {
		cue *timeline.Cue
		at  timeline.Time
	}
	list := make([]timed, 0, len(v.Selected))
	for id := range v.Selected {
		if c := song.Cue(id); c != nil {
			at, _ := c.At.In(song.Beats)
			list = append(list, timed{c, at})
		}
	}
	slices.SortFunc(list, func(a, b timed) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.cue.ID, b.cue.ID)) })
	var cues []*timeline.Cue
	for _, x := range list {
		cues = append(cues, x.cue)
	}
	w.selected = selected{w.Data, v, v.Serial, len(v.Selected), slices.Clip(cues)}
	return cues
}

// selected is the chosen cues by time, and what they are of.
type selected struct {
	of     *render.SongData
	view   *View
	serial int
	n      int
	cues   []*timeline.Cue
}

// LaneAt gives the index of a lane as it stands on screen, or -1.
func (w *Work) LaneAt(id timeline.ID) int {
	return slices.IndexFunc(w.Data.Lanes, func(l render.LaneData) bool { return l.Lane != nil && l.Lane.ID == id })
}

// NewIDs hands out new ids that nothing in the show has, and none of those handed out before.
func (w *Work) NewIDs() func(kind string, song timeline.ID) timeline.ID {
	given := map[timeline.ID]bool{}
	show := w.Session.Show() // not asked for again: edits that take ids run while the session is busy
	return func(kind string, song timeline.ID) timeline.ID {
		for {
			if id := shows.NewIDFor(show, kind, song); !given[id] {
				given[id] = true
				return id
			}
		}
	}
}

// Beside has something done beside the window, until the show is closed.
func (w *Work) Beside(do func(ctx context.Context)) {
	w.running.Add(1)
	go func() {
		defer w.running.Done()
		do(w.life)
	}()
}

// Wait waits for what goes on beside.
func (w *Work) Wait() { w.running.Wait() }

// Close ends everything that runs for the show.
func (w *Work) Close() error {
	for _, s := range w.Sounds {
		s.Stop()
	}
	w.loudness.stop()
	w.end()
	w.Wait()
	return w.Session.Close()
}

// Preview flips a lane in a set of lanes.
func (w *Work) Preview(set *map[timeline.ID]bool, lane timeline.ID) {
	if *set == nil {
		*set = map[timeline.ID]bool{}
	}
	(*set)[lane] = !(*set)[lane]
	w.Previews++
}

// ShowAll hides no lane in the stage preview, and shows none alone.
func (w *Work) ShowAll() {
	w.Muted, w.Solo = nil, nil
	w.Previews++
}

// Previewed reports whether the stage preview shows a lane.
func (w *Work) Previewed(lane timeline.ID) bool { return render.Previewed(w.Muted, w.Solo, lane) }
