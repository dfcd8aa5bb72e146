package app

import (
	"context"
	"fmt"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/shows/report/changed"
	"emberbeat/timeline"
)

// doAsked makes a change as one step; if anything of the show rests on stock that it changes, it says first what that comes to and lets it
// be kept or taken back. then runs once it is made. It reports whether the change was made or is being asked about.
func (a *App) doAsked(c change, then func(*App)) bool {
	w := a.work
	tried, err := w.Session.Try(c.edits...)
	if err != nil {
		a.fail(err)
		return false
	}
	refs := changed.StockChanged(tried.Changes())
	touched := w.Plan.Touches(refs)
	if len(refs) == 0 || len(touched.Cues)+len(touched.Loads) == 0 {
		ok := a.keep(&openshow.Attempt{Label: c.label, Edits: c.edits, Tried: tried})
		if ok && then != nil {
			then(a)
		}
		return ok
	}
	d := &stockDialog{change: openshow.Attempt{Label: c.label, Edits: c.edits, Tried: tried}, then: then, lines: []string{"Working out what rests on it and which findings come and go…"}}
	a.dialog = d
	d.start(a)
	return true
}

// stockDialog says what a change of the stock comes to before it is made.
type stockDialog struct {
	change openshow.Attempt
	then   func(*App)
	lines  []string
	known  bool
	sel    widget.Selection
}

// start works out the consequences beside the window.
func (d *stockDialog) start(a *App) {
	s, on := a.work.Session, d.change.Tried.On(a.work.Night)
	a.run("working out what the change comes to", func(ctx context.Context, _ func(float64)) (func(), error) {
		each, err := s.Foresee(ctx, d.change.Tried, on)
		if err != nil {
			return nil, err
		}
		f := each[0]
		return func() {
			d.lines, d.known = consequenceLines(a, changed.NewList(s.Show(), d.change.Tried.Show, f.Changes), f.Rests), true
			a.again = true
			a.say("consequences cues=%d loads=%d new=%d gone=%d", len(f.Rests.Cues), len(f.Rests.Loads), len(f.Rests.New), len(f.Rests.Gone))
		}, nil
	})
}

// consequenceLines puts consequences into lines.
func consequenceLines(a *App, changes *changed.List, c *changed.Consequences) []string {
	var b strings.Builder
	if err := changes.WriteText(&b); err != nil {
		return []string{err.Error()}
	}
	lines := strings.Split(strings.TrimRight(b.String(), "\n"), "\n")
	lines = append(lines, "", fmt.Sprintf("It is used by %s in %s and %s.", timeline.Counted(len(c.Cues), "cue"), timeline.Counted(c.Songs, "song"), timeline.Counted(len(c.Loads), "placed effect")))
	for _, text := range c.Loads {
		lines = append(lines, "   load "+a.refName(text))
	}
	for _, part := range []struct {
		what string
		list []report.FindingLine
	}{{"New", c.New}, {"Gone", c.Gone}} {
		lines = append(lines, "", fmt.Sprintf("%s: %s", part.what, timeline.Counted(len(part.list), "finding")))
		for i := range part.list {
			lines = append(lines, "   "+part.list[i].Rule+": "+part.list[i].Text)
		}
	}
	lines = append(lines, "", fmt.Sprintf("%s stay as they are.", timeline.Counted(c.Stay, "other finding")))
	byCue := make([]string, 0, len(c.Cues))
	for _, text := range c.Cues {
		byCue = append(byCue, "   cue "+a.refName(text))
	}
	if len(byCue) > 0 {
		lines = append(lines, "", "Cues that rest on it:")
	}
	return append(lines, byCue...)
}

// refName gives the name of the record that a reference written as kind:song/id means.
func (a *App) refName(text string) string {
	kind, id, _ := strings.Cut(text, ":")
	song, rest, in := strings.Cut(id, "/")
	if !in {
		return a.nameOf([]string{kind}, "", timeline.ID(id))
	}
	g := a.work.Show.Song(timeline.ID(song))
	if g == nil {
		return text
	}
	if c := g.Cue(timeline.ID(rest)); c != nil {
		name := ""
		if l := g.Lane(c.Lane); l != nil {
			name = "  " + page.LaneName(a.work.Show, l)
		}
		return g.FullTitle() + "  " + c.At.String() + name
	}
	return text
}

func (d *stockDialog) draw(a *App) bool {
	u := a.ui
	b := u.BeginDialog("stock-change", "What this change of the stock comes to", 820, 520)
	if b.Fresh {
		u.Focus("Keep")
	}
	k := u.Stack(b.Body, 8)
	h := u.ParagraphHeight(k.Rest().Dx(), render.TypeSmall, report.Caution)*100/int(u.Scene().Scale) + 2
	u.Paragraph(k.Bottom(h), render.TypeSmall, render.InkSecondary, report.Caution)
	spec := widget.TableSpec{Columns: []widget.Column{{}}, Rows: len(d.lines),
		Cell: func(t []byte, row, _ int) []byte { return append(t, d.lines[row]...) }}
	u.List("consequences", k.Rest(), &d.sel, &spec)
	choice := b.Buttons(widget.Choice{Label: "Take back"}, widget.Choice{Label: "Keep", Main: true})
	b.End()
	switch {
	case choice == 1:
		a.dialog = nil
		if a.keep(&d.change) && d.then != nil {
			d.then(a)
		}
		return true
	case choice == 0 || b.Closed:
		a.tell("taken back: %s", d.change.Label)
		a.say("taken back %s", d.change.Label)
		return true
	}
	return false
}
