package inspector

import (
	"emberbeat/timeline"
	"emberbeat/timeline/given"
)

// before is the plan of a song as it was before what is tried now, such as where cues are dragged to.
type before struct {
	show *timeline.Show
	song timeline.ID
	plan *timeline.SongPlan
}

// planBefore gives the plan of a song without what is tried; nil while nothing is.
func (p *Inspector) planBefore(song timeline.ID) *timeline.SongPlan {
	w := p.h.Work()
	if w.Tried == nil {
		p.before = before{}
		return nil
	}
	if show := w.Session.Show(); p.before.show != show || p.before.song != song {
		p.before = before{show: show, song: song}
		if plan := w.Session.SongPlanOf(show, song, w.Plan.Night); plan != nil && len(plan.Songs) > 0 {
			p.before.plan = plan.Songs[0].SongPlan
		}
	}
	return p.before.plan
}

// was is a cue before what is tried now.
type was struct {
	plan *timeline.SongPlan
	cue  *timeline.Cue
	use  given.Use
}

// wasOf gives the cue of an id as it was, nil while nothing is tried, and where it was not there.
func (p *Inspector) wasOf(song, id timeline.ID) *was {
	plan := p.planBefore(song)
	if plan == nil {
		return nil
	}
	if cue := plan.Song.Cue(id); cue != nil {
		return &was{plan, cue, given.UseOf(plan, cue)}
	}
	return nil
}

// beside gives what stands beside a value: what it was where that is another, else what is said of it otherwise.
func (w *was) beside(value, otherwise string, of func(*was) string) string {
	if w == nil {
		return otherwise
	}
	if old := of(w); old != "" && old != value {
		return "was " + old
	}
	return otherwise
}

func (w *was) at() string { return w.cue.At.Beside(w.plan.Song.Beats) }

func (w *was) timecode() string {
	hit, ok := w.cue.At.In(w.plan.Song.Beats)
	if !ok || w.plan.Rate == timeline.RateUnset || w.plan.StartErr != nil {
		return ""
	}
	return w.plan.Label(hit)
}

func (w *was) command() string {
	if w.use.First == nil {
		return ""
	}
	return w.plan.Rate.Label(w.use.First.Frame)
}

// sinceLast and untilNext say how far the uses before and after on the same unit are.
func (w *was) sinceLast() string { return sinceLast(&w.use) }
func (w *was) untilNext() string { return untilNext(&w.use) }

func sinceLast(use *given.Use) string {
	if use.First == nil || use.Last == nil {
		return ""
	}
	return seconds(use.First.Hit-use.Last.Hit) + " before"
}

func untilNext(use *given.Use) string {
	if use.First == nil || use.Next == nil {
		return ""
	}
	return seconds(use.Next.Hit-use.First.Hit) + " after"
}

// joinedWas adds what a value was to it, where that is another.
func joinedWas(value, was string) string {
	if was == "" {
		return value
	}
	return value + ", " + was
}
