package song

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"

	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/together"
)

func (sp *Page) needClip() string {
	if why := sp.NeedSongEdit(); why != "" {
		return why
	}
	if sp.clip == nil {
		return "copy cues first"
	}
	return ""
}

// made makes a change unless it could not be built.
func (sp *Page) made(c change, err error) bool {
	if err != nil {
		sp.h.Fail(err)
		return false
	}
	return sp.do(c)
}

func (sp *Page) copyCues() {
	sp.clip = newClip(sp.work().InView(), sp.work().Selected())
	text := ""
	for _, c := range sp.clip.cues {
		text += c.At.String() + "\n"
	}
	sp.h.UI().Clip.Write(text)
	sp.tell("copied %s", timeline.Counted(len(sp.clip.cues), "cue"))
	sp.h.Log("copied %d", len(sp.clip.cues))
}

func (sp *Page) cutCues() {
	sp.copyCues()
	c, err := removeCues(sp.work().InView(), sp.work().Selected())
	c.label = "cut " + timeline.Counted(len(sp.clip.cues), "cue")
	sp.made(c, err)
}

func (sp *Page) pasteCues() { sp.pasteAt(sp.snapped(sp.Heard())) }

func (sp *Page) pasteSame() {
	at := sp.clip.first
	if song := sp.work().InView(); !song.Beats.Empty() && !sp.clip.song.Beats.Empty() {
		at = song.Beats.At(sp.clip.song.Beats.Locate(sp.clip.first))
	}
	if n := len(sp.clip.doubled(sp.work().InView(), at)); n > 0 {
		sp.open(&doubleDialog{at, n})
		return
	}
	sp.pasteAt(at)
}

// doubleDialog asks before cues are pasted onto the very places where such cues stand.
type doubleDialog struct {
	at timeline.Time
	n  int
}

func (d *doubleDialog) draw(sp *Page) bool {
	all := len(sp.clip.cues)
	q := widget.Question{Title: "Such cues stand there already",
		Text:    timeline.Counted(d.n, "cue") + " of the " + strconv.Itoa(all) + " copied would double one of the same lane at the same place.",
		Choices: []widget.Choice{{Label: "Paste all the same"}, {Label: "Cancel"}, {Label: "Paste the others", Main: true}}}
	if d.n == all {
		q.Choices = []widget.Choice{{Label: "Paste all the same"}, {Label: "Cancel", Main: true}}
	}
	choice, ok := sp.h.UI().Ask("double", q)
	switch {
	case !ok:
		return false
	case choice == 0:
		sp.pasteAt(d.at)
	case choice == 2:
		whole := sp.clip
		there := whole.doubled(sp.work().InView(), d.at)
		rest := *whole
		rest.cues = slices.DeleteFunc(slices.Clone(whole.cues), func(q *timeline.Cue) bool { return there[q.ID] })
		sp.clip = &rest
		sp.pasteAt(d.at)
		sp.clip = whole
	}
	return true
}

func (sp *Page) pasteAt(at timeline.Time) {
	c, ids, err := sp.clip.paste(sp.work().InView(), at, sp.work().NewIDs())
	if sp.made(c, err) {
		sp.work().View().Choose(ids...)
	}
}

func (sp *Page) duplicate() {
	song := sp.work().InView()
	from := newClip(song, sp.work().Selected())
	c, ids, err := from.paste(song, from.after(), sp.work().NewIDs())
	c.label = "duplicate " + timeline.Counted(len(ids), "cue")
	if sp.made(c, err) {
		sp.work().View().Choose(ids...)
	}
}

func (sp *Page) deleteCues() {
	c, err := removeCues(sp.work().InView(), sp.work().Selected())
	sp.made(c, err)
}

func (sp *Page) selectAll() {
	w, v := sp.work(), sp.work().View()
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

func (sp *Page) selectSide(on bool) {
	at := sp.Heard()
	var ids []timeline.ID
	for i := range sp.work().Data.Lanes {
		for _, c := range sp.work().Data.Lanes[i].Cues {
			if c.Hit >= at == on {
				ids = append(ids, c.Cue.ID)
			}
		}
	}
	sp.work().View().Choose(ids...)
}

// snapped draws a time to what is near, where snapping is on.
func (sp *Page) snapped(at timeline.Time) timeline.Time { return sp.catch(at, nil, false).at }

// catch draws a time to what is within reach on screen. Inverted turns snapping off where it is on, and on where it is off.
func (sp *Page) catch(at timeline.Time, without map[timeline.ID]bool, inverted bool) caught {
	if sp.h.Prefs().Snap == inverted {
		return caught{at: at.RoundTo(timeline.EntryStep)}
	}
	v := sp.work().View()
	s := newSnapping(sp.programmed(), sp.grid().step, v.Playhead, without)
	return s.near(at, sp.reach(snapReach))
}

// snapReach is how near in logical pixels something draws what is moved.
const snapReach = 8

// reach gives how much time so many logical pixels are.
func (sp *Page) reach(px int) timeline.Time {
	return sp.drawn.TimeAt(sp.drawn.Left+sp.h.UI().Px(px)) - sp.drawn.TimeAt(sp.drawn.Left)
}

// onBeat reports whether new cues stand on beats: once somebody has confirmed the beat map.
// programmed gives the song in view as it is played, of the session's show: what a version shares is among it, and an edit of that is
// refused with where to change it.
func (sp *Page) programmed() *timeline.Song {
	show := sp.work().Session.Show()
	return show.Programmed(show.Song(sp.work().Song))
}

func onBeat(song *timeline.Song) bool { return song.Confirmed && !song.Beats.Empty() }

// placeOn puts a cue on a lane.
func (sp *Page) placeOn(lane timeline.ID, c caught) bool {
	song := sp.programmed()
	l := song.Lane(lane)
	if l == nil {
		sp.h.Fail(errors.New("the lane is gone; choose another with ↑ and ↓"))
		return false
	}
	if l.Locked {
		sp.h.Fail(fmt.Errorf("the lane %s is locked: unlock it with %s", page.LaneName(sp.work().Show, l), sp.h.Key("lock-lane")))
		return false
	}
	cue := &timeline.Cue{Base: timeline.Base{ID: sp.work().NewIDs()("cue", song.ID)}, Lane: lane, At: c.moment(song.Beats, onBeat(song))}
	for _, other := range song.Cues {
		if other.Lane == lane && other.At == cue.At {
			sp.h.Fail(fmt.Errorf("the lane %s already has a cue at %s", page.LaneName(sp.work().Show, l), cue.At))
			return false
		}
	}
	if !sp.do(change{"place a cue at " + cue.At.String(), []timeline.Edit{putCues(song.ID, []*timeline.Cue{cue})}}) {
		return false
	}
	sp.work().View().Choose(cue.ID)
	sp.h.Log("placed lane=%s at=%s", lane, cue.At)
	return true
}

func (sp *Page) placeHere() { sp.placeOn(sp.work().View().Focus, sp.catch(sp.Heard(), nil, false)) }

// tap places at what was heard when the user meant to tap: nothing is snapped, the output delay is taken off already, and while the song
// plays so is the user's own lead.
func (sp *Page) tap() { sp.tapLane(cmp.Or(sp.work().View().Armed, sp.work().View().Focus)) }

func (sp *Page) tapLane(lane timeline.ID) {
	sp.placeOn(lane, caught{at: sp.meant().RoundTo(timeline.EntryStep)})
}

// tapInto gives what taps into a lane, counted from 1.
func (sp *Page) tapInto(n int) func() {
	return func() {
		lanes := sp.work().Data.Lanes
		if n > len(lanes) || lanes[n-1].Lane == nil {
			sp.tell("the song has %s", timeline.Counted(len(lanes), "lane"))
			return
		}
		sp.tapLane(lanes[n-1].Lane.ID)
	}
}

// nudge moves the selected cues by frames. What stands on beats goes on doing so.
func (sp *Page) nudge(n int64) {
	step := timeline.Second / 25
	if r := sp.work().Plan.Rate; r != timeline.RateUnset {
		step = r.FrameTicks()
	}
	c, err := moveCues(sp.work().InView(), sp.work().Selected(), timeline.Time(n)*step, nil, nil)
	if err != nil {
		sp.h.Fail(err)
		return
	}
	sp.doAs("nudge", c)
}

func (sp *Page) nudgeBeat(n int64) {
	song := sp.work().InView()
	by := sp.grid().step
	if by.IsZero() {
		by = timeline.NewRat(int64(song.Beats.MetreAt(1).Num), 1)
	}
	c, err := moveByBeat(song, sp.work().Selected(), by.Mul(timeline.NewRat(n, 1)))
	if err != nil {
		sp.h.Fail(err)
		return
	}
	sp.doAs("nudge-beat", c)
}

// shiftLane moves the selected cues to the next lane in a direction, if there is one for all of them.
func (sp *Page) shiftLane(n int) {
	w := sp.work()
	lanes, err := lanesShifted(w, w.Selected(), n)
	if err != nil {
		sp.h.Fail(err)
		return
	}
	c, err := moveCues(w.InView(), w.Selected(), 0, lanes, nil)
	sp.made(c, err)
}

// lanesShifted says which lane takes the place of each when cues move n lanes down.
func lanesShifted(w *openshow.Work, cues []*timeline.Cue, n int) (map[timeline.ID]timeline.ID, error) {
	lanes := map[timeline.ID]timeline.ID{}
	for _, c := range cues {
		i := w.LaneAt(c.Lane)
		if i < 0 || i+n < 0 || i+n >= len(w.Data.Lanes) || w.Data.Lanes[i+n].Lane == nil {
			return nil, errors.New("there is no lane there for all of the selected cues")
		}
		to := w.Data.Lanes[i+n].Lane
		if from := w.Data.Lanes[i].Lane; from.Window() != to.Window() {
			return nil, fmt.Errorf("%s holds hits and %s windows: cues cannot go from one to the other", page.LaneName(w.Show, from), page.LaneName(w.Show, to))
		}
		lanes[c.Lane] = to.ID
	}
	return lanes, nil
}

func (sp *Page) quantiseCues() {
	cues := withoutWindows(sp.work().InView(), sp.work().Selected())
	c, err := quantise(sp.work().InView(), cues, sp.grid().step)
	sp.made(c, err)
}

func (sp *Page) group(on bool) {
	id := timeline.ID("")
	if on {
		id = sp.work().NewIDs()("cue", sp.work().Song)
	}
	sp.do(groupCues(sp.work().InView(), sp.work().Selected(), id))
}

func (sp *Page) flip(flag func(*timeline.Cue) *bool, on, off string) {
	sp.do(flip(sp.work().InView(), sp.work().Selected(), flag, on, off))
}

func (sp *Page) lockLane() {
	song := sp.work().InView()
	l := *song.Lane(sp.work().View().Focus)
	l.Locked = !l.Locked
	word := "lock"
	if !l.Locked {
		word = "unlock"
	}
	sp.do(change{word + " lane " + page.LaneName(sp.work().Show, &l), []timeline.Edit{putLanes(song.ID, []*timeline.Lane{&l})}})
}

func (sp *Page) addMarker() {
	song := sp.work().InView()
	at := sp.catch(sp.Heard(), nil, false).moment(song.Beats, onBeat(song))
	m := &timeline.Marker{Base: timeline.Base{ID: sp.work().NewIDs()("marker", song.ID)}, Name: fmt.Sprintf("Marker %d", len(song.Markers)+1), At: at}
	if sp.do(change{"add marker", []timeline.Edit{page.Put(song.ID, m)}}) {
		sp.h.Beside(timeline.Ref{Kind: "marker", Song: song.ID, ID: m.ID})
	}
}

func (sp *Page) addSection() {
	song, v := sp.work().InView(), sp.work().View()
	span, ok := v.Loop, v.Loop.To > v.Loop.From
	if !ok {
		span, ok = sp.selectedSpan()
	}
	if !ok {
		sp.tell("set a loop with %s and %s, or select cues, to say where the section is", sp.h.Key("loop-start"), sp.h.Key("loop-end"))
		return
	}
	from, to := sp.catch(span.From, nil, false), sp.catch(span.To, nil, false)
	c := &timeline.Section{Base: timeline.Base{ID: sp.work().NewIDs()("section", song.ID)}, Name: fmt.Sprintf("Section %d", len(song.Sections)+1),
		At: from.moment(song.Beats, onBeat(song)), To: to.moment(song.Beats, onBeat(song))}
	if sp.do(change{"add section", []timeline.Edit{page.Put(song.ID, c)}}) {
		sp.h.Beside(timeline.Ref{Kind: "section", Song: song.ID, ID: c.ID})
	}
}

func (sp *Page) needLoopEdit() string {
	if why := sp.NeedSongEdit(); why != "" {
		return why
	}
	if v := sp.work().View(); v.Loop.To <= v.Loop.From {
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
			d.At = together.Shifted(q.At, from-to, song.Beats)
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
