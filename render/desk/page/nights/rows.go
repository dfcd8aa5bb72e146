package nights

import (
	"image"
	"slices"
	"strconv"

	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// Row is one thing that a night says, and how many cues it touches.
type Row struct {
	operation.Item
	Cues int // -1 where that is no question or not known yet
}

// List lists all that a night says besides its set and venue.
func (p *Nights) List(n *timeline.Night) []Row {
	var rows []Row
	t, _ := p.h.Tonight()
	for _, i := range operation.NightItems(p.h.Show(), n) {
		row := Row{i, -1}
		if t != nil && i.Op.Plays {
			if k := slices.IndexFunc(t.Changes, func(c report.NightChange) bool { return c.Text == i.Text && c.Reason == i.Why }); k >= 0 {
				row.Cues = t.Changes[k].Cues
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// table lists all that is otherwise on a night.
func (p *Nights) table(r image.Rectangle, n *timeline.Night) {
	u := p.h.UI()
	rows := p.List(n)
	if p.h.Fresh() {
		u.Focus("changes")
	}
	spec := widget.TableSpec{Rows: len(rows), Multi: true, Empty: "Nothing is otherwise than on tour. The buttons above cut, swap, take out and move for this night alone.",
		Columns: []widget.Column{{Title: "", Width: 84}, {Title: "What"}, {Title: "Cues", Width: 56, Right: true}, {Title: "Reason, clause or name"}},
		Cell:    func(b []byte, row, col int) []byte { return append(b, rows[row].cell(col)...) }}
	u.Table("changes", r, &p.Rows, &spec)
}

// cell gives the text of a column.
func (r *Row) cell(col int) string {
	switch col {
	case 0:
		return r.Op.Name
	case 1:
		return r.Text
	case 2:
		if r.Cues >= 0 {
			return strconv.Itoa(r.Cues)
		}
		return ""
	}
	return r.Why
}

// chosen gives the lines of the night that are chosen.
func (p *Nights) chosen() []Row {
	var list []Row
	rows := p.List(p.h.Plan().Night)
	for _, i := range p.Rows.Rows() {
		if i < len(rows) {
			list = append(list, rows[i])
		}
	}
	return list
}

// drop takes the chosen lines out of the night.
func (p *Nights) drop() {
	list := p.chosen()
	var edits []timeline.Edit
	for i := len(list) - 1; i >= 0; i-- { // from the last on, so that places stay
		edits = append(edits, list[i].Drop(p.h.Plan().Night.ID))
	}
	label := "take back: " + list[0].Text
	if len(list) > 1 {
		label = "take back " + timeline.Counted(len(list), "line") + " of the night"
	}
	if p.h.Do(label, edits...) {
		p.Rows.Clear()
	}
}
