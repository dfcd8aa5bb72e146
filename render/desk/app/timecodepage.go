package app

import (
	"cmp"
	"fmt"
	"image"
	"slices"

	"emberbeat/timeline"
)

// clockSong is a song with the timecode it claims.
type clockSong struct {
	song        *timeline.Song
	plan        *timeline.SongPlan
	number      int // in the running order; 0 where it is not played
	first, last int64
	clash       string // the next song whose range it meets
}

// clockSongs gives all songs of the show by the timecode they claim on the night in view.
func (w *work) clockSongs() []clockSong {
	var list []clockSong
	number := map[timeline.ID]int{}
	for i := range w.plan.Songs {
		number[w.plan.Songs[i].Song.ID] = w.plan.Songs[i].Number
	}
	for _, s := range w.shown.Songs {
		p := w.clockPlan(s.ID)
		if p == nil {
			continue
		}
		list = append(list, clockSong{song: s, plan: p, number: number[s.ID], first: p.First(), last: p.Last()})
	}
	slices.SortStableFunc(list, func(a, b clockSong) int { return cmp.Compare(a.first, b.first) })
	for i := 0; i+1 < len(list); i++ {
		if list[i].last > list[i+1].first {
			list[i].clash = "meets " + list[i+1].song.FullTitle()
		}
	}
	return list
}

// clockPlan gives the plan of a song, whether or not it is played.
func (w *work) clockPlan(id timeline.ID) *timeline.SongPlan {
	for i := range w.plan.Songs {
		if w.plan.Songs[i].Song.ID == id {
			return w.plan.Songs[i].SongPlan
		}
	}
	if p := w.s.SongPlanOf(w.shown, id, w.plan.Night); p != nil && len(p.Songs) > 0 {
		return p.Songs[0].SongPlan
	}
	return nil
}

// timecodePage lists which timecode each song claims.
func timecodePage() page {
	of := func(text func(c *clockSong) string) func(*App, *entry) string {
		return func(_ *App, e *entry) string { c := e.more.(clockSong); return text(&c) }
	}
	spec := &ledgerSpec{id: "timecode", empty: "The show has no song yet. Add one with Ctrl+I, or drop an audio file on the window.",
		note: "Choose a song to change its start and pre-roll at the right. A night can start a song elsewhere, or move all of it when playback is late: see the page Nights.",
		columns: []column{
			{title: "Song", width: 200, text: of(func(c *clockSong) string { return c.song.FullTitle() })},
			{title: "No", width: 50, right: true, text: of(func(c *clockSong) string {
				if c.number == 0 {
					return ""
				}
				return fmt.Sprint(c.number)
			})},
			{title: "Start", width: 110, text: of(func(c *clockSong) string { return c.plan.Rate.Label(c.plan.Start) })},
			{title: "On tour", width: 110, text: of(func(c *clockSong) string {
				if tour := c.song.Start.String(); tour != c.plan.Rate.Label(c.plan.Start) {
					return tour
				}
				return ""
			})},
			{title: "Moved by, s", width: 90, right: true, text: of(func(c *clockSong) string {
				if c.plan.By == 0 {
					return ""
				}
				return c.plan.By.Text(3)
			})},
			{title: "Pre-roll, s", width: 90, right: true, text: of(func(c *clockSong) string { return c.plan.PreRoll.Text(2) })},
			{title: "Runs from", width: 110, text: of(func(c *clockSong) string { return c.plan.Rate.Label(c.first) })},
			{title: "To", width: 110, text: of(func(c *clockSong) string { return c.plan.Rate.Label(c.last) })},
			{title: "Length", width: 80, right: true, text: of(func(c *clockSong) string { return c.plan.Duration.Clock(0) })},
			{title: "Clash", width: 160, text: of(func(c *clockSong) string {
				if c.plan.StartErr != nil {
					return c.plan.StartErr.Error()
				}
				return c.clash
			})},
		},
		list: func(a *App) []entry {
			var rows []entry
			for _, c := range a.work.clockSongs() {
				rows = append(rows, entry{key: string(c.song.ID), ref: timeline.Ref{Kind: "song", ID: c.song.ID}, rec: &c.song.SongHead, more: c})
			}
			return rows
		}}
	return page{id: "timecode", name: "Timecode plan", part: "Nights", help: "which timecode each song claims, with its pre-roll, on the tour or the night chosen",
		draw: func(a *App, r image.Rectangle) { a.ledger(r, spec) }}
}
