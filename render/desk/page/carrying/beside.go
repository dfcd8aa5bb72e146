package carrying

import (
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/shows/arrival"
	"emberbeat/timeline"
	"emberbeat/timeline/carry"
)

// beside shows the sound around the chosen cue, or what comes of accepting the song.
func (p *Carrying) beside(r image.Rectangle, a *arrival.Arrival, m *made) {
	u := p.h.UI()
	k := u.Stack(r, 6)
	p.Tab = u.Tabs("beside", k.Top(26), []string{"The cue", "If you accept"}, p.Tab)
	if p.Tab == 1 {
		p.comes(k.Rest(), a, m)
		return
	}
	x := p.item()
	if x == nil {
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkFaint, "Choose a cue: then stand here the old and the new sound around it.")
		return
	}
	s := u.Scene()
	if text := page.Upper(why(&row{x, lineOf(m.report, x)})); text != "" {
		h := u.ParagraphHeight(k.Rest().Dx(), render.TypeSmall, text) * 100 / int(s.Scale)
		u.Paragraph(k.Bottom(h+2), render.TypeSmall, render.InkSecondary, text)
	}
	far := reach(a.Proposal.Song.Beats, x.WasAt)
	look := p.lookOf(x)
	now := p.hearing()
	rest := k.Rest()
	high := min((rest.Dy()*100/int(s.Scale)-12)/3, 120)
	if high < 30 {
		return
	}
	old := render.CueWave{Area: k.Top(high), Title: "Old, around " + x.Was.String(), Note: x.Section, Peaks: m.old, At: x.WasAt, Reach: far, Beats: a.Proposal.Song.Beats, Look: look, Heard: now == oldSide}
	s.CueWave(u.Theme(), &old)
	p.heard[oldSide] = old
	at := func(q *carry.Place, title, absent string, taken bool) {
		w := render.CueWave{Area: k.Top(high), Title: title, Absent: absent, Peaks: m.is, Reach: far, Beats: a.Proposal.Beats, Look: look, Taken: taken, Heard: q != nil && q == x.Place() && now == newSide}
		if q != nil {
			w.Absent, w.At, w.Note = "", q.At, render.Percent(q.Sure)
			w.Title = "New, at " + q.Moment.String() + title
		}
		s.CueWave(u.Theme(), &w)
		if q != nil && q == x.Place() {
			p.heard[newSide] = w
		}
	}
	at(x.Is, ": taken if you accept", "Not in the new recording: set aside if you accept", x.Is != nil)
	look.Hollow = true
	at(x.Next, ": the other place", "No other place fits", false)
}

// lookOf gives how a cue is drawn.
func (p *Carrying) lookOf(x *carry.Item) render.Look {
	var article *timeline.Article
	if plan := p.h.SongPlan(x.Ref.Song); plan != nil {
		for i := range plan.Commands {
			if c := &plan.Commands[i]; c.Cue != nil && c.Cue.ID == x.Ref.ID {
				article = c.Article
				break
			}
		}
	}
	return render.LookOf(article)
}

// comes says what accepting the song comes to.
func (p *Carrying) comes(r image.Rectangle, a *arrival.Arrival, m *made) {
	u := p.h.UI()
	k := u.Stack(r, 4)
	if a.Accepted(p.h.Show()) {
		p.h.Delta(&k, &p.diff, "No finding came or went with the last change.")
		return
	}
	f := &m.report.Files[0]
	for _, line := range slices.Concat(f.More(), m.evening) {
		line = page.Upper(line)
		h := u.ParagraphHeight(k.Rest().Dx(), render.TypeSmall, line) * 100 / int(u.Scene().Scale)
		if k.Rest().Dy() < u.Px(h+120) {
			break
		}
		u.Paragraph(k.Top(h+2), render.TypeSmall, render.InkSecondary, line)
	}
	if m.edit == nil {
		return // it is being carried over
	}
	p.h.Foresee(&k, &p.diff, m.key, m.edit)
}

// moving draws where in the sounds beside the cue it is heard now.
func (p *Carrying) moving(s *render.Scene) {
	at, ok := p.h.HearingAt()
	side := p.hearing()
	if !ok || side < 0 || p.heard[side].Area.Empty() {
		return
	}
	p.heard[side].HeardAt(s, at)
}

// hearing gives the recording of which a stretch is heard, -1 for none.
func (p *Carrying) hearing() int {
	now := p.h.Hearing()
	if now < 0 || now >= len(p.sides) {
		return -1
	}
	return p.sides[now]
}
