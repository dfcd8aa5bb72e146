package app

import (
	"cmp"
	"fmt"
	"image"
	"slices"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
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
func (a *App) timecodePage() page.Page {
	of := func(text func(c *clockSong) string) func(*table.Row) string {
		return func(e *table.Row) string { c := e.More.(clockSong); return text(&c) }
	}
	t := table.New(a, table.Spec{Empty: "The show has no song yet. Add one with Ctrl+I, or drop an audio file on the window.",
		Note: "Choose a song to change its start and pre-roll at the right. A night can start a song elsewhere, or move all of it when playback is late: see the page Nights.",
		Columns: func() []table.Column {
			return []table.Column{
				{Title: "Song", Width: 200, Text: of(func(c *clockSong) string { return c.song.FullTitle() })},
				{Title: "No", Width: 50, Right: true, Text: of(func(c *clockSong) string {
					if c.number == 0 {
						return ""
					}
					return fmt.Sprint(c.number)
				})},
				{Title: "Start", Width: 110, Text: of(func(c *clockSong) string { return c.plan.Rate.Label(c.plan.Start) })},
				{Title: "On tour", Width: 110, Text: of(func(c *clockSong) string {
					if tour := c.song.Start.String(); tour != c.plan.Rate.Label(c.plan.Start) {
						return tour
					}
					return ""
				})},
				{Title: "Moved by, s", Width: 90, Right: true, Text: of(func(c *clockSong) string {
					if c.plan.By == 0 {
						return ""
					}
					return c.plan.By.Text(3)
				})},
				{Title: "Pre-roll, s", Width: 90, Right: true, Text: of(func(c *clockSong) string { return c.plan.PreRoll.Text(2) })},
				{Title: "Runs from", Width: 110, Text: of(func(c *clockSong) string { return c.plan.Rate.Label(c.first) })},
				{Title: "To", Width: 110, Text: of(func(c *clockSong) string { return c.plan.Rate.Label(c.last) })},
				{Title: "Length", Width: 80, Right: true, Text: of(func(c *clockSong) string { return c.plan.Duration.Clock(0) })},
				{Title: "Clash", Width: 160, Text: of(func(c *clockSong) string {
					if c.plan.StartErr != nil {
						return c.plan.StartErr.Error()
					}
					return c.clash
				})},
			}
		},
		List: func() []table.Row {
			var rows []table.Row
			for _, c := range a.work.clockSongs() {
				rows = append(rows, table.Row{Key: string(c.song.ID), Ref: timeline.Ref{Kind: "song", ID: c.song.ID}, Record: &c.song.SongHead, More: c})
			}
			return rows
		}})
	return page.Page{ID: "timecode", Name: "Timecode plan", Part: "Nights", Help: "which timecode each song claims, with its pre-roll, on the tour or the night chosen",
		Rows: t, Draw: func(r image.Rectangle) { t.Draw(r) }}
}
