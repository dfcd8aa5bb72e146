package app

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"emberbeat/render"
	"emberbeat/timeline"
)

func (a *App) stepFrame(n int64) {
	p := a.work.Data.Plan
	if p.Rate == timeline.RateUnset {
		a.seek(a.heard() + timeline.Time(n)*timeline.Second/25)
		return
	}
	a.seek(p.TimeOf(p.FrameAt(a.heard()) + n))
	a.show()
}

// show brings the playhead into view: the user has jumped.
func (a *App) show() {
	v := a.work.View()
	v.Reveal(a.work.Data.Whole(), v.Playhead)
}

func (a *App) grid() grid { return grids[min(a.prefs.Grid, len(grids)-1)] }

// step gives the grid's step in beats at a bar; a bar is as long as its metre.
func (a *App) step(bar int) timeline.Rat {
	if g := a.grid(); !g.step.IsZero() {
		return g.step
	}
	return timeline.NewRat(int64(a.work.InView().Beats.MetreAt(bar).Num), 1)
}

func (a *App) stepBeat(n int64) {
	beats := a.work.InView().Beats
	if beats.Empty() {
		a.seek(a.heard() + timeline.Time(n)*timeline.Second)
		a.show()
		return
	}
	at := a.heard()
	here := beats.Snap(at, a.grid().step)
	if d := beats.At(here) - at; d*timeline.Time(n) <= 0 || apart(d, 0) < timeline.EntryStep {
		here = stepped(beats, here, a.step(here.Bar).Mul(timeline.NewRat(n, 1)))
	}
	a.seek(beats.At(here))
	a.show()
}

// stepMark goes to the next marker, section or end of the song.
func (a *App) stepMark(n int) {
	song, at := a.work.InView(), a.heard()
	best, found := timeline.Time(0), false
	consider := func(t timeline.Time) {
		if n > 0 && t > at+timeline.Millisecond && (!found || t < best) || n < 0 && t < at-timeline.Millisecond && (!found || t > best) {
			best, found = t, true
		}
	}
	consider(0)
	consider(song.Duration())
	for _, m := range song.Markers {
		if t, ok := m.At.In(song.Beats); ok {
			consider(t)
		}
	}
	for _, c := range song.Sections {
		if t, ok := c.At.In(song.Beats); ok {
			consider(t)
		}
	}
	if found {
		a.seek(best)
		a.show()
	}
}

func (a *App) goEnd(end bool) {
	at := timeline.Time(0)
	if end {
		at = a.work.Data.Length()
	}
	a.seek(at)
	a.show()
}

func (a *App) page(n int) {
	v, whole := a.work.View(), a.work.Data.Whole()
	now := v.Shown(whole)
	v.Pan(whole, timeline.Time(n)*(now.To-now.From)*9/10)
	a.loose = true
}

func (a *App) stepSong(n int) {
	songs := a.work.Setlist()
	for i, s := range songs {
		if s.ID == a.work.Song {
			a.goSong(songs[min(max(i+n, 0), len(songs)-1)].ID)
			return
		}
	}
}

// goSong brings a song into view.
func (a *App) goSong(id timeline.ID) {
	if a.work.Song == id {
		return
	}
	a.player.Stop(a.now)
	a.work.Song = id
	a.work.Refresh()
	a.work.Mark()
	a.loadSounds()
	a.again = true
	a.say("song %s", id)
}

func (a *App) focusLane(n int) {
	w := a.work
	if len(w.Data.Lanes) == 0 {
		return
	}
	i := min(max(w.LaneAt(w.View().Focus)+n, 0), len(w.Data.Lanes)-1)
	if l := w.Data.Lanes[i].Lane; l != nil {
		w.View().Focus = l.ID
	}
	a.revealLane(i)
}

// stepCue selects the cue before or after the playhead or the selected one, in the lane in focus or over all.
func (a *App) stepCue(n int, all bool) {
	w, v := a.work, a.work.View()
	from, lane := a.heard(), v.Focus
	id, one := v.One()
	var best *render.CueData
	bestLane := -1
	if one {
		for i := range w.Data.Lanes {
			for k := range w.Data.Lanes[i].Cues {
				if c := &w.Data.Lanes[i].Cues[k]; c.Cue.ID == id {
					from = c.Hit
				}
			}
		}
	}
	for i := range w.Data.Lanes {
		l := &w.Data.Lanes[i]
		if !all && (l.Lane == nil || l.Lane.ID != lane) {
			continue
		}
		for k := range l.Cues {
			c := &l.Cues[k]
			if one && c.Cue.ID == id || !beyond(c, id, from, n, one) {
				continue
			}
			if best == nil || n > 0 && before(c, best) || n < 0 && before(best, c) {
				best, bestLane = c, i
			}
		}
	}
	if best == nil {
		return
	}
	v.Choose(best.Cue.ID)
	if l := w.Data.Lanes[bestLane].Lane; l != nil {
		v.Focus = l.ID
	}
	v.Reveal(w.Data.Whole(), best.Hit)
	a.revealLane(bestLane)
	if !a.player.Playing() {
		v.Playhead = best.Hit
	}
}

// beyond reports whether a cue lies past a time in a direction. Cues at one time follow each other by id.
func beyond(c *render.CueData, id timeline.ID, from timeline.Time, n int, one bool) bool {
	if c.Hit == from && one {
		return n > 0 && c.Cue.ID > id || n < 0 && c.Cue.ID < id
	}
	return n > 0 && (c.Hit > from || c.Hit == from && !one) || n < 0 && c.Hit < from
}

func before(a, b *render.CueData) bool {
	return a.Hit < b.Hit || a.Hit == b.Hit && a.Cue.ID < b.Cue.ID
}

// goTo moves the playhead to what the user typed: a bar, a time, a timecode, a distance or a name.
func (a *App) goTo(text string) error {
	text = strings.TrimSpace(text)
	song := a.work.InView()
	if t, ok, err := a.distance(text); ok {
		if err != nil {
			return err
		}
		a.seek(t)
		a.show()
		return nil
	}
	if p, err := timeline.ParsePosition(text); err == nil {
		m, err := a.work.Show.MomentAt(&song.SongHead, p)
		if err != nil {
			return err
		}
		t, ok := m.In(song.Beats)
		if !ok {
			return errors.New("the song has no beat map; give a time such as 1:42.5")
		}
		a.seek(t)
		a.show()
		return nil
	}
	if t, ok := named(song, text); ok {
		a.seek(t)
		a.show()
		return nil
	}
	if s, err := a.work.Plan.FindSong(text); err == nil {
		a.goSong(s.ID)
		return nil
	}
	return fmt.Errorf("%q is neither a place nor a name here; give a bar 41.2, a time 1:42.5, a timecode 03:01:22:10, +2 bars, or a section, marker or song", text)
}

// distance reads "+2 bars", "-1 beat", "+0.5s"; ok is false for anything else.
func (a *App) distance(text string) (at timeline.Time, ok bool, err error) {
	if len(text) < 2 || text[0] != '+' && text[0] != '-' {
		return 0, false, nil
	}
	stride, err := timeline.ParseStride(text[1:])
	if err != nil {
		return 0, strings.ContainsAny(text, "abcdefghijklmnopqrstuvwxyz"), err
	}
	sign := int64(1)
	if text[0] == '-' {
		sign = -1
	}
	now, beats := a.heard(), a.work.InView().Beats
	if stride.Time != 0 {
		return now + timeline.Time(sign)*stride.Time, true, nil
	}
	if beats.Empty() {
		return 0, true, errors.New("the song has no beat map; give a time such as +2s")
	}
	here := beats.Locate(now)
	here.Bar += int(sign) * stride.Bars
	return beats.At(stepped(beats, here, stride.Beats.Mul(timeline.NewRat(sign, 1)))), true, nil
}

// named finds a section or marker of a song by the beginning of its name.
func named(song *timeline.Song, text string) (timeline.Time, bool) {
	like := func(name string) bool {
		return name != "" && strings.HasPrefix(strings.ToLower(name), strings.ToLower(text))
	}
	for _, c := range song.Sections {
		if t, ok := c.At.In(song.Beats); ok && like(c.Name) {
			return t, true
		}
	}
	for _, m := range song.Markers {
		if t, ok := m.At.In(song.Beats); ok && like(m.Name) {
			return t, true
		}
	}
	return 0, false
}

// notch is how much a notch of the wheel or half a key zooms.
var notch = math.Pow(2, 0.25)

func (a *App) zoomKey(n int) {
	v, whole := a.work.View(), a.work.Data.Whole()
	now, at := v.Shown(whole), a.heard()
	if at < now.From || at >= now.To {
		at = (now.From + now.To) / 2
	}
	v.Zoom(whole, at, math.Pow(notch, float64(n)))
}

func (a *App) zoomSong() {
	v := a.work.View()
	v.Before, v.Span = v.Span, render.Span{}
}

func (a *App) zoomSelection() {
	v, whole := a.work.View(), a.work.Data.Whole()
	span, ok := a.selectedSpan()
	if !ok {
		span = v.Loop
	}
	if !ok && span.To <= span.From {
		a.tell("select cues or set a loop to zoom to")
		return
	}
	margin := max((span.To-span.From)/10, timeline.Second/2)
	v.Before = v.Shown(whole)
	v.Set(whole, span.From-margin, span.To-span.From+2*margin)
}

func (a *App) zoomBack() {
	v := a.work.View()
	v.Span, v.Before = v.Before, v.Span
}

func (a *App) toggleFollow() {
	a.follow = !a.follow || a.loose
	a.loose = false
}

func (a *App) toggleSnap() {
	a.prefs.Snap = !a.prefs.Snap
	a.prefs.Save()
}

func (a *App) stepGrid(n int) {
	a.prefs.Grid = min(max(min(a.prefs.Grid, len(grids)-1)+n, 0), len(grids)-1)
	a.prefs.Save()
}

// factors are the sizes of the interface in percent.
var factors = []int{80, 90, 100, 110, 125, 150, 175, 200, 225, 250}

func (a *App) resize(n int) {
	at := 0
	for i, f := range factors {
		if f <= a.prefs.Factor {
			at = i
		}
	}
	a.prefs.Factor = factors[min(max(at+n, 0), len(factors)-1)]
	a.prefs.Save()
	a.say("factor %d", a.prefs.Factor)
}

func (a *App) stepTheme() {
	a.prefs.Theme = (a.prefs.Theme + 1) % len(themes)
	a.prefs.Save()
	a.say("theme %s", a.Theme().Name)
}

func (a *App) toggleFull() {
	a.full = !a.full
	a.say("full screen %v", a.full)
}

// panelTaken is for keys that the controls themselves take; as commands they stand in menus and help.
func (a *App) panelTaken() {}
