package carrying

import (
	"fmt"
	"image"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/shows/arrival"
	"emberbeat/timeline"
	"emberbeat/timeline/carry"
)

// ribbons draws both recordings with what is between them, and lets a ribbon be dragged.
func (p *Carrying) ribbons(r image.Rectangle, a *arrival.Arrival, m *made) {
	u := p.h.UI()
	c := u.Canvas("ribbons", r)
	p.view = viewOf(a, m, p.h.Show())
	p.view.Area = r
	if x := p.item(); x != nil {
		p.view.Chosen = tickID(x)
	}
	if g := p.drag; g != nil && g.a == a && g.begun {
		b := &p.view.Bands[g.band]
		b.New.From, b.New.To = b.New.From+g.by, b.New.To+g.by
		p.view.Held = g.band + 1
	}
	p.Lay = u.Scene().Ribbons(&p.view)
	p.point(c, a, m)
	if c.Focus {
		u.Scene().Frame(r, u.Px(2), render.InkFocus)
	}
}

func tickID(x *carry.Item) string { return x.Ref.Kind + " " + string(x.Ref.ID) }

// viewOf says what is drawn of a proposal.
func viewOf(a *arrival.Arrival, m *made, show *timeline.Show) render.RibbonView {
	q := a.Proposal
	v := render.RibbonView{
		Old: render.RibbonStrip{Name: "Old", Note: q.Map.Old.Clock(0), Length: q.Map.Old, Peaks: m.old, Parts: parts(q, false)},
		New: render.RibbonStrip{Name: "New", Note: q.Map.New.Clock(0), Length: q.Map.New, Peaks: m.is, Parts: parts(q, true)},
	}
	for i := range q.Passages {
		s := &q.Passages[i]
		b := render.Band{Old: render.Span{From: s.Old, To: s.OldEnd}, New: render.Span{From: s.New, To: s.NewEnd}, Same: s.Exact, Sure: s.Sure, Text: "same bars, played anew", Short: "anew"}
		for _, l := range a.Locked() {
			b.Locked = b.Locked || l.New <= s.New && s.NewEnd <= l.NewEnd && l.Old <= s.Old && s.OldEnd <= l.OldEnd
		}
		switch {
		case b.Locked:
			b.Text, b.Short = "placed by hand", "by hand"
		case s.Exact && s.Moved:
			b.Text, b.Short = "same sound, moved", "moved"
		case s.Exact:
			b.Text, b.Short = "same sound", "same"
		case s.Moved:
			b.Text = "played anew, moved"
		}
		v.Bands = append(v.Bands, b)
	}
	for _, s := range q.Map.Lost() {
		v.Lost = append(v.Lost, render.RibbonGap{Span: render.Span(s), Text: lostText(q, s)})
	}
	for _, s := range q.Map.Added() {
		v.Added = append(v.Added, render.RibbonGap{Span: render.Span(s), Text: addedText(q, s)})
	}
	for i := range q.Items {
		x := &q.Items[i]
		if !x.Cue() {
			continue
		}
		t := render.RibbonTick{ID: tickID(x), Old: render.Instant{At: x.WasAt, On: true}, Lost: x.Is == nil, Look: x.Look()}
		if x.Is != nil && x.Is.Run >= 0 {
			t.New = render.Instant{At: x.Is.At, On: true}
		}
		v.Ticks = append(v.Ticks, t)
	}
	return v
}

// parts gives the sections of the old recording, or of the new one.
func parts(q *carry.Proposal, is bool) []render.RibbonPart {
	var list []render.RibbonPart
	end := q.Map.Old
	if is {
		end = q.Map.New
	}
	for i := range q.Items {
		x := &q.Items[i]
		if x.Ref.Kind != "section" || is && x.Is == nil {
			continue
		}
		at := x.WasAt
		if is {
			at = x.Is.At
		}
		for _, s := range q.Song.Sections {
			if s.ID == x.Ref.ID {
				list = append(list, render.RibbonPart{Name: s.Name, Span: render.Span{From: at, To: end}})
			}
		}
	}
	for i := range list {
		for k := range list {
			if at := list[k].From; at > list[i].From {
				list[i].To = min(list[i].To, at)
			}
		}
	}
	return list
}

// shortGap is what is lost or added without a word on it: a fade from one stretch into the next leaves less.
const shortGap = timeline.Second / 2

// lostText says how much is lost with a stretch of the old recording.
func lostText(q *carry.Proposal, s timeline.TimeSpan) string {
	if s.To-s.From < shortGap {
		return ""
	}
	n := 0
	for i := range q.Items {
		if x := &q.Items[i]; x.Cue() && x.WasAt >= s.From && x.WasAt < s.To {
			n++
		}
	}
	return "lost: " + long(q.Song.Beats, s) + ", " + timeline.Counted(n, "cue")
}

func addedText(q *carry.Proposal, s timeline.TimeSpan) string {
	if s.To-s.From < shortGap {
		return ""
	}
	return "added: " + long(q.Beats, s)
}

// long says how long a stretch is: in bars where it is whole bars, else in seconds.
func long(b *timeline.BeatMap, s timeline.TimeSpan) string {
	d := s.To - s.From
	if !b.Empty() {
		bar := b.Locate(s.From).Bar
		if one := b.BarStart(bar+1) - b.BarStart(bar); one > 0 {
			n := (d + one/2) / one
			if away := max(d-n*one, n*one-d); n > 0 && away*20 < one {
				return timeline.Counted(int(n), "bar")
			}
		}
	}
	return fmt.Sprintf("%s s", d.Text(1))
}

// point chooses cues and takes hold of ribbons.
func (p *Carrying) point(c widget.Canvas, a *arrival.Arrival, m *made) {
	u := p.h.UI()
	if p.h.Dragging() {
		p.h.Drive(widget.Primary)
		return
	}
	if !c.Hot || c.Pressed&widget.Primary == 0 {
		return
	}
	at := u.Input().Pointer
	if i := p.Lay.BandAt(at); i >= 0 {
		if why := p.needProposal(); why != "" {
			p.h.Warn(why)
			return
		}
		p.drag = &bandDrag{p: p, a: a, band: i, from: at}
		p.h.Start(p.drag)
		return
	}
	if id := p.Lay.TickAt(at); id != "" {
		p.only = ""
		for i, r := range m.rows {
			if tickID(r.item) == id {
				p.Cues.Only(i)
				p.focus = "cues"
				p.h.Again()
			}
		}
	}
}

// bandDrag puts a stretch elsewhere in the new recording.
type bandDrag struct {
	p     *Carrying
	a     *arrival.Arrival
	band  int
	from  image.Point
	by    timeline.Time
	begun bool
}

// Move follows the pointer; a beat that was heard draws the stretch to it.
func (g *bandDrag) Move(in *widget.Input) {
	d := in.Pointer.X - g.from.X
	if !g.begun && max(d, -d) < g.p.h.UI().Px(page.Slack) {
		return
	}
	g.begun = true
	s := &g.a.Proposal.Passages[g.band]
	by := g.p.Lay.Time(d)
	if beats := g.a.Beats(); g.p.h.Snap() != (in.Mods&widget.Alt != 0) && !beats.Empty() {
		if at := g.firstBeat(s); at >= 0 {
			by = beats.At(beats.Snap(at+by, timeline.NewRat(1, 1))) - at
		}
	}
	g.by = min(max(by, -s.New), g.a.Proposal.Map.New-s.NewEnd)
}

// firstBeat gives where the first beat of a stretch is in the new recording, negative for none.
func (g *bandDrag) firstBeat(s *carry.Passage) timeline.Time {
	old := g.a.Proposal.Song.Beats
	if old.Empty() {
		return -1
	}
	at := old.At(old.Snap(s.Old, timeline.NewRat(1, 1)))
	return s.New + at - s.Old
}

// Done has the song carried over with the stretch where it was put.
func (g *bandDrag) Done() {
	g.p.drag = nil
	if !g.begun || g.by == 0 || g.p.Chosen() != g.a || g.band >= len(g.a.Proposal.Passages) {
		return
	}
	q, s := g.a.Proposal, g.a.Proposal.Passages[g.band]
	var list []timeline.TimeRun
	for _, l := range g.a.Locked() {
		if l.OldEnd <= s.Old || l.Old >= s.OldEnd || l.NewEnd <= s.New || l.New >= s.NewEnd {
			list = append(list, l)
		}
	}
	for _, r := range q.Map.Runs[s.First : s.Last+1] {
		r.New, r.NewEnd = r.New+g.by, r.NewEnd+g.by
		list = append(list, r)
	}
	g.p.place(list)
}

// Cancel leaves the stretch where it was.
func (g *bandDrag) Cancel() { g.p.drag = nil }

// Help says what the modifiers do, and how far it was moved.
func (g *bandDrag) Help() string {
	return fmt.Sprintf("%s s   Alt: snap to beats the other way   Esc: leave it", g.by.Text(3))
}

// place says anew what carrying the chosen song over comes to, with stretches that were placed by hand.
func (p *Carrying) place(locked []timeline.TimeRun) {
	a := p.Chosen()
	if err := p.desk.Place(a, locked); err != nil {
		p.h.Warn(err.Error())
		return
	}
	p.said()
	c := a.Proposal.Counts()
	p.h.Tell(fmt.Sprintf("carried again: %d sure, %d look once, %d lost", c.Sure, c.Look, c.Lost))
}
