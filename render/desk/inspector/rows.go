package inspector

import (
	"image"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/given"
)

// Logical measures of a row: its name, its value, and where that comes from.
const (
	rowHigh   = 30
	rowName   = 76
	rowValue  = 150
	headHigh  = 26
	badgeHigh = 22
	leastFrom = 100 // of what says where a value comes from; below, the value gives way
)

// rows draws what there is to say of records of one kind, row by row below each other.
type rows struct {
	p    *Inspector
	k    widget.Stack
	kind *timeline.Kind
	refs []timeline.Ref
	recs []timeline.Record
	from []holds // by record, what the model tells of where values come from
	n    int     // fields drawn
}

// holds is what holds for a record, and where it comes from.
type holds []given.Value

// of gives the value of a field.
func (h holds) of(field string) (v given.Value, ok bool) {
	for i := range h {
		if h[i].Field == field {
			return h[i], true
		}
	}
	return v, false
}

// head sets a heading over rows, with a word at its right.
func (c *rows) head(text, right string) {
	u := c.p.h.UI()
	s := u.Scene()
	r := c.k.Top(headHigh)
	s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Min.Y+s.Px(1)), render.InkBar)
	w := s.Face(render.TypeStrong).Measure(text)
	u.Label(r, render.TypeStrong, render.InkText, text)
	s.TextIn(image.Rect(r.Min.X+w+s.Px(8), r.Min.Y, r.Max.X, r.Max.Y), render.Right, render.TypeSmall, render.InkSecondary, right)
}

// row gives the places of a row's value and of what says where it comes from, after setting its name.
func (c *rows) row(name string) (value, source image.Rectangle) {
	u := c.p.h.UI()
	k := u.Stack(c.k.Top(rowHigh-4), 8)
	u.Label(k.Left(rowName), render.TypeLabel, render.InkSecondary, name)
	room := k.Rest().Dx() * 100 / int(u.Scene().Scale)
	value = k.Left(max(min(rowValue, room-8-leastFrom), min(100, room)))
	return value, k.Rest()
}

// wide gives the place of a value that nothing stands beside, after setting its name.
func (c *rows) wide(name string) image.Rectangle {
	u := c.p.h.UI()
	k := u.Stack(c.k.Top(rowHigh-4), 8)
	u.Label(k.Left(rowName), render.TypeLabel, render.InkSecondary, name)
	return k.Rest()
}

// notGiven stands where nothing is known.
const notGiven = "not given"

// fact is a row that cannot be typed into.
func (c *rows) fact(name, value, source string) {
	u := c.p.h.UI()
	s := u.Scene()
	v, src := c.row(name)
	ink := render.InkSecondary
	if value == "" {
		value, ink = notGiven, render.InkFaint
		for x := v.Min.X; x < v.Max.X; x += s.Px(6) { // dashed: there is nothing in it
			s.Rect(image.Rect(x, v.Min.Y, min(x+s.Px(3), v.Max.X), v.Min.Y+s.Px(1)), render.InkEdge)
			s.Rect(image.Rect(x, v.Max.Y-s.Px(1), min(x+s.Px(3), v.Max.X), v.Max.Y), render.InkEdge)
		}
	} else {
		s.Frame(v, s.Px(1), render.InkBar)
	}
	u.Label(image.Rect(v.Min.X+s.Px(8), v.Min.Y, v.Max.X-s.Px(4), v.Max.Y), render.TypeLabel, ink, value)
	u.Label(src, render.TypeSmall, render.InkSecondary, source)
}

// field is a row of a field of the records. from is what holds where they say nothing, "" where nothing does; source draws into what is right of it,
// where there is anything to say.
func (c *rows) field(name, from string, source func(image.Rectangle)) {
	f := c.kind.Field(name)
	var v image.Rectangle
	if source == nil {
		v = c.wide(page.Label(name))
	} else {
		var src image.Rectangle
		v, src = c.row(page.Label(name))
		source(src)
	}
	c.p.value(v, c.kind, f, c.refs, c.recs, c.n, from)
	c.n++
}

// inherited is a row of a field that something else gives where the records do not.
func (c *rows) inherited(name, unit string, show func(string) string) {
	v, alike := c.given(name)
	with := func(text string) string { return strings.TrimSpace(show(text) + " " + unit) }
	from := ""
	switch {
	case !alike || v.Several > 1:
		from = c.between(name, with)
	case !v.Own && v.Text != "":
		from = with(v.Text)
	case !v.Own:
		from = notGiven
	}
	c.field(name, from, func(src image.Rectangle) { c.source(src, name, v, alike, with) })
}

// given gives where the value of a field comes from; alike is false where the records do not have it alike.
func (c *rows) given(name string) (first given.Value, alike bool) {
	first, _ = c.from[0].of(name)
	for _, h := range c.from[1:] {
		if v, _ := h.of(name); v != first {
			return first, false
		}
	}
	return first, true
}

// between names the values of a field that the records have: alike, from the least to the most, or how many there are.
func (c *rows) between(name string, with func(string) string) string {
	var all []string
	seen := map[string]bool{"": true}
	for _, h := range c.from {
		g, _ := h.of(name)
		for _, t := range [...]string{g.Text, g.Low, g.High} {
			if !seen[t] {
				seen[t], all = true, append(all, t)
			}
		}
	}
	return spread(all, len(c.kind.Field(name).Ref) > 0, with)
}

// source says where a value comes from and leads there; an own one can be given back.
func (c *rows) source(r image.Rectangle, name string, v given.Value, alike bool, with func(string) string) {
	p := c.p
	u := p.h.UI()
	own := 0
	for _, h := range c.from {
		if g, _ := h.of(name); g.Own {
			own++
		}
	}
	k := u.Stack(r, 4)
	if own > 0 {
		u.Push("back-" + name)
		if u.IconButton("back", k.Left(24), "←", "Gives the own value back: what stands above says then", "") {
			p.Assign(c.kind.Field(name), c.refs, "")
		}
		u.Pop()
	}
	switch {
	case !alike && own > 0:
		u.Label(k.Rest(), render.TypeSmall, render.InkText, timeline.Counted(own, "own value"))
	case !alike:
		u.Label(k.Rest(), render.TypeSmall, render.InkSecondary, "each its own")
	case own > 0:
		text := "own"
		if v.Instead != "" {
			text += " · else " + with(v.Instead)
		}
		u.Label(k.Rest(), render.TypeSmall, render.InkText, text)
	case v.From.ID == "":
		text := sourceWords(v)
		if v.From.Kind == "night" && v.Instead != "" {
			text += " · tour: " + with(v.Instead)
		}
		u.Label(k.Rest(), render.TypeSmall, render.InkSecondary, text)
	default:
		text := sourceWords(v)
		if u.Link("source-"+name, k.Rest(), text) {
			p.h.Beside(v.From)
		}
		if rec := page.Find(p.h.Show(), v.From); rec != nil {
			u.Tip("Shows "+text+": "+p.h.Show().CalledIn(v.From.Song, rec), "")
		}
	}
}

// sourceWords names what gives a value that is not the record's own, and how well it is known.
func sourceWords(v given.Value) string {
	switch v.From.Kind {
	case "lane":
		return "from the lane"
	case "placed":
		return "from the rig"
	case "article":
		if v.From.ID == "" {
			return "from several articles"
		}
		return "article · " + string(v.Mark)
	case "night":
		return "swapped tonight"
	}
	return "nothing gives it"
}
