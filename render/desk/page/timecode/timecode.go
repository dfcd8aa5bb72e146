package timecode

import (
	"cmp"
	"fmt"
	"image"
	"slices"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/timeline"
)

// ID is that of the page.
const ID = "timecode"

// Claim is a song with the timecode it claims; rows of the table hold one.
type Claim struct {
	First, Last int64 // frames, pre-roll included

	song   *timeline.Song
	plan   *timeline.SongPlan
	number int    // in the running order; 0 where it is not played
	clash  string // the next song whose range it meets
}

// claims is the page with what it remembers.
type claims struct {
	h page.Host
	t *table.Table
}

// New gives the page of timecodes.
func New(h page.Host) page.Family {
	p := &claims{h: h}
	p.t = table.New(h, table.Spec{List: p.listed, Columns: columns, Empty: "The show has no song yet. Add one with Ctrl+I, or drop an audio file on the window.",
		Note: "Choose a song to change its start and pre-roll at the right. A night can start a song elsewhere, or move all of it when playback is late: see the page Nights."})
	return page.Family{Pages: []page.Page{{ID: ID, Name: "Timecode plan", Part: "Nights", Help: "which timecode each song claims, with its pre-roll, on the tour or the night chosen",
		Rows: p.t, Draw: func(r image.Rectangle) { p.t.Draw(r) }}}}
}

// listed gives all songs of the show by the timecode they claim on the night in view.
func (p *claims) listed() []table.Row {
	var list []Claim
	number := map[timeline.ID]int{}
	plan := p.h.Plan()
	for i := range plan.Songs {
		number[plan.Songs[i].Song.ID] = plan.Songs[i].Number
	}
	for _, s := range p.h.Show().Songs {
		if sp := p.h.SongPlan(s.ID); sp != nil {
			list = append(list, Claim{song: s, plan: sp, number: number[s.ID], First: sp.First(), Last: sp.Last()})
		}
	}
	slices.SortStableFunc(list, func(a, b Claim) int { return cmp.Compare(a.First, b.First) })
	rows := make([]table.Row, 0, len(list))
	for i, c := range list {
		if i+1 < len(list) && c.Last > list[i+1].First {
			c.clash = "meets " + list[i+1].song.FullTitle()
		}
		rows = append(rows, table.Row{Key: string(c.song.ID), Ref: timeline.Ref{Kind: "song", ID: c.song.ID}, Record: &c.song.SongHead, More: c})
	}
	return rows
}

func columns() []table.Column {
	of := func(text func(c *Claim) string) func(*table.Row) string {
		return func(e *table.Row) string { c := e.More.(Claim); return text(&c) }
	}
	return []table.Column{
		{Title: "Song", Width: 200, Text: of(func(c *Claim) string { return c.song.FullTitle() })},
		{Title: "No", Width: 50, Right: true, Text: of(func(c *Claim) string {
			if c.number == 0 {
				return ""
			}
			return fmt.Sprint(c.number)
		})},
		{Title: "Start", Width: 110, Text: of(func(c *Claim) string { return c.plan.Rate.Label(c.plan.Start) })},
		{Title: "On tour", Width: 110, Text: of(func(c *Claim) string {
			if tour := c.song.Start.String(); tour != c.plan.Rate.Label(c.plan.Start) {
				return tour
			}
			return ""
		})},
		{Title: "Moved by, s", Width: 90, Right: true, Text: of(func(c *Claim) string {
			if c.plan.By == 0 {
				return ""
			}
			return c.plan.By.Text(3)
		})},
		{Title: "Pre-roll, s", Width: 90, Right: true, Text: of(func(c *Claim) string { return c.plan.PreRoll.Text(2) })},
		{Title: "Runs from", Width: 110, Text: of(func(c *Claim) string { return c.plan.Rate.Label(c.First) })},
		{Title: "To", Width: 110, Text: of(func(c *Claim) string { return c.plan.Rate.Label(c.Last) })},
		{Title: "Length", Width: 80, Right: true, Text: of(func(c *Claim) string { return c.plan.Duration.Clock(0) })},
		{Title: "Clash", Width: 160, Text: of(func(c *Claim) string {
			if c.plan.StartErr != nil {
				return c.plan.StartErr.Error()
			}
			return c.clash
		})},
	}
}
