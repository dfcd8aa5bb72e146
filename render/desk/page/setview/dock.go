package setview

import (
	"context"
	"fmt"
	"image"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/shows/report/course"
	"emberbeat/shows/report/evening"
	"emberbeat/timeline"
)

// dock says beside the picture what stands at the pointer, what is worst and what can be done about it, and how another set or night differs; while a
// song is dragged, what its move would bring.
func (p *View) dock(r image.Rectangle, plan *timeline.Plan) {
	u := p.h.UI()
	u.Scene().Rect(r, render.InkPanel)
	k := u.Stack(u.Inset(r, 8), 4)
	p.values(&k)
	k.Top(4)
	if g := p.Moved; g != nil && g.plan != nil {
		if set, a, z := g.ends(); a >= 0 && z >= 0 {
			u.Label(k.Top(20), render.TypeStrong, render.InkText, fmt.Sprintf("As number %d", g.To+1))
			p.h.Foresee(&k, &p.foresee, page.MoveKey(set, a, z), timeline.MoveEntry(set.ID, a, z))
			return
		}
	}
	if p.Beside != "" {
		p.compared(&k)
		return
	}
	p.trouble(&k)
}

// values reads the evening at the pointer, else at the start of the chosen song.
func (p *View) values(k *widget.Stack) {
	u := p.h.UI()
	c := p.view.Course
	at := p.view.Cursor
	if at == nil || at.Song >= len(c.Songs) {
		at = &course.Place{Song: min(p.at(), len(c.Songs)-1)}
	}
	s := &c.Songs[at.Song]
	v := c.At(*at)
	u.Label(k.Top(22), render.TypeTitle, render.InkText, fmt.Sprintf("%d %s", s.Number, s.Song.FullTitle()))
	where := s.Label(at.At) + " · set " + (s.At + at.At).Clock(0)
	if beats := s.Song.Beats; !beats.Empty() && v.Plays {
		bar, beat := beats.Locate(at.At).Spoken()
		where = "bar " + bar + " beat " + beat + " · " + where
	}
	if !v.Plays {
		where = "changeover · " + where
	}
	u.Label(k.Top(18), render.TypeSmall, render.InkSecondary, where)
	line := func(name, value string, sign render.Severity, bad bool) {
		row := k.Top(20)
		in := u.Stack(row, 6)
		if badge := in.Right(render.BadgeSize); bad {
			u.Scene().Badge(image.Pt(badge.Min.X, (badge.Min.Y+badge.Max.Y-u.Px(render.BadgeSize))/2), sign)
		}
		u.Label(in.Left(112), render.TypeSmall, render.InkSecondary, name)
		u.Label(in.Rest(), render.TypeLabel, render.InkText, value)
	}
	line("Hits in 10 s", fmt.Sprintf("%d, limit %d", v.Hits, c.Limit), render.SevNote, v.Hits > c.Limit)
	line("Open at once", fmt.Sprint(v.Open), 0, false)
	for i, left := range v.Left {
		x := &c.Supplies[i]
		if i == mostValues {
			line("", fmt.Sprintf("%d supplies more", len(v.Left)-i), 0, false)
			break
		}
		text := "not given"
		if x.Full > 0 {
			text = fmt.Sprintf("%s, %.0f %%", p.h.Show().Told().Say("kg", left, 1), 100*left/x.Full)
		}
		line(x.Name, text, render.SevError, x.Full > 0 && left < 0)
	}
	if c.Singles > 0 {
		line("Single use fired", fmt.Sprintf("%d of %d", v.Fired, c.Singles), 0, false)
	}
	if len(c.Arms) > 0 {
		up := "none planned up"
		if len(v.Armed) > 0 {
			up = strings.Join(v.Armed, ", ")
		}
		line("Arms, planned", up, 0, false)
	}
}

// mostValues is how many supplies are read out.
const mostValues = 6

// trouble says what is worst, with the ways out of it that there are.
func (p *View) trouble(k *widget.Stack) {
	u := p.h.UI()
	g := p.worst()
	if g == nil {
		u.Paragraph(k.Top(60), render.TypeLabel, render.InkSecondary, page.Upper(p.h.Summary())+".")
		return
	}
	s := u.Scene()
	head := k.Top(22)
	s.Badge(image.Pt(head.Min.X, (head.Min.Y+head.Max.Y-u.Px(render.BadgeSize))/2), render.SeverityOf(g.Severity))
	head.Min.X += u.Px(render.BadgeSize + 6)
	u.Label(head, render.TypeStrong, render.InkText, "Worst: "+g.Rule)
	para := func(text string, ink render.Ink) {
		h := u.ParagraphHeight(k.Rest().Dx(), render.TypeSmall, text) * 100 / int(s.Scale)
		if h <= k.Rest().Dy()*100/int(s.Scale) {
			u.Paragraph(k.Top(h+2), render.TypeSmall, ink, text)
		}
	}
	para(page.Upper(g.Title)+"; "+g.Where+".", render.InkText)
	if g.Cause != "" {
		para(page.Upper(g.Cause)+".", render.InkSecondary)
	}
	first := &p.found[p.first(g)]
	para("A way: "+first.Help+".", render.InkSecondary)
	if x := g.Fix; x != nil {
		label := page.Upper(x.Label)
		if u.Off(page.NeedEdit(p.h)).Button("worst-fix", k.Top(widget.RowHeight), label) {
			p.h.Do(x.Label, x.Edits...)
		}
		u.Tip("Makes this change as one step; undo takes it back", "")
		if text, known := p.h.Would("group "+g.Rule+" "+g.Cause+" "+g.Where, x.Edits...); known {
			para(text, render.InkSecondary)
		}
	}
	if u.Button("worst-go", k.Top(widget.RowHeight), "Go there") {
		p.h.Use("set-worst")
	}
	u.Tip("Goes to the first of them", p.h.Key("set-worst"))
	if n := len(p.h.Groups()); n > 1 {
		u.Label(k.Top(18), render.TypeSmall, render.InkSecondary, fmt.Sprintf("%s more; %s lists them", timeline.Counted(n-1, "group"), p.h.Key("findings")))
	}
}

// comparison is what another set or night comes to beside the one in view.
type comparison struct {
	key   string
	plan  *timeline.Plan // that it is beside
	lines []string
	done  bool
	busy  bool
	err   error
}

// beside is one that can be compared with.
type beside struct {
	key, name string
	set       *timeline.Set
	night     *timeline.Night
}

// others lists what the evening in view can be compared with.
func (p *View) others(plan *timeline.Plan) []beside {
	list := []beside{{name: "Compare with…"}}
	for _, s := range plan.Show.Sets {
		if s != plan.Set {
			list = append(list, beside{key: "set:" + string(s.ID), name: "Set " + s.Name, set: s})
		}
	}
	if plan.Night != nil {
		list = append(list, beside{key: "night:", name: "The tour"})
	}
	for _, n := range plan.Show.Nights {
		if n != plan.Night {
			list = append(list, beside{key: "night:" + string(n.ID), name: "Night " + n.Name, night: n})
		}
	}
	return list
}

// choice draws the choice of what to compare with.
func (p *View) choice(row *widget.Stack, plan *timeline.Plan) {
	u := p.h.UI()
	list := p.others(plan)
	names, at := make([]string, len(list)), 0
	for i, b := range list {
		names[i] = b.name
		if b.key == p.Beside {
			at = i
		}
	}
	p.Beside = list[at].key
	why := ""
	if len(list) == 1 {
		why = "the show has no other set and no night"
	}
	if now, changed := u.Off(why).Dropdown("beside", row.Right(190), names, at); changed {
		p.Beside = list[now].key
		p.h.Again()
	}
	if p.Beside != "" && (p.with.key != p.Beside || p.with.plan != plan) && !p.with.busy {
		p.compare(list[at], plan)
	}
}

// compare compiles the other evening beside the window, and says how both differ.
func (p *View) compare(b beside, plan *timeline.Plan) {
	if b.key != p.Beside {
		return // it was chosen just now, and is taken in the next frame
	}
	p.with = comparison{key: b.key, plan: plan, busy: true}
	p.h.Meanwhile("comparing with "+b.name, func(context.Context, func(float64)) (func(), error) {
		show, night := plan.Show, b.night
		if b.set != nil {
			var err error
			if show, err = show.Edit(playing(plan, b.set.ID)); err != nil {
				return nil, err
			}
			if night = nil; plan.Night != nil {
				night = show.Night(plan.Night.ID)
			}
		}
		lines := evening.Compare(plan, timeline.Compile(show, night)).Lines()
		return func() {
			p.with.lines, p.with.done = lines, true
			p.h.Again()
		}, nil
	}, func(err error) { p.with.busy, p.with.err = false, err })
}

// playing is the edit that plays another set, on the night of a plan or on tour.
func playing(plan *timeline.Plan, set timeline.ID) timeline.Edit {
	if n := plan.Night; n != nil {
		return timeline.EditNight(n.ID, func(_ *timeline.Show, n *timeline.Night) error { n.Set = set; return nil })
	}
	head := *plan.Show.Head
	head.Set = set
	return page.Put("", &head)
}

// compared says how the other evening differs from the one in view.
func (p *View) compared(k *widget.Stack) {
	u := p.h.UI()
	name := ""
	for _, b := range p.others(p.h.Plan()) {
		if b.key == p.Beside {
			name = b.name
		}
	}
	u.Label(k.Top(20), render.TypeStrong, render.InkText, "From this to "+name)
	switch {
	case p.with.err != nil:
		u.Paragraph(k.Rest(), render.TypeSmall, render.InkText, page.Upper(p.with.err.Error())+".")
	case !p.with.done:
		u.Paragraph(k.Rest(), render.TypeSmall, render.InkSecondary, "Compiling it…")
	case len(p.with.lines) == 0:
		u.Paragraph(k.Rest(), render.TypeSmall, render.InkSecondary, "Density, consumption, swap points and timecode are the same.")
	default:
		lines := p.with.lines
		spec := widget.TableSpec{Columns: []widget.Column{{}}, Rows: len(lines), Cell: func(b []byte, row, _ int) []byte { return append(b, lines[row]...) }}
		u.List("differences", k.Rest(), &p.foresee, &spec)
	}
}
