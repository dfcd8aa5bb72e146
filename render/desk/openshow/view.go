package openshow

import (
	"math"

	"emberbeat/render"
	"emberbeat/timeline"
)

// View is how one song is looked at and what is chosen in it. It is no part of the show.
type View struct {
	Span     render.Span // empty = the whole song
	Before   render.Span // of the last zoom to a selection, to go back to
	Scroll   int         // device pixels
	Playhead timeline.Time
	Loop     render.Span
	Looping  bool
	Selected map[timeline.ID]bool
	Anchor   timeline.ID // of a range being selected
	Focus    timeline.ID // lane
	Armed    timeline.ID // lane that taps go to; "" = the one in focus
	Gain     int         // dB by which the waveform is drawn larger
	Serial   int         // counts changes of the selection
}

func newView() *View { return &View{Selected: map[timeline.ID]bool{}} }

// closest is the shortest stretch of time that fills a screen.
const closest = 200 * timeline.Millisecond

// Shown gives the stretch in view, which is never empty.
func (v *View) Shown(whole render.Span) render.Span {
	if v.Span.To > v.Span.From {
		return v.Span
	}
	return whole
}

// Zoom makes the stretch in view factor times as long, with the time at held where it is on screen.
func (v *View) Zoom(whole render.Span, held timeline.Time, factor float64) {
	now := v.Shown(whole)
	length := float64(now.To - now.From)
	next := min(max(length*factor, float64(closest)), 1.2*float64(whole.To-whole.From))
	from := held - timeline.Time(math.Round(float64(held-now.From)*next/length))
	v.Set(whole, from, timeline.Time(next))
}

// Set shows a stretch, kept so near to the song that some of it is seen.
func (v *View) Set(whole render.Span, from, length timeline.Time) {
	lo, hi := whole.From-length/2, whole.To-length/2
	if length >= whole.To-whole.From {
		lo, hi = whole.From-length/8, whole.From
	}
	from = min(max(from, lo), hi)
	v.Span = render.Span{From: from, To: from + length}
}

// Pan moves the stretch in view.
func (v *View) Pan(whole render.Span, by timeline.Time) {
	now := v.Shown(whole)
	v.Set(whole, now.From+by, now.To-now.From)
}

// Reveal moves the stretch so that a time is in it, a quarter in from the edge it would come from, and leaves it where it is already.
func (v *View) Reveal(whole render.Span, at timeline.Time) {
	now := v.Shown(whole)
	if at >= now.From && at < now.To {
		return
	}
	length := now.To - now.From
	v.Set(whole, at-length/4, length)
}

// One gives the selected cue when there is exactly one.
func (v *View) One() (timeline.ID, bool) {
	if len(v.Selected) != 1 {
		return "", false
	}
	for id := range v.Selected {
		return id, true
	}
	return "", false
}

// Choose selects cues and nothing else.
func (v *View) Choose(ids ...timeline.ID) {
	v.Selected = make(map[timeline.ID]bool, len(ids))
	v.Serial++
	for _, id := range ids {
		v.Selected[id] = true
	}
	if len(ids) > 0 {
		v.Anchor = ids[len(ids)-1]
	}
}

// Toggle adds a cue to the selection, or takes it out.
func (v *View) Toggle(id timeline.ID) {
	next := make(map[timeline.ID]bool, len(v.Selected)+1)
	for k := range v.Selected {
		next[k] = true
	}
	if next[id] {
		delete(next, id)
	} else {
		next[id] = true
		v.Anchor = id
	}
	v.Selected = next
	v.Serial++
}
