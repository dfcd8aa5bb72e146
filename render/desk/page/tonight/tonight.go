package tonight

import (
	"cmp"
	"image"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/shows/report/night"
)

// ID is that of the page.
const ID = "tonight"

// Tonight is the page with what it remembers.
type Tonight struct {
	h           page.Host
	songs, todo widget.Selection
	bands       bands
	focus       bool // the songs shall get the focus as soon as they are there
}

// New gives the page of tonight.
func New(h page.Host) page.Family {
	p := &Tonight{h: h}
	return page.Family{State: p, Pages: []page.Page{{ID: ID, Name: "Tonight", Part: "Nights", Keys: []string{"Ctrl+9"}, Draw: p.draw,
		Help: "what the crew of a night reads first: songs, cuts, loads, supplies, signatures; every line leads to where to fix it"}}}
}

// draw shows what the crew reads before it starts on a night. Every line leads to where it is mended.
func (p *Tonight) draw(r image.Rectangle) {
	u, plan := p.h.UI(), p.h.Plan()
	p.focus = p.focus || p.h.Fresh()
	k := u.Stack(r, 8)
	t, err := p.h.Tonight()
	p.head(k.Top(44), t)
	p.h.Buttons(&k, "book-nights", "book-sets", "book-stage-plan", "export-all", "findings")
	if plan.Night == nil && len(plan.Show.Nights) == 0 {
		text := "The show has no night yet, so this is the tour."
		high := u.ParagraphHeight(k.Rest().Dx(), render.TypeLabel, text) * 100 / int(u.Scene().Scale)
		u.Paragraph(k.Top(high+4), render.TypeLabel, render.InkText, text)
		row := u.Stack(k.Top(widget.RowHeight), 8)
		if u.Off(p.h.Off("night-new")).MainButton("first-night", row.Left(u.ButtonWidth("New night")+16), "New night") {
			p.h.Use("night-new")
		}
		u.Tip("Makes a night of the tour's set", p.h.Key("night-new"))
		return
	}
	if t == nil {
		text := "Checking the night and making its sheet…"
		if err != nil {
			text = "The sheet of the night cannot be made: " + err.Error()
		}
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkFaint, text)
		return
	}
	h := u.ParagraphHeight(k.Rest().Dx(), render.TypeSmall, t.Caution)
	u.Paragraph(k.Bottom(h*100/int(u.Scene().Scale)+2), render.TypeSmall, render.InkSecondary, t.Caution)
	p.say(&k, t)
	area := k.Rest()
	half := u.Stack(area, 10)
	left := half.Left(area.Dx() * 100 / int(u.Scene().Scale) * 47 / 100)
	p.songTable(left, t)
	p.todoTable(half.Rest(), t)
}

// head says which night it is, as its sheet says it once that is made.
func (p *Tonight) head(r image.Rectangle, t *night.Tonight) {
	u, plan := p.h.UI(), p.h.Plan()
	k := u.Stack(r, 0)
	title := "The tour, no night"
	if n := plan.Night; n != nil {
		title = cmp.Or(n.Date, "no date") + "   " + n.Name
	}
	u.Label(k.Top(24), render.TypeTitle, render.InkText, title)
	h := report.HeadOf(plan)
	if t != nil {
		h = t.Head
	}
	place := "venue not given"
	if h.Venue != "" {
		place = h.Venue
		if h.Place != "" {
			place += ", " + h.Place
		}
	}
	text := place + "   set " + cmp.Or(h.Set, "not given") + "   revision " + cmp.Or(h.Revision, "not given") + "   rule set " + cmp.Or(h.RuleSet, "not given") + "   timecode " + h.Rate
	if h.Played != "" {
		text = h.Played + "   " + text
	}
	u.Label(k.Rest(), render.TypeLabel, render.InkSecondary, text)
}
