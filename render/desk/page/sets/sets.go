package sets

import (
	"fmt"
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// ID is that of the page.
const ID = "sets"

// Sets is the page with what it remembers.
type Sets struct {
	Rows    widget.Selection // entries
	Dragged bool             // an entry is on its way

	h    page.Host
	set  timeline.ID // chosen to be shown; "" is the one that is played
	diff widget.Selection
	grab int // entry that the pointer took hold of, -1 for none
	over int // where it would go
}

// New gives the page of sets and its commands.
func New(h page.Host) page.Family {
	p := &Sets{h: h, grab: -1}
	commands := p.commands()
	return page.Family{State: p, Commands: commands, Pages: []page.Page{{ID: ID, Name: "Sets", Part: "Nights", Keys: []string{"Ctrl+6"}, Kind: "set", Draw: p.draw, Acts: acts(commands),
		Help: "running orders: drag songs or move them with Alt+↑ ↓; new and cleared findings stand below"}}}
}

// Shown gives the set on the page: the one chosen there, else the one that is played; nil where the show has none.
func (p *Sets) Shown() *timeline.Set {
	if s := p.h.Show().Set(p.set); s != nil {
		return s
	}
	return p.h.Plan().Set
}

// Show brings a set onto the page, "" the one that is played.
func (p *Sets) Show(id timeline.ID) {
	p.set = id
	p.Rows = widget.Selection{}
	p.h.Again()
}

// draw shows the running orders: sets at the top, the songs of one in order, and what changes of it do to the findings.
func (p *Sets) draw(r image.Rectangle) {
	u := p.h.UI()
	k := u.Stack(r, 8)
	p.tabs(k.Top(widget.RowHeight))
	p.h.Buttons(&k, "set-new", "set-copy", "set-remove", "set-play")
	set := p.Shown()
	if set == nil {
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkFaint, "The show has no set yet, so that all songs are played by timecode. The button New set makes one of them.")
		return
	}
	p.h.Buttons(&k, "set-songs", "set-paste", "set-up", "set-down", "set-move", "set-order", "set-out", "set-gap", "set-encore", "set-join", "set-part", "set-version", "set-take")
	foot := k.Bottom(max(min(k.Rest().Dy()*100/int(u.Scene().Scale)*2/5, 240), 110))
	lines, length := Lines(p.h.Plan(), set)
	p.fields(k.Bottom(widget.RowHeight), set)
	p.table(k.Rest(), set, lines)
	p.foot(foot, set, lines, length)
}

// tabs chooses the set that is shown.
func (p *Sets) tabs(r image.Rectangle) {
	u, show := p.h.UI(), p.h.Show()
	row := u.Stack(r, 8)
	names, at := []string{}, -1
	for i, s := range show.Sets {
		name := s.Name
		if s == p.h.Plan().Set {
			name += " (played)"
		}
		names = append(names, name)
		if s == p.Shown() {
			at = i
		}
	}
	why := ""
	if len(names) == 0 {
		why = "the show has no set yet"
	}
	u.Label(row.Left(30), render.TypeLabel, render.InkSecondary, "Set")
	if now, changed := u.Off(why).Dropdown("set", row.Left(250), names, at); changed {
		p.Show(show.Sets[now].ID)
	}
	set := p.Shown()
	if set == nil {
		return
	}
	u.PushOff(page.NeedEdit(p.h))
	defer u.PopOff()
	u.Label(row.Left(46), render.TypeLabel, render.InkSecondary, "Name")
	if e := u.TextField("set-name", row.Left(200), set.Name, widget.TextSpec{}); e.Committed {
		p.h.Do("rename set", p.h.Plan().Assign(timeline.Ref{Kind: "set", ID: set.ID}, timeline.Assignment{Field: "name", Op: timeline.AssignSet, Text: e.Text}))
	}
}

// foot says how long the set plays and what the last change, or the drag that is going on, does to the findings.
func (p *Sets) foot(r image.Rectangle, set *timeline.Set, lines []Line, length timeline.Time) {
	u := p.h.UI()
	k := u.Stack(r, 4)
	n := 0
	alternatives := slices.ContainsFunc(lines, func(l Line) bool { return l.Alt != "" && l.Number > 0 })
	for i := range lines {
		n = max(n, lines[i].Number)
	}
	text := fmt.Sprintf("%s, %s with gaps", timeline.Counted(n, "song"), length.Clock(0))
	if alternatives {
		text += "; of alternatives the longest counts"
	}
	played := set == p.h.Plan().Set
	if !played {
		text += ". It is not the set that is played now: the findings below are of another"
	}
	u.Label(k.Top(22), render.TypeStrong, render.InkText, text)
	if p.Dragged && p.place() != p.grab && played {
		p.h.Foresee(&k, &p.diff, page.MoveKey(set, p.grab, p.place()), timeline.MoveEntry(set.ID, p.grab, p.place()))
		return
	}
	p.h.Delta(&k, &p.diff, "Move, leave out or bring in a song: the findings that come and go stand here, while it is dragged and after.")
}
