package app

import (
	"errors"
	"fmt"

	"emberbeat/render/desk/work"
	"emberbeat/timeline"
)

func needUndo(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if undo, _ := a.work.Session.Labels(); len(undo) == 0 {
		return "nothing to undo"
	}
	return ""
}

func needRedo(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if _, redo := a.work.Session.Labels(); len(redo) == 0 {
		return "nothing to do again"
	}
	return ""
}

func (a *App) undo() {
	if label, ok := a.work.Session.Undo(); ok {
		a.tell("took back: %s", label)
		a.say("undid %s", label)
	}
}

func (a *App) redo() {
	if label, ok := a.work.Session.Redo(); ok {
		a.note, a.again = note{text: label, undo: true}, true
		a.say("redid %s", label)
	}
}

func needClip(a *App) string {
	if why := needSongEdit(a); why != "" {
		return why
	}
	if a.clip == nil {
		return "copy cues first"
	}
	return ""
}

// made makes a change unless it could not be built.
func (a *App) made(c change, err error) bool {
	if err != nil {
		a.fail(err)
		return false
	}
	return a.do(c)
}

func (a *App) copyCues() {
	a.clip = newClip(a.work.InView(), a.work.Selected())
	text := ""
	for _, c := range a.clip.cues {
		text += c.At.String() + "\n"
	}
	a.ui.Clip.Write(text)
	a.tell("copied %s", counted(len(a.clip.cues), "cue"))
	a.say("copied %d", len(a.clip.cues))
}

func (a *App) cutCues() {
	a.copyCues()
	c, err := removeCues(a.work.InView(), a.work.Selected())
	c.label = "cut " + counted(len(a.clip.cues), "cue")
	a.made(c, err)
}

func (a *App) pasteCues() { a.pasteAt(a.snapped(a.heard())) }

func (a *App) pasteSame() {
	at := a.clip.first
	if song := a.work.InView(); !song.Beats.Empty() && !a.clip.song.Beats.Empty() {
		at = song.Beats.At(a.clip.song.Beats.Locate(a.clip.first))
	}
	a.pasteAt(at)
}

func (a *App) pasteAt(at timeline.Time) {
	c, ids, err := a.clip.paste(a.work.InView(), at, a.work.NewIDs())
	if a.made(c, err) {
		a.work.View().Choose(ids...)
	}
}

func (a *App) duplicate() {
	song := a.work.InView()
	from := newClip(song, a.work.Selected())
	c, ids, err := from.paste(song, from.after(), a.work.NewIDs())
	c.label = "duplicate " + counted(len(ids), "cue")
	if a.made(c, err) {
		a.work.View().Choose(ids...)
	}
}

func (a *App) deleteCues() {
	c, err := removeCues(a.work.InView(), a.work.Selected())
	a.made(c, err)
}

func (a *App) selectAll() {
	w, v := a.work, a.work.View()
	var lane, song []timeline.ID
	for i := range w.Data.Lanes {
		for _, c := range w.Data.Lanes[i].Cues {
			song = append(song, c.Cue.ID)
			if c.Cue.Lane == v.Focus {
				lane = append(lane, c.Cue.ID)
			}
		}
	}
	all := len(lane) > 0
	for _, id := range lane {
		all = all && v.Selected[id]
	}
	if all || len(lane) == 0 || len(v.Selected) > len(lane) {
		lane = song
	}
	v.Choose(lane...)
}

func (a *App) selectSide(on bool) {
	at := a.heard()
	var ids []timeline.ID
	for i := range a.work.Data.Lanes {
		for _, c := range a.work.Data.Lanes[i].Cues {
			if c.Hit >= at == on {
				ids = append(ids, c.Cue.ID)
			}
		}
	}
	a.work.View().Choose(ids...)
}

// snapped draws a time to what is near, where snapping is on.
func (a *App) snapped(at timeline.Time) timeline.Time { return a.catch(at, nil, false).at }

// catch draws a time to what is within reach on screen. Inverted turns snapping off where it is on, and on where it is off.
func (a *App) catch(at timeline.Time, without map[timeline.ID]bool, inverted bool) caught {
	if a.prefs.Snap == inverted {
		return caught{at: at.RoundTo(timeline.EntryStep)}
	}
	v := a.work.View()
	s := newSnapping(a.work.Session.Show().Song(a.work.Song), a.grid().step, v.Playhead, without)
	return s.near(at, a.reach(snapReach))
}

// snapReach is how near in logical pixels something draws what is moved.
const snapReach = 8

// reach gives how much time so many logical pixels are.
func (a *App) reach(px int) timeline.Time {
	return a.song.TimeAt(a.song.Left+a.Scale().Px(px)) - a.song.TimeAt(a.song.Left)
}

// onBeat reports whether new cues stand on beats: once somebody has confirmed the beat map.
func onBeat(song *timeline.Song) bool { return song.Confirmed && !song.Beats.Empty() }

// placeOn puts a cue on a lane.
func (a *App) placeOn(lane timeline.ID, c caught) bool {
	song := a.work.Session.Show().Song(a.work.Song)
	l := song.Lane(lane)
	if l == nil {
		a.fail(errors.New("the lane is gone; choose another with ↑ and ↓"))
		return false
	}
	if l.Locked {
		a.fail(fmt.Errorf("the lane %s is locked: unlock it with %s", laneName(l), a.key("lock-lane")))
		return false
	}
	cue := &timeline.Cue{Base: timeline.Base{ID: a.work.NewIDs()("cue", song.ID)}, Lane: lane, At: c.moment(song.Beats, onBeat(song))}
	for _, other := range song.Cues {
		if other.Lane == lane && other.At == cue.At {
			a.fail(fmt.Errorf("the lane %s already has a cue at %s", laneName(l), cue.At))
			return false
		}
	}
	if !a.do(change{"place a cue at " + cue.At.String(), []timeline.Edit{putCues(song.ID, []*timeline.Cue{cue})}}) {
		return false
	}
	a.work.View().Choose(cue.ID)
	a.say("placed lane=%s at=%s", lane, cue.At)
	return true
}

func (a *App) placeHere() { a.placeOn(a.work.View().Focus, a.catch(a.heard(), nil, false)) }

// tap places at what was heard when the user meant to tap: nothing is snapped, the output delay is taken off already, and while the song
// plays so is the user's own lead.
func (a *App) tap() { a.tapLane(a.work.View().Focus) }

func (a *App) tapLane(lane timeline.ID) {
	at := a.heard()
	if a.player.Playing() {
		at = max(at-timeline.Time(a.prefs.LeadMS)*timeline.Millisecond, 0)
	}
	a.placeOn(lane, caught{at: at.RoundTo(timeline.EntryStep)})
}

func tapInto(n int) func(*App) {
	return func(a *App) {
		lanes := a.work.Data.Lanes
		if n > len(lanes) || lanes[n-1].Lane == nil {
			a.tell("the song has %s", counted(len(lanes), "lane"))
			return
		}
		a.tapLane(lanes[n-1].Lane.ID)
	}
}

// nudge moves the selected cues by frames. What stands on beats goes on doing so.
func (a *App) nudge(n int64) {
	step := timeline.Second / 25
	if r := a.work.Plan.Rate; r != timeline.RateUnset {
		step = r.FrameTicks()
	}
	c, err := moveCues(a.work.InView(), a.work.Selected(), timeline.Time(n)*step, nil, nil)
	if err != nil {
		a.fail(err)
		return
	}
	a.doAs("nudge", c)
}

func (a *App) nudgeBeat(n int64) {
	song := a.work.InView()
	by := a.grid().step
	if by.IsZero() {
		by = timeline.NewRat(int64(song.Beats.MetreAt(1).Num), 1)
	}
	c, err := moveByBeat(song, a.work.Selected(), by.Mul(timeline.NewRat(n, 1)))
	if err != nil {
		a.fail(err)
		return
	}
	a.doAs("nudge-beat", c)
}

// shiftLane moves the selected cues to the next lane in a direction, if there is one for all of them.
func (a *App) shiftLane(n int) {
	w := a.work
	lanes, err := lanesShifted(w, w.Selected(), n)
	if err != nil {
		a.fail(err)
		return
	}
	c, err := moveCues(w.InView(), w.Selected(), 0, lanes, nil)
	a.made(c, err)
}

// lanesShifted says which lane takes the place of each when cues move n lanes down.
func lanesShifted(w *work.Work, cues []*timeline.Cue, n int) (map[timeline.ID]timeline.ID, error) {
	lanes := map[timeline.ID]timeline.ID{}
	for _, c := range cues {
		i := w.LaneAt(c.Lane)
		if i < 0 || i+n < 0 || i+n >= len(w.Data.Lanes) || w.Data.Lanes[i+n].Lane == nil {
			return nil, errors.New("there is no lane there for all of the selected cues")
		}
		to := w.Data.Lanes[i+n].Lane
		if from := w.Data.Lanes[i].Lane; from.Window() != to.Window() {
			return nil, fmt.Errorf("%s holds hits and %s windows: cues cannot go from one to the other", laneName(from), laneName(to))
		}
		lanes[c.Lane] = to.ID
	}
	return lanes, nil
}

func (a *App) quantiseCues() {
	c, err := quantise(a.work.InView(), a.work.Selected(), a.grid().step)
	a.made(c, err)
}

func (a *App) group(on bool) {
	id := timeline.ID("")
	if on {
		id = a.work.NewIDs()("cue", a.work.Song)
	}
	a.do(groupCues(a.work.InView(), a.work.Selected(), id))
}

func (a *App) flip(flag func(*timeline.Cue) *bool, on, off string) {
	a.do(flip(a.work.InView(), a.work.Selected(), flag, on, off))
}

func (a *App) lockLane() {
	song := a.work.InView()
	l := *song.Lane(a.work.View().Focus)
	l.Locked = !l.Locked
	word := "lock"
	if !l.Locked {
		word = "unlock"
	}
	a.do(change{word + " lane " + laneName(&l), []timeline.Edit{putLanes(song.ID, []*timeline.Lane{&l})}})
}

// put gives the edit that stores a record of a song.
func put(song timeline.ID, r timeline.Record) []timeline.Edit {
	return []timeline.Edit{func(d *timeline.Draft) error {
		d.Put(song, r)
		return nil
	}}
}

func (a *App) addMarker() {
	song := a.work.InView()
	at := a.catch(a.heard(), nil, false).moment(song.Beats, onBeat(song))
	m := &timeline.Marker{Base: timeline.Base{ID: a.work.NewIDs()("marker", song.ID)}, Name: fmt.Sprintf("Marker %d", len(song.Markers)+1), At: at}
	if a.do(change{"add marker", put(song.ID, m)}) {
		a.inspect(timeline.Ref{Kind: "marker", Song: song.ID, ID: m.ID})
	}
}

func (a *App) addSection() {
	song, v := a.work.InView(), a.work.View()
	span, ok := v.Loop, v.Loop.To > v.Loop.From
	if !ok {
		span, ok = a.selectedSpan()
	}
	if !ok {
		a.tell("set a loop with %s and %s, or select cues, to say where the section is", a.key("loop-start"), a.key("loop-end"))
		return
	}
	from, to := a.catch(span.From, nil, false), a.catch(span.To, nil, false)
	c := &timeline.Section{Base: timeline.Base{ID: a.work.NewIDs()("section", song.ID)}, Name: fmt.Sprintf("Section %d", len(song.Sections)+1),
		At: from.moment(song.Beats, onBeat(song)), To: to.moment(song.Beats, onBeat(song))}
	if a.do(change{"add section", put(song.ID, c)}) {
		a.inspect(timeline.Ref{Kind: "section", Song: song.ID, ID: c.ID})
	}
}

func needLoopEdit(a *App) string {
	if why := needSongEdit(a); why != "" {
		return why
	}
	if v := a.work.View(); v.Loop.To <= v.Loop.From {
		return "set a loop first: its stretch is what is removed"
	}
	return ""
}

// timeRemoved gives the change that takes a stretch out of a song's plan: cues in it go, later ones come earlier.
func timeRemoved(song *timeline.Song, from, to timeline.Time) (c change, gone, moved int) {
	var rest []*timeline.Cue
	var remove []timeline.ID
	for _, q := range song.Cues {
		at, ok := q.At.In(song.Beats)
		switch {
		case !ok || at < from:
		case at < to:
			remove = append(remove, q.ID)
		default:
			d := *q
			d.At = shifted(q.At, from-to, song.Beats)
			rest = append(rest, &d)
		}
	}
	edit := func(d *timeline.Draft) error {
		for _, id := range remove {
			if err := d.Remove(timeline.Ref{Kind: "cue", Song: song.ID, ID: id}); err != nil {
				return err
			}
		}
		return nil
	}
	label := fmt.Sprintf("remove %s to %s", from.Clock(1), to.Clock(1))
	return change{label, []timeline.Edit{edit, putCues(song.ID, rest)}}, len(remove), len(rest)
}
