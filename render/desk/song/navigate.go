package song

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"emberbeat/render"
	"emberbeat/timeline"
	"emberbeat/timeline/together"
)

func (sp *Page) stepFrame(n int64) {
	p := sp.work().Data.Plan
	if p.Rate == timeline.RateUnset {
		sp.Seek(sp.Heard() + timeline.Time(n)*timeline.Second/25)
		return
	}
	sp.Seek(p.TimeOf(p.FrameAt(sp.Heard()) + n))
	sp.Reveal()
}

// Reveal brings the playhead into view: the user has jumped.
func (sp *Page) Reveal() {
	v := sp.work().View()
	v.Reveal(sp.work().Data.Whole(), v.Playhead)
}

func (sp *Page) grid() gridStep { return grids[min(sp.h.Prefs().Grid, len(grids)-1)] }

// step gives the grid's step in beats at a bar; a bar is as long as its metre.
func (sp *Page) step(bar int) timeline.Rat {
	if g := sp.grid(); !g.step.IsZero() {
		return g.step
	}
	return timeline.NewRat(int64(sp.work().InView().Beats.MetreAt(bar).Num), 1)
}

func (sp *Page) stepBeat(n int64) {
	beats := sp.work().InView().Beats
	if beats.Empty() {
		sp.Seek(sp.Heard() + timeline.Time(n)*timeline.Second)
		sp.Reveal()
		return
	}
	at := sp.Heard()
	here := beats.Snap(at, sp.grid().step)
	if d := beats.At(here) - at; d*timeline.Time(n) <= 0 || max(d, -d) < timeline.EntryStep {
		here = together.Stepped(beats, here, sp.step(here.Bar).Mul(timeline.NewRat(n, 1)))
	}
	sp.Seek(beats.At(here))
	sp.Reveal()
}

// stepMark goes to the next marker, section or end of the song.
func (sp *Page) stepMark(n int) {
	song, at := sp.work().InView(), sp.Heard()
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
		sp.Seek(best)
		sp.Reveal()
	}
}

func (sp *Page) goEnd(end bool) {
	at := timeline.Time(0)
	if end {
		at = sp.work().Data.Length()
	}
	sp.Seek(at)
	sp.Reveal()
}

func (sp *Page) page(n int) {
	v, whole := sp.work().View(), sp.work().Data.Whole()
	now := v.Shown(whole)
	v.Pan(whole, timeline.Time(n)*(now.To-now.From)*9/10)
	sp.loose = true
}

func (sp *Page) stepSong(n int) {
	songs := sp.work().Setlist()
	for i, s := range songs {
		if s.ID == sp.work().Song {
			sp.GoSong(songs[min(max(i+n, 0), len(songs)-1)].ID)
			return
		}
	}
}

// GoSong brings a song into view.
func (sp *Page) GoSong(id timeline.ID) {
	if sp.work().Song == id {
		return
	}
	sp.player.Stop(sp.h.Now())
	sp.work().Song = id
	sp.work().Refresh()
	sp.work().Mark()
	sp.LoadSounds()
	sp.h.Again()
	sp.h.Log("song %s", id)
}

func (sp *Page) focusLane(n int) {
	w := sp.work()
	if len(w.Data.Lanes) == 0 {
		return
	}
	i := min(max(w.LaneAt(w.View().Focus)+n, 0), len(w.Data.Lanes)-1)
	if l := w.Data.Lanes[i].Lane; l != nil {
		w.View().Focus = l.ID
	}
	sp.RevealLane(i)
}

// stepCue selects the cue before or after the playhead or the selected one, in the lane in focus or over all.
func (sp *Page) stepCue(n int, all bool) {
	w, v := sp.work(), sp.work().View()
	from, lane := sp.Heard(), v.Focus
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
	sp.RevealLane(bestLane)
	if !sp.player.Playing() {
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

// GoTo moves the playhead to what the user typed: a bar, a time, a timecode, a distance or a name.
func (sp *Page) GoTo(text string) error {
	text = strings.TrimSpace(text)
	song := sp.work().InView()
	if t, ok, err := sp.distance(text); ok {
		if err != nil {
			return err
		}
		sp.Seek(t)
		sp.Reveal()
		return nil
	}
	if p, err := timeline.ParsePosition(text); err == nil {
		m, err := sp.work().Show.MomentAt(&song.SongHead, p)
		if err != nil {
			return err
		}
		t, ok := m.In(song.Beats)
		if !ok {
			return errors.New("the song has no beat map; give a time such as 1:42.5")
		}
		sp.Seek(t)
		sp.Reveal()
		return nil
	}
	if t, ok := named(song, text); ok {
		sp.Seek(t)
		sp.Reveal()
		return nil
	}
	if s, err := sp.work().Plan.FindSong(text); err == nil {
		sp.GoSong(s.ID)
		return nil
	}
	return fmt.Errorf("%q is neither a place nor a name here; give a bar 41.2, a time 1:42.5, a timecode 03:01:22:10, +2 bars, or a section, marker or song", text)
}

// distance reads "+2 bars", "-1 beat", "+0.5s"; ok is false for anything else.
func (sp *Page) distance(text string) (at timeline.Time, ok bool, err error) {
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
	now, beats := sp.Heard(), sp.work().InView().Beats
	if stride.Time != 0 {
		return now + timeline.Time(sign)*stride.Time, true, nil
	}
	if beats.Empty() {
		return 0, true, errors.New("the song has no beat map; give a time such as +2s")
	}
	here := beats.Locate(now)
	here.Bar += int(sign) * stride.Bars
	return beats.At(together.Stepped(beats, here, stride.Beats.Mul(timeline.NewRat(sign, 1)))), true, nil
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

func (sp *Page) zoomKey(n int) {
	v, whole := sp.work().View(), sp.work().Data.Whole()
	now, at := v.Shown(whole), sp.Heard()
	if at < now.From || at >= now.To {
		at = (now.From + now.To) / 2
	}
	v.Zoom(whole, at, math.Pow(notch, float64(n)))
	sp.loose = true
}

func (sp *Page) zoomSong() {
	v := sp.work().View()
	v.Before, v.Span = v.Span, render.Span{}
	sp.loose = true
}

func (sp *Page) zoomSelection() {
	v, whole := sp.work().View(), sp.work().Data.Whole()
	span, ok := sp.selectedSpan()
	if !ok {
		span = v.Loop
	}
	if !ok && span.To <= span.From {
		sp.tell("select cues or set a loop to zoom to")
		return
	}
	margin := max((span.To-span.From)/10, timeline.Second/2)
	v.Before = v.Shown(whole)
	v.Set(whole, span.From-margin, span.To-span.From+2*margin)
	sp.loose = true
}

func (sp *Page) zoomBack() {
	v := sp.work().View()
	v.Span, v.Before = v.Before, v.Span
	sp.loose = true
}

func (sp *Page) toggleFollow() {
	sp.follow = !sp.follow || sp.loose
	sp.loose = false
}

func (sp *Page) toggleSnap() {
	sp.h.Prefs().Snap = !sp.h.Prefs().Snap
	sp.h.Prefs().Save()
}

func (sp *Page) stepGrid(n int) {
	sp.h.Prefs().Grid = min(max(min(sp.h.Prefs().Grid, len(grids)-1)+n, 0), len(grids)-1)
	sp.h.Prefs().Save()
}
