package venues

import (
	"image"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// ID is that of the page.
const ID = "venues"

// Venues is the page with what it remembers.
type Venues struct {
	Asks widget.Selection // of the distances asked for

	h     page.Host
	venue timeline.ID // chosen to be shown; "" is that of the night in view, or the first
}

// New gives the page of venues and its commands.
func New(h page.Host) page.Family {
	p := &Venues{h: h}
	return page.Family{State: p, Commands: p.commands(), Pages: []page.Page{{ID: ID, Name: "Venues", Part: "Nights", Keys: []string{"Ctrl+7"}, Kind: "venue", Draw: p.draw, Acts: p.acts(),
		Help: "places: trim height, lines and marks, bans, quiet windows, volume, wind, conditions, rule set and distances; nothing is assumed"}}}
}

// Shown gives the venue on the page: the one chosen there, else that of the night in view, or the first; nil where the show has none.
func (p *Venues) Shown() *timeline.Venue {
	show := p.h.Show()
	if v := show.Venue(p.venue); v != nil {
		return v
	}
	if v := p.h.Plan().Venue; v != nil {
		return v
	}
	if len(show.Venues) > 0 {
		return show.Venues[0]
	}
	return nil
}

// Show brings a venue onto the page, "" that of the night in view.
func (p *Venues) Show(id timeline.ID) {
	p.venue = id
	p.Asks = widget.Selection{}
	p.h.Again()
}

// draw is the form of one venue.
func (p *Venues) draw(r image.Rectangle) {
	u := p.h.UI()
	k := u.Stack(r, 8)
	p.head(k.Top(widget.RowHeight))
	p.h.Buttons(&k, "venue-new", "venue-copy", "venue-remove", "venue-plan", "venue-line", "venue-performer", "venue-clear", "venue-quiet", "venue-ban", "venue-condition", "venue-distance", "venue-distance-drop", "venue-back")
	v := p.Shown()
	if v == nil {
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkFaint, "The show has no venue yet. Nothing is assumed about a place: press "+p.h.Key("row-add")+" to add one and write down what is known of it.")
		return
	}
	p.h.Choose(timeline.Ref{Kind: "venue", ID: v.ID})
	caution := "Empty and 0 are \"not given\": nothing is compared with it, and sheets leave a line to write on. Distances are checked as written here; label, permit and authority come first."
	h := u.ParagraphHeight(k.Rest().Dx(), render.TypeSmall, caution) * 100 / int(u.Scene().Scale)
	u.Paragraph(k.Bottom(h+2), render.TypeSmall, render.InkSecondary, caution)
	high := 24 + widget.RowHeight + widget.LineHeight*max(len(asksOf(p.h.Show(), v)), 2)
	p.asks(k.Bottom(min(high, k.Rest().Dy()*100/int(u.Scene().Scale)*2/5)), v)
	p.form(k.Rest(), v)
}

// head chooses the venue and says which nights are played there.
func (p *Venues) head(r image.Rectangle) {
	u, show := p.h.UI(), p.h.Show()
	row := u.Stack(r, 8)
	names, at := []string{}, -1
	for i, v := range show.Venues {
		names = append(names, v.Name)
		if v == p.Shown() {
			at = i
		}
	}
	why := ""
	if len(names) == 0 {
		why = "the show has no venue yet"
	}
	u.Label(row.Left(46), render.TypeLabel, render.InkSecondary, "Venue")
	if now, changed := u.Off(why).Dropdown("venue", row.Left(280), names, at); changed {
		p.Show(show.Venues[now].ID)
	}
	var nights []string
	for _, n := range show.Nights {
		if v := p.Shown(); v != nil && n.Venue == v.ID {
			nights = append(nights, n.Name)
		}
	}
	text := "no night is played here"
	if len(nights) > 0 {
		text = "nights: " + strings.Join(nights, ", ")
	}
	u.Label(row.Rest(), render.TypeSmall, render.InkSecondary, text)
}
