package sets

import (
	"fmt"
	"image"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// table lists the songs of a set; rows can be dragged to another place.
func (p *Sets) table(r image.Rectangle, set *timeline.Set, lines []Line) {
	u := p.h.UI()
	if p.h.Fresh() {
		u.Focus("entries")
		if p.Rows.Count() == 0 && len(lines) > 0 {
			p.Rows.Only(0)
		}
	}
	spec := widget.TableSpec{Rows: len(lines), Multi: true, Empty: "No song stands in this set. Press " + p.h.Key("row-add") + " to add some.",
		Columns: []widget.Column{{Title: "No", Width: 40, Right: true}, {Title: "Song"}, {Title: "Timecode", Width: 100}, {Title: "Set time", Width: 76, Right: true},
			{Title: "Length", Width: 70, Right: true}, {Title: "Gap after", Width: 78, Right: true}, {Title: "Talk", Width: 130}, {Title: "", Width: 150}},
		Cell: func(b []byte, row, col int) []byte { return append(b, lines[row].cell(col)...) },
		Ink: func(row int) render.Ink {
			if lines[row].Number == 0 {
				return render.InkFaint
			}
			return render.InkText
		}}
	if p.Dragged {
		spec.Mark = p.over + 1
	}
	e := u.Table("entries", r, &p.Rows, &spec)
	p.drag(&e, set)
	if e.Used && e.Row < len(lines) && lines[e.Row].song != nil {
		p.h.Turn("", timeline.Ref{Kind: "song", ID: lines[e.Row].song.ID})
	}
	p.h.Choose(timeline.Ref{Kind: "set", ID: set.ID})
	if list := p.chosen(); len(list) > 0 && lines[list[0]].song != nil {
		p.h.Choose(timeline.Ref{Kind: "song", ID: set.Entries[list[0]].Song})
	}
}

// drag follows a row that is dragged, and moves it when it is let go.
func (p *Sets) drag(e *widget.TableEvent, set *timeline.Set) {
	in := p.h.UI().Input()
	switch {
	case e.Changed && in.Pressed&widget.Primary != 0 && in.Mods == 0 && page.NeedEdit(p.h) == "":
		p.grab, p.Dragged = p.Rows.Cursor, false
	case p.grab >= 0 && e.Held:
		if p.h.UI().Take(widget.KeyEscape, 0) {
			p.grab, p.Dragged = -1, false
			return
		}
		p.over = e.Over
		p.Dragged = p.Dragged || p.over < p.grab || p.over > p.grab+1
		if in.Released != 0 {
			p.h.Again()
		}
	case p.grab >= 0:
		if to := p.place(); p.Dragged && to != p.grab && p.grab < len(set.Entries) {
			p.move(p.grab, to)
		}
		p.grab, p.Dragged = -1, false
	}
}

// place gives the index at which the dragged entry would stand.
func (p *Sets) place() int {
	if p.over > p.grab {
		return p.over - 1
	}
	return p.over
}

// cell gives the text of a column.
func (l *Line) cell(col int) string {
	if l.song == nil && col == 1 {
		return string(l.Entry.Song) + " (gone)"
	}
	if l.song == nil {
		return ""
	}
	switch col {
	case 0:
		if l.Number > 0 {
			return fmt.Sprint(l.Number)
		}
		return "–"
	case 1:
		return l.song.FullTitle()
	case 2:
		return l.song.Start.String()
	case 3:
		if l.Number > 0 {
			return l.At.Clock(0)
		}
	case 4:
		return l.song.Duration().Clock(0)
	case 5:
		if l.Gap != 0 {
			return l.Gap.Text(1) + " s"
		}
	case 6:
		return l.Talk
	case 7:
		return l.remark()
	}
	return ""
}

// seconds is how gaps are typed.
var seconds = widget.NumberSpec{Units: []widget.Unit{{Name: "s", Num: 10000, Den: 1}, {Name: "min", Num: 600000, Den: 1}, {Name: "ms", Num: 10, Den: 1}}, Digits: 2, Min: 0, Max: 36000000, Step: 50000, Fine: 10000, Big: 600000}

// fields draws what can be set of the chosen entry.
func (p *Sets) fields(r image.Rectangle, set *timeline.Set) {
	u := p.h.UI()
	row := u.Stack(r, 8)
	list := p.chosen()
	u.PushOff(p.needEntry())
	defer u.PopOff()
	var e timeline.Entry
	if len(list) > 0 {
		e = set.Entries[list[0]]
		u.Push(fmt.Sprint(list[0]))
		defer u.Pop()
	}
	u.Label(row.Left(66), render.TypeLabel, render.InkSecondary, "Gap after")
	if n := u.Number("gap", row.Left(96), int64(e.Gap/timeline.EntryStep), &seconds); n.Changed {
		gap := timeline.Time(n.Value) * timeline.EntryStep
		p.change("set gap to "+gap.Text(2)+" s after", func(e *timeline.Entry) { e.Gap = gap })
	}
	u.Tip("From the end of this song to the start of the next: changeover, talk, applause; supplies can be swapped in it", "")
	u.Label(row.Left(34), render.TypeLabel, render.InkSecondary, "Talk")
	if t := u.TextField("talk", row.Left(190), e.Talk, widget.TextSpec{Hint: "what happens in the gap"}); t.Committed {
		p.change("say what happens after", func(e *timeline.Entry) { e.Talk = t.Text })
	}
	if on := u.Checkbox("encore", row.Left(90), "Encore", e.Encore); on != e.Encore {
		p.toggleEncore()
	}
	if on := u.Checkbox("out", row.Left(96), "Left out", e.Out); on != e.Out {
		p.toggleOut()
	}
}
