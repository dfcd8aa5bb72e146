package app

import (
	"math"

	"emberbeat/render"
	"emberbeat/timeline"
)

// view is how one song is looked at and what is chosen in it. It is no part of the show.
type view struct {
	span     render.Span // empty = the whole song
	before   render.Span // of the last zoom to a selection, to go back to
	scroll   int         // device pixels
	playhead timeline.Time
	loop     render.Span
	looping  bool
	selected map[timeline.ID]bool
	anchor   timeline.ID // of a range being selected
	focus    timeline.ID // lane
	serial   int         // counts changes of the selection
}

func newView() *view { return &view{selected: map[timeline.ID]bool{}} }

// closest is the shortest stretch of time that fills a screen.
const closest = 200 * timeline.Millisecond

// shown gives the stretch in view, which is never empty.
func (v *view) shown(whole render.Span) render.Span {
	if v.span.To > v.span.From {
		return v.span
	}
	return whole
}

// zoom makes the stretch in view factor times as long, with the time at held where it is on screen.
func (v *view) zoom(whole render.Span, held timeline.Time, factor float64) {
	now := v.shown(whole)
	length := float64(now.To - now.From)
	next := min(max(length*factor, float64(closest)), 1.2*float64(whole.To-whole.From))
	from := held - timeline.Time(math.Round(float64(held-now.From)*next/length))
	v.set(whole, from, timeline.Time(next))
}

// set shows a stretch, kept so near to the song that some of it is seen.
func (v *view) set(whole render.Span, from, length timeline.Time) {
	lo, hi := whole.From-length/2, whole.To-length/2
	if length >= whole.To-whole.From {
		lo, hi = whole.From-length/8, whole.From
	}
	from = min(max(from, lo), hi)
	v.span = render.Span{From: from, To: from + length}
}

// pan moves the stretch in view.
func (v *view) pan(whole render.Span, by timeline.Time) {
	now := v.shown(whole)
	v.set(whole, now.From+by, now.To-now.From)
}

// reveal moves the stretch so that a time is in it, a quarter in from the edge it would come from, and leaves it where it is already.
func (v *view) reveal(whole render.Span, at timeline.Time) {
	now := v.shown(whole)
	if at >= now.From && at < now.To {
		return
	}
	length := now.To - now.From
	v.set(whole, at-length/4, length)
}

// one gives the selected cue when there is exactly one.
func (v *view) one() (timeline.ID, bool) {
	if len(v.selected) != 1 {
		return "", false
	}
	for id := range v.selected {
		return id, true
	}
	return "", false
}

// choose selects cues and nothing else.
func (v *view) choose(ids ...timeline.ID) {
	v.selected = make(map[timeline.ID]bool, len(ids))
	v.serial++
	for _, id := range ids {
		v.selected[id] = true
	}
	if len(ids) > 0 {
		v.anchor = ids[len(ids)-1]
	}
}

// toggle adds a cue to the selection, or takes it out.
func (v *view) toggle(id timeline.ID) {
	next := make(map[timeline.ID]bool, len(v.selected)+1)
	for k := range v.selected {
		next[k] = true
	}
	if next[id] {
		delete(next, id)
	} else {
		next[id] = true
		v.anchor = id
	}
	v.selected = next
	v.serial++
}
