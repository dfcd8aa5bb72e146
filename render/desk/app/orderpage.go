package app

import (
	"fmt"
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// orderPage shows the running orders: sets at the left, the songs of one in order, and what changes of it do to the findings.
func (a *App) orderPage(r image.Rectangle) {
	u := a.ui
	k := u.Stack(r, 8)
	a.setTabs(k.Top(widget.RowHeight))
	a.commandButtons(&k, []string{"set-new", "set-copy", "set-remove", "set-play"})
	set := a.shownSet()
	if set == nil {
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkFaint, "The show has no set yet, so that all songs are played by timecode. The button New set makes one of them.")
		return
	}
	a.commandButtons(&k, []string{"set-songs", "set-up", "set-down", "set-move", "set-order", "set-out", "set-gap", "set-encore", "set-join", "set-part", "set-take"})
	foot := k.Bottom(max(min(k.Rest().Dy()*100/int(u.Scene().Scale)*2/5, 240), 110))
	lines, length := a.work.setLines(set)
	a.entryFields(k.Bottom(widget.RowHeight), set)
	a.orderTable(k.Rest(), set, lines)
	a.orderDiff(foot, set, lines, length)
}

// setTabs chooses the set that is shown.
func (a *App) setTabs(r image.Rectangle) {
	u, w := a.ui, a.work
	row := u.Stack(r, 8)
	names, at := []string{}, -1
	for i, s := range w.shown.Sets {
		name := s.Name
		if s == w.plan.Set {
			name += " (played)"
		}
		names = append(names, name)
		if s == a.shownSet() {
			at = i
		}
	}
	why := ""
	if len(names) == 0 {
		why = "the show has no set yet"
	}
	u.Label(row.Left(30), render.TypeLabel, render.InkSecondary, "Set")
	if now, changed := u.Off(why).Dropdown("set", row.Left(250), names, at); changed {
		a.showSet(w.shown.Sets[now].ID)
	}
	set := a.shownSet()
	if set == nil {
		return
	}
	u.PushOff(needEdit(a))
	defer u.PopOff()
	u.Label(row.Left(46), render.TypeLabel, render.InkSecondary, "Name")
	if e := u.TextField("set-name", row.Left(200), set.Name, widget.TextSpec{}); e.Committed {
		a.do(change{"rename set", []timeline.Edit{a.work.plan.Assign(timeline.Ref{Kind: "set", ID: set.ID}, timeline.Assignment{Field: "name", Op: timeline.AssignSet, Text: e.Text})}})
	}
}

// orderTable lists the songs of a set; rows can be dragged to another place.
func (a *App) orderTable(r image.Rectangle, set *timeline.Set, lines []setLine) {
	u, o := a.ui, &a.order
	if a.book.fresh {
		u.Focus("entries")
		if o.rows.Count() == 0 && len(lines) > 0 {
			o.rows.Only(0)
		}
	}
	spec := widget.TableSpec{Rows: len(lines), Multi: true, Empty: "No song stands in this set. Press " + a.key("row-add") + " to add some.",
		Columns: []widget.Column{{Title: "No", Width: 40, Right: true}, {Title: "Song"}, {Title: "Timecode", Width: 100}, {Title: "Set time", Width: 76, Right: true},
			{Title: "Length", Width: 70, Right: true}, {Title: "Gap after", Width: 78, Right: true}, {Title: "Talk", Width: 130}, {Title: "", Width: 150}},
		Cell: func(b []byte, row, col int) []byte { return append(b, a.orderCell(&lines[row], col)...) },
		Ink: func(row int) render.Ink {
			if lines[row].number == 0 {
				return render.InkFaint
			}
			return render.InkText
		}}
	if o.dragged {
		spec.Mark = o.over + 1
	}
	e := u.Table("entries", r, &o.rows, &spec)
	a.orderDrag(&e, set)
	if e.Used && e.Row < len(lines) && lines[e.Row].song != nil {
		a.turn("")
		a.goSong(lines[e.Row].song.ID)
	}
	a.book.refs = []timeline.Ref{{Kind: "set", ID: set.ID}}
	if list := a.chosenEntries(); len(list) > 0 && lines[list[0]].song != nil {
		a.book.refs = []timeline.Ref{{Kind: "song", ID: set.Entries[list[0]].Song}}
	}
}

// orderDrag follows a row that is dragged, and moves it when it is let go.
func (a *App) orderDrag(e *widget.TableEvent, set *timeline.Set) {
	o := &a.order
	switch {
	case e.Changed && a.in.Pressed&widget.Primary != 0 && a.in.Mods == 0 && needEdit(a) == "":
		o.grab, o.dragged = o.rows.Cursor, false
	case o.grab >= 0 && e.Held:
		if a.ui.Take(widget.KeyEscape, 0) {
			o.grab, o.dragged = -1, false
			return
		}
		o.over = e.Over
		o.dragged = o.dragged || o.over < o.grab || o.over > o.grab+1
		a.again = a.again || a.in.Released != 0
	case o.grab >= 0:
		if to := o.place(); o.dragged && to != o.grab && o.grab < len(set.Entries) {
			a.moveEntry(o.grab, to)
		}
		o.grab, o.dragged = -1, false
	}
}

// place gives the index at which the dragged entry would stand.
func (o *order) place() int {
	if o.over > o.grab {
		return o.over - 1
	}
	return o.over
}

func (a *App) orderCell(l *setLine, col int) string {
	if l.song == nil && col == 1 {
		return string(l.Entry.Song) + " (gone)"
	}
	if l.song == nil {
		return ""
	}
	switch col {
	case 0:
		if l.number > 0 {
			return fmt.Sprint(l.number)
		}
		return "–"
	case 1:
		return l.song.FullTitle()
	case 2:
		return l.song.Start.String()
	case 3:
		if l.number > 0 {
			return l.at.Clock(0)
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

// remark says what is special about an entry.
func (l *setLine) remark() string {
	text := ""
	add := func(on bool, word string) {
		if on && text != "" {
			text += ", "
		}
		if on {
			text += word
		}
	}
	add(l.Out, "left out")
	add(l.cut, "cut for the night")
	add(l.Encore, "encore")
	add(l.Alt != "", "alternative "+l.Alt)
	return text
}

// secondsSpec is how gaps are typed.
var secondsSpec = widget.NumberSpec{Units: []widget.Unit{{Name: "s", Num: 10000, Den: 1}, {Name: "min", Num: 600000, Den: 1}, {Name: "ms", Num: 10, Den: 1}}, Digits: 2, Min: 0, Max: 36000000, Step: 50000, Fine: 10000, Big: 600000}

// entryFields draws what can be set of the chosen entry.
func (a *App) entryFields(r image.Rectangle, set *timeline.Set) {
	u := a.ui
	row := u.Stack(r, 8)
	list := a.chosenEntries()
	u.PushOff(needEntry(a))
	defer u.PopOff()
	var e timeline.Entry
	if len(list) > 0 {
		e = set.Entries[list[0]]
		u.Push(fmt.Sprint(list[0]))
		defer u.Pop()
	}
	u.Label(row.Left(66), render.TypeLabel, render.InkSecondary, "Gap after")
	if n := u.Number("gap", row.Left(96), int64(e.Gap/timeline.EntryStep), &secondsSpec); n.Changed {
		gap := timeline.Time(n.Value) * timeline.EntryStep
		a.changeEntries("set gap to "+gap.Text(2)+" s after", func(e *timeline.Entry) { e.Gap = gap })
	}
	u.Tip("From the end of this song to the start of the next: changeover, talk, applause; supplies can be swapped in it", "")
	u.Label(row.Left(34), render.TypeLabel, render.InkSecondary, "Talk")
	if t := u.TextField("talk", row.Left(190), e.Talk, widget.TextSpec{Hint: "what happens in the gap"}); t.Committed {
		a.changeEntries("say what happens after", func(e *timeline.Entry) { e.Talk = t.Text })
	}
	if on := u.Checkbox("encore", row.Left(90), "Encore", e.Encore); on != e.Encore {
		a.toggleEncore()
	}
	if on := u.Checkbox("out", row.Left(96), "Left out", e.Out); on != e.Out {
		a.toggleOut()
	}
}

// orderDiff says how long the set plays and what the last change, or the drag that is going on, does to the findings.
func (a *App) orderDiff(r image.Rectangle, set *timeline.Set, lines []setLine, length timeline.Time) {
	u, o, w := a.ui, &a.order, a.work
	k := u.Stack(r, 4)
	n := 0
	alternatives := slices.ContainsFunc(lines, func(l setLine) bool { return l.Alt != "" && l.number > 0 })
	for i := range lines {
		n = max(n, lines[i].number)
	}
	text := fmt.Sprintf("%s, %s with gaps", counted(n, "song"), length.Clock(0))
	if alternatives {
		text += "; of alternatives the longest counts"
	}
	if set != w.plan.Set {
		text += ". It is not the set that is played now: the findings below are of another"
	}
	u.Label(k.Top(22), render.TypeStrong, render.InkText, text)
	if o.dragged && o.place() != o.grab && set == w.plan.Set {
		f := a.foresee(fmt.Sprintf("order %s %d %d", set.ID, o.grab, o.place()), timeline.MoveEntry(set.ID, o.grab, o.place()))
		u.Label(k.Top(20), render.TypeLabel, render.InkText, "Here: "+f.text())
		if f != nil && f.done {
			a.diffTable("diff", k.Rest(), &o.diff, f.Findings, "No finding comes or goes.")
		}
		return
	}
	u.Label(k.Top(20), render.TypeLabel, render.InkSecondary, w.deltaText())
	a.diffTable("diff", k.Rest(), &o.diff, w.delta, "Move, leave out or bring in a song: the findings that come and go stand here, while it is dragged and after.")
}
