package app

import (
	"fmt"
	"image"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// nightsPage is what the page of nights remembers.
type nightsPage struct {
	rows, diff widget.Selection
}

// nightPage shows one night: what is played where, and all that is otherwise than on tour.
func (a *App) nightPage(r image.Rectangle) {
	u, w := a.ui, a.work
	k := u.Stack(r, 8)
	a.nightHead(k.Top(widget.RowHeight))
	n := w.plan.Night
	a.commandButtons(&k, []string{"night-new", "night-like", "night-remove"})
	if n == nil {
		text := "This is the tour itself, no night. Choose a night above, or make one: it takes the tour's set to a date and a place, and says what is otherwise there. The tour stays as it is."
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkFaint, text)
		return
	}
	a.book.refs = []timeline.Ref{{Kind: "night", ID: n.ID}}
	a.nightForm(&k, n)
	a.commandButtons(&k, []string{"night-cut", "night-swap", "night-out", "night-plug", "night-shift", "night-condition", "night-distance", "night-fill", "aftershow", "night-drop"})
	foot := u.Stack(k.Bottom(max(min(k.Rest().Dy()*100/int(u.Scene().Scale)*2/5, 230), 100)), 4)
	u.Label(foot.Top(20), render.TypeLabel, render.InkSecondary, w.deltaText())
	a.diffTable("diff", foot.Rest(), &a.nights.diff, w.delta, "Cut or swap something: the findings that come and go stand here after, and in the dialog before.")
	a.nightTable(k.Rest(), n)
}

// nightHead chooses the night.
func (a *App) nightHead(r image.Rectangle) {
	u := a.ui
	row := u.Stack(r, 8)
	u.Label(row.Left(40), render.TypeLabel, render.InkSecondary, "Night")
	a.nightChoice(row.Left(320))
	if n := a.work.plan.Night; n != nil {
		var what []string
		for _, x := range []struct {
			n    int
			word string
		}{{len(n.Cuts), "cut"}, {len(n.Swaps), "swap"}, {len(n.Rig), "rig change"}, {len(n.Accepted), "acceptance"}} {
			if x.n > 0 {
				what = append(what, counted(x.n, x.word))
			}
		}
		u.Label(row.Rest(), render.TypeSmall, render.InkSecondary, strings.Join(what, ", "))
	}
}

// nightForm draws the plain fields of a night in two columns.
func (a *App) nightForm(k *widget.Stack, n *timeline.Night) {
	u := a.ui
	kind := timeline.KindOf("night")
	refs, recs := []timeline.Ref{{Kind: "night", ID: n.ID}}, []timeline.Record{n}
	area := k.Top(4*(widget.RowHeight+6) - 6)
	u.Push(string(n.ID))
	defer u.Pop()
	left, right := u.Form(widget.Columns(area, 2, 0, u.Px(16)), 84), u.Form(widget.Columns(area, 2, 1, u.Px(16)), 84)
	for _, name := range []string{"name", "date", "revision", "slug"} {
		a.field(&left, kind, kind.Field(name), refs, recs, -1)
	}
	for _, name := range []string{"set", "venue", "note"} {
		a.field(&right, kind, kind.Field(name), refs, recs, -1)
	}
	u.Label(right.Row(""), render.TypeSmall, render.InkSecondary, a.nightPlace(n))
}

// nightPlace says what is known of the night's venue.
func (a *App) nightPlace(n *timeline.Night) string {
	v := a.work.shown.Venue(n.Venue)
	if v == nil {
		return "no venue: nothing is compared with a place"
	}
	text := "trim height " + metresGiven(v.Trim) + ", " + counted(len(v.Audience), "audience line")
	if len(v.Banned) > 0 {
		text += ", banned: " + strings.Join(v.Banned, ", ")
	}
	return text
}

// metresGiven writes a length of a venue; 0 is not given.
func metresGiven(m float64) string {
	if m == 0 {
		return "not given"
	}
	return render.Metres(m)
}

// nightTable lists all that is otherwise on a night.
func (a *App) nightTable(r image.Rectangle, n *timeline.Night) {
	u := a.ui
	rows := a.nightRows(n)
	if a.book.fresh {
		u.Focus("changes")
	}
	spec := widget.TableSpec{Rows: len(rows), Multi: true, Empty: "Nothing is otherwise than on tour. The buttons above cut, swap, take out and move for this night alone.",
		Columns: []widget.Column{{Title: "", Width: 84}, {Title: "What"}, {Title: "Cues", Width: 56, Right: true}, {Title: "Reason, clause or name"}},
		Cell:    func(b []byte, row, col int) []byte { return append(b, nightCell(&rows[row], col)...) }}
	u.Table("changes", r, &a.nights.rows, &spec)
}

// onNights says why nothing can be done to nights here.
func onNights(a *App) string {
	if why := needShow(a); why != "" {
		return why
	}
	return needEdit(a)
}

func needNight(a *App) string {
	if why := onNights(a); why != "" {
		return why
	}
	if a.work.plan.Night == nil {
		why := "choose a night first, at the top right"
		if key := a.key("night"); key != "" {
			why += " or with " + key
		}
		return why
	}
	return ""
}

// needSupply says why nothing can be weighed.
func needSupply(a *App) string {
	if why := needNight(a); why != "" {
		return why
	}
	if len(a.work.shown.Rig.Supplies) == 0 {
		return "the rig has no supply yet: add one on the page Supplies"
	}
	return ""
}

func needNightRow(a *App) string {
	if why := needNight(a); why != "" {
		return why
	}
	if a.book.at != "nights" || len(a.chosenNightRows()) == 0 {
		return "choose a line of the night first, on the page Nights"
	}
	return ""
}

func (a *App) chosenNightRows() []nightRow {
	var list []nightRow
	rows := a.nightRows(a.work.plan.Night)
	for _, i := range a.nights.rows.Rows() {
		if i < len(rows) {
			list = append(list, rows[i])
		}
	}
	return list
}

// dropNightRows takes the chosen lines out of the night.
func (a *App) dropNightRows() {
	list := a.chosenNightRows()
	var edits []timeline.Edit
	for i := len(list) - 1; i >= 0; i-- { // from the last on, so that places stay
		edits = append(edits, list[i].Drop(a.work.plan.Night.ID))
	}
	label := "take back: " + list[0].Text
	if len(list) > 1 {
		label = "take back " + counted(len(list), "line") + " of the night"
	}
	if a.do(change{label, edits}) {
		a.nights.rows.Clear()
	}
}

// newNight makes a night of the tour's set and goes to it.
func (a *App) newNight(o *operation.Operation) {
	n := operation.NewNight{Name: fmt.Sprintf("Night %d", len(a.work.shown.Nights)+1)}
	if len(a.work.shown.Venues) == 1 {
		n.Venue = a.work.shown.Venues[0].ID
	}
	a.addNight(o, n)
}

// likeNight makes another night that does all that this one does.
func (a *App) likeNight() {
	old := a.work.plan.Night
	a.addNight(operation.Find("night", "new"), operation.NewNight{Like: old.ID, Name: old.Name + ", another"})
}

func (a *App) addNight(o *operation.Operation, n operation.NewNight) {
	n.ID = a.work.ids()("night", "")
	if a.doOperation(o, timeline.Ref{}, &n) {
		a.goNight(n.ID)
		a.turn("nights")
	}
}

func (a *App) removeNight() {
	n := a.work.plan.Night
	if a.do(change{"remove night " + n.Name, []timeline.Edit{func(d *timeline.Draft) error {
		return d.Remove(timeline.Ref{Kind: "night", ID: n.ID})
	}}}) {
		a.goNight("")
	}
}

// nightCommands change one night.
func nightCommands() []command {
	ask := func(name string, c command) command {
		if c.off == nil {
			c.off = needNight
		}
		return operationCommand("night", name, c, (*App).askNight)
	}
	return []command{
		operationCommand("night", "new", command{off: onNights}, (*App).newNight),
		{id: "night-like", name: "Another like this", help: "makes a night that cuts, swaps and moves what the one in view does", group: "Book", off: needNight, run: (*App).likeNight},
		{id: "night-remove", name: "Remove night", help: "takes the night in view out of the show; the tour stays as it is", group: "Book", off: needNight, run: (*App).removeNight},
		ask("cut", command{keys: []string{"Ctrl+Shift+X"}}),
		ask("swap", command{keys: []string{"Ctrl+Shift+S"}}),
		ask("out", command{}),
		ask("plug", command{off: needPlug}),
		ask("shift", command{}),
		ask("condition", command{}),
		ask("distance", command{}),
		ask("fill", command{off: needSupply}),
		operationCommand("aftershow", "", command{off: needNight}, (*App).askAfterShow),
		operationCommand("night", "back", command{id: "night-drop", off: needNightRow}, func(a *App, _ *operation.Operation) { a.dropNightRows() }),
	}
}

// askNight asks for an operation on the night in view.
func (a *App) askNight(o *operation.Operation) {
	a.askOperation(o, timeline.Ref{Kind: "night", ID: a.work.night}, formSpec{})
}

// needPlug says why nothing can be plugged in elsewhere.
func needPlug(a *App) string {
	if why := needNight(a); why != "" {
		return why
	}
	if g := a.work.shown.Rig; len(g.Banks)+len(g.Devices) == 0 {
		return "there is no bank or device yet: add one on the page Banks or Devices first"
	}
	return ""
}

// nightActs bind keys of the timeline to the page of nights.
func (a *App) nightActs() map[string]page.Act {
	drop := a.pageBinding(needNightRow, (*App).dropNightRows)
	add := a.pageBinding(onNights, func(a *App) { a.newNight(operation.Find("night", "new")) })
	return map[string]page.Act{"delete": drop, "row-remove": drop, "row-add": add, "duplicate": a.pageBinding(needNight, (*App).likeNight), "row-copy": a.pageBinding(needNight, (*App).likeNight)}
}
