package tonight

import (
	"fmt"
	"image"
	"slices"
	"strings"

	"emberbeat/render"
	"emberbeat/render/causes"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/shows/report/night"
	"emberbeat/timeline"
)

// Saying is a sentence of the page with the way to where it is looked after.
type Saying struct {
	Card  causes.Card
	Label string // of its button
	Lead  func()
}

// mostSaid is how many sentences stand below the one that is worst; the table of all that is to be done has the rest.
const mostSaid = 5

// Sayings gives the worst thing first, with all that is told of it, then what is next to do.
func (p *Tonight) Sayings(t *night.Tonight) []Saying {
	var list []Saying
	if groups := p.h.Groups(); len(groups) > 0 && groups[0].Open() > 0 {
		g := &groups[0]
		at := g.Found[slices.IndexFunc(g.Found, func(i int) bool { return p.h.Findings()[i].Accepted == nil })]
		more := 0
		for i := range groups {
			more += groups[i].Open()
		}
		c := causes.Card{Severity: render.SeverityOf(g.Severity), Title: page.Upper(g.Title), Text: g.Where, Cause: page.Upper(g.Cause), Button: true, Note: fmt.Sprintf("1 of %s", timeline.Counted(len(groups), "cause"))}
		if c.Cause == "" {
			c.Cause = page.Upper(p.h.Findings()[at].Help)
		}
		list = append(list, Saying{c, "Work on it", func() { p.h.GoFinding(at) }})
	}
	said := t.Sentences()
	if s, ok := p.printing(); ok { // before who signs, which is asked last
		at := slices.IndexFunc(said, func(x night.Sentence) bool { return x.Need == night.NeedSign })
		if at < 0 {
			at = len(said)
		}
		said = slices.Insert(said, at, s)
	}
	for _, x := range said[:min(len(said), mostSaid)] {
		severity := render.SevNote
		if x.Grave {
			severity = render.SevWarning
		}
		label, lead := p.wayTo(x)
		list = append(list, Saying{causes.Card{Severity: severity, Title: x.Text, Text: x.Detail, Button: true, Slim: true}, label, lead})
	}
	return list
}

// wayTo gives where a sentence is looked after.
func (p *Tonight) wayTo(x night.Sentence) (label string, lead func()) {
	switch x.Need {
	case night.NeedLost:
		return "Show the song", func() { p.h.Turn("", x.Ref) }
	case night.NeedSupply:
		return "Show it", func() { p.h.Go(x.Ref) }
	case night.NeedClose:
		return "Show the first", func() { p.h.Go(x.Ref) }
	case night.NeedLoad, night.NeedLoaded:
		return "Outputs", p.toPage("outputs")
	case night.NeedPrint:
		return "Print…", func() { p.h.Use("export-all") }
	case night.NeedChanges:
		return "Changes", p.toPage("nights")
	case night.NeedMisfires:
		return "After the show", p.toPage("nights")
	}
	return "Night", p.toPage("nights")
}

// printing says how the sheets stand to what was printed last; ok is false where there is nothing to print.
func (p *Tonight) printing() (s night.Sentence, ok bool) {
	never, again := 0, []string{}
	for _, x := range p.h.Prints() {
		switch x.State {
		case report.NeverPrinted:
			never++
		case report.Changed:
			again = append(again, x.Title)
		}
	}
	var parts []string
	if n := len(again); n > 0 {
		parts = append(parts, timeline.Counted(n, "sheet")+" changed since they were printed")
	}
	if never > 0 {
		parts = append(parts, timeline.Counted(never, "sheet")+" never printed")
	}
	return night.Sentence{Need: night.NeedPrint, Text: strings.Join(parts, ", "), Detail: strings.Join(again, ", "), Grave: len(again) > 0}, len(parts) > 0
}

// songsLeast is the logical height that is left to the tables below the sentences.
const songsLeast = 150

// say draws the sentences that there is room for, and below them in one line what was asked.
func (p *Tonight) say(k *widget.Stack, t *night.Tonight) {
	u := p.h.UI()
	s := u.Scene()
	list := p.Sayings(t)
	room := k.Rest().Dy() - s.Px(songsLeast)
	var cards []causes.Card
	for i := range list {
		if _, high := causes.Place(s.Scale, k.Rest(), append(cards, list[i].Card)); high > room {
			break
		}
		cards = append(cards, list[i].Card)
	}
	if len(cards) > 0 {
		boxes, high := causes.Place(s.Scale, k.Rest(), cards)
		causes.Draw(s, cards, boxes)
		for i := range cards {
			press := u.Button
			if i == 0 {
				press = u.MainButton
			}
			u.PushRow(i)
			if press("way", boxes[i].Button, list[i].Label) {
				list[i].Lead()
			}
			u.Pop()
		}
		k.Top(high*100/int(s.Scale) + 2)
	}
	u.Label(k.Top(18), render.TypeSmall, render.InkSecondary, asked(t))
}

// asked says in a line how many rules were asked, how many are not as they come, and what was compared with nothing.
func asked(t *night.Tonight) string {
	text := timeline.Counted(t.Standing.Rules, "rule") + " asked"
	if n := len(t.Standing.Otherwise); n > 0 {
		text += fmt.Sprintf(", %d off or changed", n)
	}
	if n := len(t.Standing.NoData); n > 0 {
		text += fmt.Sprintf("; not given, so compared with nothing: %s", strings.Join(t.Standing.NoData, ", "))
	}
	return text
}

// bands are the hits of each song over its time, by what class most of them are.
type bands struct {
	of    *timeline.Plan
	songs [][bandParts]band
	most  int
}

// bandParts is in how many parts the time of a song is shown.
const bandParts = 28

type band struct {
	hits int
	ink  render.Ink
}

// gather counts them, once for a plan.
func (b *bands) gather(p *timeline.Plan) {
	if b.of == p {
		return
	}
	*b = bands{of: p}
	for i := range p.Songs {
		var parts [bandParts]band
		var classes [bandParts]map[timeline.Class]int
		long := max(p.Songs[i].Duration, 1)
		for k := range p.Songs[i].Commands {
			c := &p.Songs[i].Commands[k]
			at := min(max(int(float64(c.Hit)/float64(long)*bandParts), 0), bandParts-1)
			if classes[at] == nil {
				classes[at] = map[timeline.Class]int{}
			}
			class := c.Article.Family.Class()
			classes[at][class]++
			if x := &parts[at]; true {
				x.hits++
				b.most = max(b.most, x.hits)
				if x.hits == 1 || classes[at][class]*2 > x.hits {
					x.ink = render.InkOf(class)
				}
			}
		}
		b.songs = append(b.songs, parts)
	}
}

// draw draws the band of a song.
func (b *bands) draw(s *render.Scene, song int, r image.Rectangle) {
	if song >= len(b.songs) || b.most == 0 {
		return
	}
	r = image.Rect(r.Min.X, r.Min.Y+s.Px(3), r.Max.X-s.Px(6), r.Max.Y-s.Px(3))
	for i, x := range b.songs[song] {
		if x.hits == 0 {
			continue
		}
		high := max(r.Dy()*x.hits/b.most, s.Px(2))
		from, to := r.Min.X+r.Dx()*i/bandParts, r.Min.X+r.Dx()*(i+1)/bandParts-s.Px(1)
		s.Rect(image.Rect(from, r.Max.Y-high, max(to, from+1), r.Max.Y), x.ink)
	}
}
