package nights

import (
	"image"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// ID is that of the page.
const ID = "nights"

// Nights is the page with what it remembers.
type Nights struct {
	Rows widget.Selection // what is otherwise on the night

	h    page.Host
	diff widget.Selection
}

// New gives the page of nights and its commands.
func New(h page.Host) page.Family {
	p := &Nights{h: h}
	return page.Family{State: p, Commands: p.commands(), Pages: []page.Page{{ID: ID, Name: "Nights", Part: "Nights", Keys: []string{"Ctrl+8"}, Kind: "night", Draw: p.draw, Acts: p.acts(),
		Help: "one date: set and venue, cuts and swaps, conditions, fills and acceptances; the tour stays as it is"}}}
}

// draw shows one night: what is played where, and all that is otherwise than on tour.
func (p *Nights) draw(r image.Rectangle) {
	u := p.h.UI()
	k := u.Stack(r, 8)
	p.head(k.Top(widget.RowHeight))
	n := p.h.Plan().Night
	p.h.Buttons(&k, "night-new", "night-like", "night-remove")
	if n == nil {
		text := "This is the tour itself, no night. Choose a night above, or make one: it takes the tour's set to a date and a place, and says what is otherwise there. The tour stays as it is."
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkFaint, text)
		return
	}
	p.h.Choose(timeline.Ref{Kind: "night", ID: n.ID})
	p.form(&k, n)
	p.h.Buttons(&k, "night-cut", "night-swap", "night-out", "night-plug", "night-version", "night-shift", "night-condition", "night-distance", "night-fill", "aftershow", "night-drop")
	foot := u.Stack(k.Bottom(max(min(k.Rest().Dy()*100/int(u.Scene().Scale)*2/5, 230), 100)), 4)
	p.h.Delta(&foot, &p.diff, "Cut or swap something: the findings that come and go stand here after, and in the dialog before.")
	p.table(k.Rest(), n)
}

// head chooses the night.
func (p *Nights) head(r image.Rectangle) {
	u := p.h.UI()
	row := u.Stack(r, 8)
	u.Label(row.Left(40), render.TypeLabel, render.InkSecondary, "Night")
	p.h.NightChoice(row.Left(320))
	if n := p.h.Plan().Night; n != nil {
		var what []string
		for _, x := range []struct {
			n    int
			word string
		}{{len(n.Cuts), "cut"}, {len(n.Swaps), "swap"}, {len(n.Rig), "rig change"}, {len(n.Accepted), "acceptance"}} {
			if x.n > 0 {
				what = append(what, timeline.Counted(x.n, x.word))
			}
		}
		u.Label(row.Rest(), render.TypeSmall, render.InkSecondary, strings.Join(what, ", "))
	}
}

// form draws the plain fields of a night in two columns.
func (p *Nights) form(k *widget.Stack, n *timeline.Night) {
	u := p.h.UI()
	on := timeline.Ref{Kind: "night", ID: n.ID}
	area := k.Top(4*page.FieldRow - 6)
	u.Push(string(n.ID))
	defer u.Pop()
	left, right := u.Form(widget.Columns(area, 2, 0, u.Px(16)), 84), u.Form(widget.Columns(area, 2, 1, u.Px(16)), 84)
	for _, name := range []string{"name", "date", "revision", "slug"} {
		p.h.Field(&left, on, name)
	}
	for _, name := range []string{"set", "venue", "note"} {
		p.h.Field(&right, on, name)
	}
	u.Label(right.Row(""), render.TypeSmall, render.InkSecondary, p.place(n))
}

// place says what is known of the night's venue.
func (p *Nights) place(n *timeline.Night) string {
	v := p.h.Show().Venue(n.Venue)
	if v == nil {
		return "no venue: nothing is compared with a place"
	}
	text := "trim height " + lengthGiven(p.h.Show(), v.Trim) + ", " + timeline.Counted(len(v.Audience), "audience line")
	if len(v.Banned) > 0 {
		text += ", banned: " + strings.Join(v.Banned, ", ")
	}
	return text
}

// lengthGiven writes a length of a venue; 0 is not given.
func lengthGiven(s *timeline.Show, m float64) string {
	if m == 0 {
		return "not given"
	}
	return render.Length(s.Told(), m)
}
