package song

import (
	"slices"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/song/beats"
	"emberbeat/timeline"
	"emberbeat/timeline/grid"
	"emberbeat/timeline/operation"
)

// ofStrip is what the beat strip knows of the page.
type ofStrip struct {
	Host
	sp *Page
}

func (o ofStrip) Heard() timeline.Time { return o.sp.Heard() }
func (o ofStrip) Tune()                { o.sp.tune() }
func (o ofStrip) Snaps() bool          { return o.sp.h.Prefs().Snap }

func (o ofStrip) Tapped() timeline.Time { return o.sp.meant() }

func (o ofStrip) TimeAt(x int) timeline.Time { return o.sp.drawn.TimeAt(x) }
func (o ofStrip) Reach(px int) timeline.Time { return o.sp.reach(px) }

// Listen plays on with the click, from the playhead where nothing plays.
func (o ofStrip) Listen() {
	o.sp.click = true
	if o.sp.player.Playing() {
		o.sp.tune()
		return
	}
	o.sp.playFrom(o.sp.work().View().Playhead)
}

// meant gives the song time that a user means who presses a key now: the output delay is taken off already, and while the song plays so is
// the user's own lead.
func (sp *Page) meant() timeline.Time {
	at := sp.Heard()
	if sp.player.Playing() {
		if sp.counting() {
			at = sp.player.Heard(sp.h.Now()) // a tap may come before the place that is counted in to
		}
		at = max(at-timeline.Time(sp.h.Prefs().LeadMS)*timeline.Millisecond, 0)
	}
	return at
}

// inStrip has the view show the beat strip while that is open.
func (sp *Page) inStrip(sv *render.SongView) {
	if sv.Beats = sp.beats.View(); sv.Beats == nil {
		return
	}
	if d := sp.beats.Data(); d != nil {
		sv.Data = d
	}
}

// pressStrip is the primary button going down on what only the beat strip has, or on what cannot be changed while something is tried there.
func (sp *Page) pressStrip(hit render.Hit) bool {
	switch n, _ := strconv.Atoi(hit.ID); hit.Kind {
	case render.HitReading:
		sp.beats.Take(n)
	case render.HitBarLine:
		sp.beats.Grab(n)
	case render.HitDoubt:
		if b := sp.beats.View(); b != nil && n < len(b.Doubts) {
			sp.Seek(b.Doubts[n].From)
			sp.Reveal()
		}
	case render.HitCue, render.HitCueEnd, render.HitLane:
		if !sp.beats.Trying() {
			return false
		}
		sp.tell("beats are being tried: keep them or leave them first")
	default:
		return false
	}
	sp.h.Again()
	return true
}

// BeatCommands put the grid of the song in view right. They open the beat strip, in which nothing is done until it is kept.
func (sp *Page) BeatCommands() []page.Command {
	tries := func(name string, keys []string, c func() grid.Correction) page.Command {
		return page.Does(operation.Find("grid", name), page.Command{Group: "Cue", Keys: keys, Off: sp.NeedSongEdit, Run: func() { sp.beats.Try(c()) }})
	}
	kind := func(k grid.Kind) func() grid.Correction {
		return func() grid.Correction { return grid.Correction{Kind: k} }
	}
	shift := func(n, d int64) func() {
		return func() {
			pulse := int64(max(sp.beats.Beats().MetreAt(1).Pulse(), 1))
			sp.beats.Try(grid.Correction{Kind: grid.Shift, Beats: timeline.NewRat(n*pulse, d)})
		}
	}
	asks := func(name string, given func() map[string]string) page.Command {
		o := operation.Find("grid", name)
		return page.Does(o, page.Command{Group: "Cue", Off: sp.NeedSongEdit, Run: func() {
			sp.h.AskFor(o, timeline.Ref{Kind: "song", ID: sp.work().Song}, page.Form{Given: given()})
		}})
	}
	here := func() map[string]string { return map[string]string{"at": timeline.AtTime(sp.Heard()).String()} }
	none := func() map[string]string { return nil }
	return []page.Command{
		{ID: "beat-strip", Name: "Beat strip", Help: "puts the beats of the song right: other readings, tempo, bars, metre; nothing is done until it is kept", Group: "Cue", Keys: []string{"B"}, Off: sp.NeedSong, Run: sp.beats.Toggle},
		tries("double", []string{"X"}, kind(grid.Double)),
		tries("half", []string{"Shift+X"}, kind(grid.Half)),
		tries("three-two", nil, kind(grid.ThreeTwo)),
		tries("two-three", nil, kind(grid.TwoThree)),
		{ID: "grid-beat-back", Name: "Beats a beat earlier", Help: "tries the grid a beat earlier; cues on beats go with it", Group: "Cue", Keys: []string{"Alt+["}, Off: sp.NeedSongEdit, Run: shift(-1, 1)},
		{ID: "grid-beat-on", Name: "Beats a beat later", Help: "tries the grid a beat later; cues on beats go with it", Group: "Cue", Keys: []string{"Alt+]"}, Off: sp.NeedSongEdit, Run: shift(1, 1)},
		{ID: "grid-half-beat", Name: "Beats half a beat later", Help: "tries the grid half a beat later; cues on beats go with it", Group: "Cue", Keys: []string{`Alt+\`}, Off: sp.NeedSongEdit, Run: shift(1, 2)},
		asks("shift", none),
		tries("bar-one", []string{"Alt+1"}, func() grid.Correction { return grid.Correction{Kind: grid.BarOne, At: sp.meant()} }),
		asks("tempo", none),
		page.Does(operation.Find("grid", "tap"), page.Command{Group: "Cue", Keys: []string{"J"}, Off: sp.NeedSongEdit, Run: sp.beats.Tap}),
		asks("line", here),
		tries("split", []string{"Alt+S"}, func() grid.Correction { return grid.Correction{Kind: grid.Split, At: sp.meant()} }),
		asks("metre", none),
		page.Does(operation.Find("grid", "listen"), page.Command{Group: "Cue", Off: sp.NeedSongEdit, Run: sp.beats.Listen}),
		asks("lock", none),
		page.Does(operation.Find("grid", "confirm"), page.Command{Group: "Cue", Off: sp.NeedSongEdit, Run: sp.confirmBeats}),
	}
}

// confirmBeats says that the beats are right: with what is tried, or as they stand.
func (sp *Page) confirmBeats() {
	if sp.beats.Trying() {
		sp.beats.Keep(true)
		return
	}
	sp.h.Carry(operation.Find("grid", "confirm"), timeline.Ref{Kind: "song", ID: sp.work().Song}, &operation.Regrid{})
}

// Strip is the beat strip.
func (sp *Page) Strip() *beats.Strip { return sp.beats }

// StepDoubt goes to the stretch after or before the playhead in which the ear is not sure of the beats, round to the first or the last. It gives
// false where the beat strip is closed or has no such stretch: then keys for what is wrong go to findings.
func (sp *Page) StepDoubt(n int) bool {
	var list []render.BeatDoubt
	if b := sp.beats.View(); b != nil {
		list = b.Unsure()
	}
	if len(list) == 0 {
		return false
	}
	at, to := sp.Heard(), 0
	if n > 0 {
		to = slices.IndexFunc(list, func(d render.BeatDoubt) bool { return d.From > at })
	} else {
		to = len(list) - 1
		for to >= 0 && list[to].From >= at {
			to--
		}
	}
	if to < 0 && n < 0 {
		to = len(list) - 1
	}
	d := list[max(to, 0)]
	sp.Seek(d.From)
	sp.Reveal()
	sp.tell("beats in doubt, %d of %d: %s to %s. Hits fall between the beats there, or none are heard", max(to, 0)+1, len(list), d.From.Clock(1), d.To.Clock(1))
	return true
}
