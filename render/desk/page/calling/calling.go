package calling

import (
	"image"
	"time"

	"emberbeat/render"
	"emberbeat/render/callboard"
	"emberbeat/render/desk/page"
	"emberbeat/render/front"
	"emberbeat/shows/calls"
	"emberbeat/shows/report/calling"
	"emberbeat/timeline"
)

// ID is that of the page.
const ID = "calling"

// View is the page with what it remembers.
type View struct {
	h page.Host

	Board  *calling.Board
	Moment calling.Moment
	Marks  calling.Marks

	area   image.Rectangle
	plan   *timeline.Plan // that the board was made for
	song   timeline.ID
	drawer callboard.Drawer
	shown  callboard.View
	played bool   // the clock has run
	said   string // why a mark could not be written

	own   bool          // its own clock runs
	began time.Time     // when that did
	from  timeline.Time // where it did
	head  timeline.Time // where the playhead stood then: another place leads the clock there
	rests bool          // it has stopped at from
}

// New gives the view.
func New(h page.Host) page.Family {
	p := &View{h: h}
	own := p.commands()
	acts := map[string]page.Act{"zoom-in": page.As(h, "larger"), "zoom-out": page.As(h, "smaller")}
	for of, c := range map[string]int{"disable": holdAt, "marker": missAt, "tap": clockAt} {
		acts[of] = own[c].Act()
	}
	return page.Family{State: p, Commands: own, Pages: []page.Page{{ID: ID, Name: "Calling", Part: "Nights", Keys: []string{"C"}, Draw: p.draw, Moving: p.moving, Runs: func() bool { return p.own }, Whole: true, Night: true,
		Acts: acts, Only: allowed, Help: "what the calling position reads while a song runs: the next cues with their countdown, arms as planned, holds and missed cues marked by hand"}}}
}

// allowed are the commands that can be used beside the view's own: none of them
// changes the show.
var allowed = []string{"play", "stop", "half-speed", "song-back", "song-on", "song-first", "song-last", "go-to", "frame-back", "frame-on", "beat-back", "beat-on", "mark-back", "mark-on", "song-start", "song-end",
	"theme", "dimmer", "brighter", "larger", "smaller", "full-screen", "still", "palette", "keys", "call-hold", "call-missed", "call-back", "call-clock"}

// Places of the view's commands.
const (
	holdAt = iota
	missAt
	backAt
	clockAt
)

func (p *View) commands() []page.Command {
	return []page.Command{
		holdAt:  {ID: "call-hold", Name: "Hold or release", Help: "marks in the calling view (H there) that the show is held, or released; cues whose command falls in between are marked missed", Group: "Play", Off: p.needView, Run: p.hold},
		missAt:  {ID: "call-missed", Name: "Mark missed", Help: "marks in the calling view (M there) the last cue as missed", Group: "Play", Off: p.needView, Run: p.miss},
		backAt:  {ID: "call-back", Name: "Take a mark back", Help: "takes back in the calling view that a cue was missed", Group: "Play", Keys: []string{"Backspace"}, Off: p.needView, Run: p.takeBack},
		clockAt: {ID: "call-clock", Name: "Run from here without sound", Help: "runs the calling view (T there) from the playhead, such as a typed timecode, by the computer's clock; again: stops", Group: "Play", Off: p.needView, Run: p.clock},
	}
}

// needView says why nothing can be marked.
func (p *View) needView() string {
	switch {
	case p.h.Show() == nil:
		return page.NeedShow(p.h)
	case p.h.InView() != ID:
		return "turn to the calling view first"
	case !p.prepare():
		return "the song in view is not played in this plan"
	}
	return ""
}

// prepare makes the board of the song in view, and reports whether there is one.
// Marks last as long as the song does.
func (p *View) prepare() bool {
	song, _, _ := p.h.Clock()
	plan := p.h.Plan()
	if p.Board != nil && p.plan == plan && p.song == song {
		return true
	}
	for i := range plan.Songs {
		if plan.Songs[i].Song.ID != song {
			continue
		}
		if p.song != song && p.Board != nil {
			p.finish(p.Moment.At)
		}
		p.Board, p.plan, p.song = calling.New(plan, i), plan, song
		p.shown.Stage = front.New(plan, plan.Songs[i].SongPlan)
		return true
	}
	if p.Board != nil {
		p.finish(p.Moment.At)
	}
	p.Board, p.song = nil, ""
	return false
}

// Clock gives the time of the song that is shown, whether it runs, and whose clock
// that is.
func (p *View) Clock() (at timeline.Time, runs bool, source string) {
	_, heard, plays := p.h.Clock()
	switch {
	case p.own:
		return p.from + timeline.FromSeconds(p.h.Now().Sub(p.began).Seconds()), true, "from a typed place, by the computer's clock"
	case plays:
		return heard, true, "from the desk's own playback"
	case p.rests && heard == p.head:
		return p.from, false, "from a typed place, by the computer's clock"
	}
	return heard, false, "from the desk's own playback"
}

// draw takes the whole window; all of the view is drawn with what moves.
func (p *View) draw(r image.Rectangle) {
	p.area = r
	p.h.UI().Canvas("calling", r)
}

// moving draws the view.
func (p *View) moving(s *render.Scene) {
	v := &p.shown
	v.Area, v.Keys, v.Still, v.Board = p.area, keys, p.h.Still(), nil
	if v.Note = p.h.Said(); p.said != "" {
		v.Note = p.said
	}
	if p.area.Empty() {
		return
	}
	if !p.prepare() {
		v.Note = "The song in view is not played in this plan: Ctrl+PgDn goes to the next one, Esc back"
		p.drawer.Draw(s, p.h.UI().Theme(), v)
		return
	}
	at, runs, source := p.tick()
	p.Board.Look(&p.Moment, at, &p.Marks)
	v.Board, v.Moment, v.Running, v.Source = p.Board, &p.Moment, runs, source
	if v.Stopped = ""; !runs && p.played {
		v.Stopped = "playback stopped here"
	}
	p.drawer.Draw(s, p.h.UI().Theme(), v)
}

// keys is what stands at the foot.
const keys = "Esc: back to the song   ·   Space: play   ·   G: go to a timecode   ·   T: run from there without sound   ·   H: hold   ·   M: mark as missed   ·   Backspace: take back   ·   + −: larger, smaller   ·   F9: theme"

// tick follows the clock: it ends with the song, and marks with it.
func (p *View) tick() (at timeline.Time, runs bool, source string) {
	_, heard, plays := p.h.Clock()
	if p.own && (plays || heard != p.head) { // somebody has gone elsewhere
		if p.head = heard; plays {
			p.own = false
		} else {
			p.from, p.began = heard, p.h.Now()
		}
	}
	at, runs, source = p.Clock()
	p.played = p.played || runs
	p.Marks.Seen(at)
	if end := p.Board.Song.Duration; runs && at >= end {
		p.finish(end)
		at, runs = end, false
	}
	return at, runs, source
}

// finish ends the marks of a song; a hold that goes on is over for it.
func (p *View) finish(at timeline.Time) {
	if p.Marks.Held() {
		p.Marks.Seen(at)
		p.fell()
	}
	p.Marks, p.own, p.rests, p.played = calling.Marks{}, false, false, false
}

// fell writes down what the last hold has made miss.
func (p *View) fell() {
	for _, c := range p.Board.Fell(p.Marks.Holds[len(p.Marks.Holds)-1]) {
		if p.Marks.Missed(c) {
			p.write(p.entry(calls.Missed, c.Command, c))
		}
	}
}

// clock starts the view's own clock at the playhead, or stops it.
func (p *View) clock() {
	if p.own {
		at, _, _ := p.Clock()
		p.own, p.rests, p.from = false, true, at
		return
	}
	_, heard, plays := p.h.Clock()
	if plays {
		p.h.Warn("the song plays: its clock is followed; Space stops it")
		return
	}
	if !p.rests || heard != p.head {
		p.from = heard
	}
	p.own, p.rests, p.began, p.head = true, false, p.h.Now(), heard
}

// hold marks a hold, or its end with the cues that it made miss.
func (p *View) hold() {
	at, _, _ := p.Clock()
	if p.Marks.Hold(at) {
		p.write(p.entry(calls.Hold, at, nil))
		return
	}
	p.write(p.entry(calls.Release, at, nil))
	p.fell()
}

// miss marks the last cue missed.
func (p *View) miss() {
	at, _, _ := p.Clock()
	c := p.Board.ToMiss(at, &p.Marks)
	if c == nil {
		p.h.Warn("no cue of this song has been commanded yet")
		return
	}
	p.Marks.Miss(c)
	p.write(p.entry(calls.Missed, c.Command, c))
}

// takeBack takes the last mark back.
func (p *View) takeBack() {
	c := p.Board.ToTake(&p.Marks)
	if c == nil {
		p.h.Warn("nothing is marked missed")
		return
	}
	p.Marks.Take(c)
	p.write(p.entry(calls.Back, c.Command, c))
}

// entry is a line of the log.
func (p *View) entry(kind calls.Kind, at timeline.Time, c *calling.Cue) calls.Entry {
	ps := p.Board.Song
	e := calls.Entry{When: p.h.Now(), Kind: kind, Song: ps.Song.ID, Title: ps.Song.FullTitle(), At: ps.Label(at)}
	if ps.StartErr != nil || ps.Rate == timeline.RateUnset {
		e.At = at.Clock(1)
	}
	if !ps.Song.Beats.Empty() {
		e.Bar = p.Board.Place(at)
	}
	if c != nil {
		e.Cue, e.Name, e.Bar = c.ID, c.Name+", "+c.Where, c.Bar
		for _, o := range c.Loads {
			e.Loads = append(e.Loads, o.String())
		}
	}
	return e
}

// write adds a line to the log; what cannot be written is said, and stays in view.
func (p *View) write(e calls.Entry) {
	p.said = ""
	if err := p.h.AddCall(e); err != nil {
		p.said = err.Error() + "; the mark is in view here until the song ends, and nowhere else"
	}
}
