package carrying

import (
	"cmp"
	"fmt"
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/shows/arrival"
	"emberbeat/shows/report/carried"
	"emberbeat/timeline"
	"emberbeat/timeline/carry"
)

// row is a cue, or another record that stood on the old recording.
type row struct {
	item *carry.Item
	line *carried.Line
}

// rowsOf lists the records of a proposal worst first. They keep that order while words are said.
func rowsOf(a *arrival.Arrival) []row {
	if a.Proposal == nil {
		return nil
	}
	var rows []row
	for _, x := range a.Proposal.WorstFirst() {
		if x.Ref.ID != "" && (x.Cue() || x.Status == carry.Lost || x.Status.Looked()) {
			rows = append(rows, row{item: x})
		}
	}
	return rows
}

// lineOf finds how the report tells an item.
func lineOf(r *carried.Report, x *carry.Item) *carried.Line {
	i := slices.IndexFunc(r.Items, func(l carried.Line) bool { return l.Kind == x.Ref.Kind && l.Record == string(x.Ref.ID) })
	if i < 0 {
		return &carried.Line{}
	}
	return &r.Items[i]
}

// chips are the choices of which rows are listed.
var chips = []struct {
	name, word string
	holds      func(*carry.Item) bool
}{
	{"", "all", func(*carry.Item) bool { return true }},
	{"lost", "lost", func(x *carry.Item) bool { return x.Status == carry.Lost }},
	{"two", "two places fit", func(x *carry.Item) bool { return x.Status != carry.Lost && (x.Next != nil || len(x.Copies) > 0) }},
	{"look", "look once", func(x *carry.Item) bool { return x.Look() }},
	{"said", "decided", func(x *carry.Item) bool { return x.Said != "" }},
}

// Rows gives the rows that are listed of a recording.
func (p *Carrying) Rows(a *arrival.Arrival) []*carry.Item {
	var list []*carry.Item
	for _, r := range p.listed(p.of(a)) {
		list = append(list, r.item)
	}
	return list
}

func (p *Carrying) listed(m *made) []row {
	i := max(slices.IndexFunc(chips, func(c struct {
		name, word string
		holds      func(*carry.Item) bool
	}) bool {
		return c.name == p.only
	}), 0)
	var list []row
	for _, r := range m.rows {
		if chips[i].holds(r.item) {
			list = append(list, r)
		}
	}
	return list
}

// item gives the chosen cue or other record, nil for none.
func (p *Carrying) item() *carry.Item {
	a := p.Chosen()
	if a == nil || a.Proposal == nil || p.h.InView() != ID {
		return nil
	}
	list, rows := p.listed(p.of(a)), p.Cues.Rows()
	if len(rows) != 1 || rows[0] >= len(list) {
		return nil
	}
	return list[rows[0]].item
}

// cues lists what stood on the old recording, worst first.
func (p *Carrying) cues(r image.Rectangle, a *arrival.Arrival, m *made) {
	u := p.h.UI()
	k := u.Stack(r, 4)
	c := &m.report.Files[0].Counts
	u.Label(k.Top(20), render.TypeStrong, render.InkText, fmt.Sprintf("%s: %d sure, %d look once, %d lost", timeline.Counted(c.Sure+c.Look+c.Lost, "cue"), c.Sure, c.Look, c.Lost))
	head := u.Stack(k.Top(24), 6)
	for _, chip := range chips {
		n := 0
		for _, x := range m.rows {
			if chip.holds(x.item) {
				n++
			}
		}
		label := fmt.Sprintf("%d %s", n, chip.word)
		w := u.ButtonWidth(label) - 12
		if head.Rest().Dx() < u.Px(w) {
			break
		}
		draw := u.Button
		if chip.name == p.only {
			draw = u.MainButton
		}
		if draw("chip-"+chip.name, head.Left(w), label) {
			p.only, p.Cues = chip.name, widget.Selection{}
			p.Cues.Only(0)
			p.h.Again()
		}
	}
	p.h.Buttons(&k, "carry-hear", "carry-fine", "carry-other", "carry-out")
	list := p.listed(m)
	if p.Cues.Count() == 0 && len(list) > 0 {
		p.Cues.Only(0)
	}
	if p.focus == "cues" {
		u.Focus("cues")
		p.focus = ""
	}
	spec := widget.TableSpec{Rows: len(list), Empty: "Nothing of this kind.",
		Columns: []widget.Column{{Title: "Cue", Width: 140}, {Title: "Old", Width: 62}, {Title: "New", Width: 62}, {Title: "Moves by", Width: 68, Right: true}, {Title: "Sure", Width: 60, Right: true}, {Title: "Said", Width: 44}, {Title: "Why"}},
		Cell:    func(b []byte, row, col int) []byte { return append(b, cueCell(&list[row], col)...) },
		Ink: func(row int) render.Ink {
			if x := list[row].item; x.Look() || x.Status == carry.Lost {
				return render.InkText
			}
			return render.InkSecondary
		}}
	e := u.Table("cues", k.Rest(), &p.Cues, &spec)
	if x := p.item(); x != nil && page.Find(p.h.Show(), x.Ref) != nil {
		p.h.Choose(x.Ref)
	}
	if e.Used {
		p.h.Use("carry-fine")
	}
}

// cueCell gives the text of a column.
func cueCell(r *row, col int) string {
	x, l := r.item, r.line
	switch col {
	case 0:
		if x.Cue() {
			return l.Name
		}
		return page.Upper(l.Kind) + " " + l.Name
	case 1:
		return l.Was
	case 2:
		if x.Is == nil {
			return "none"
		}
		return x.Is.Moment.String()
	case 3:
		return movesBy(x)
	case 4:
		return sureText(x)
	case 5:
		return string(x.Said)
	}
	return why(r)
}

// why says in a clause what there is to know of a row.
func why(r *row) string {
	cells := r.line.Cells()
	return cells[len(cells)-1]
}

func movesBy(x *carry.Item) string {
	if x.Is == nil || x.Is.Run < 0 {
		return ""
	}
	d := x.Is.At - x.WasAt
	if d > 0 {
		return "+" + d.Text(2) + " s"
	}
	return d.Text(2) + " s"
}

func sureText(x *carry.Item) string {
	if x.Is == nil {
		return "lost"
	}
	return render.Percent(x.Is.Sure)
}

const chooseCue = "choose a cue of the list first"

func (p *Carrying) needItem() string {
	if why := page.NeedShow(p.h); why != "" {
		return why
	}
	switch {
	case p.Chosen() == nil:
		return chooseSong
	case p.item() == nil:
		return chooseCue
	}
	return ""
}

// needWord asks for a cue on which something can be said.
func (p *Carrying) needWord() string {
	if why := cmp.Or(p.needProposal(), p.needItem()); why != "" {
		return why
	}
	if !p.item().Cue() {
		return "this is no cue: it stands where the music of it has gone"
	}
	return ""
}

func (p *Carrying) needPlace() string {
	why := p.needWord()
	if x := p.item(); why == "" && x.Is == nil && x.Said == "" {
		return "it has no place in the new recording: take the other place, or leave it out"
	}
	return why
}

func (p *Carrying) needOther() string {
	why := p.needWord()
	if x := p.item(); why == "" && x.Next == nil && x.Said == "" {
		return "there is no other place at which it could stand"
	}
	return why
}

func (p *Carrying) needCopies() string {
	if why := p.needProposal(); why != "" {
		return why
	}
	if p.Chosen().Proposal.Counts().Copies == 0 {
		return "no cue's music is heard more than once now"
	}
	return ""
}

// say takes the user's word on the chosen cue, or takes it back where it was said before, and goes on to the next one that wants a look.
func (p *Carrying) say(w carry.Word) {
	a, x := p.Chosen(), p.item()
	if x.Said == w {
		w = ""
	}
	if err := a.Proposal.Say(x.Ref.ID, w); err != nil {
		p.h.Warn(err.Error())
		return
	}
	list := p.listed(p.of(a))
	for i := p.Cues.Cursor + 1; w != "" && i < len(list); i++ {
		if y := list[i].item; y.Look() || y.Status == carry.Lost && y.Said == "" {
			p.Cues.Only(i)
			break
		}
	}
	p.said()
}

// copies takes the further places of the chosen cue, or of all.
func (p *Carrying) copies() {
	a, word := p.Chosen(), carry.TakeAll
	if x := p.item(); x != nil && len(x.Copies) > 0 {
		word = string(x.Ref.ID)
	}
	if err := a.Proposal.Take(word); err != nil {
		p.h.Warn(err.Error())
	}
	p.said()
}

// twoBars is how much is heard and shown on either side of a cue where there is no beat map.
const twoBars = 4 * timeline.Second

// reach gives how long two bars are at an instant.
func reach(b *timeline.BeatMap, at timeline.Time) timeline.Time {
	if b.Empty() {
		return twoBars
	}
	bar := b.Locate(at).Bar
	if long := b.BarStart(bar+1) - b.BarStart(bar); long > 0 {
		return min(2*long, 4*twoBars)
	}
	return twoBars
}

// hear plays around the chosen cue; what is heard already ends.
func (p *Carrying) hear(old, is bool) {
	a, x := p.Chosen(), p.item()
	if p.h.Hearing() >= 0 {
		p.h.Hear()
		return
	}
	far := reach(a.Proposal.Song.Beats, x.WasAt)
	var list []page.Stretch
	p.sides = nil
	if file, _ := p.desk.Old(a.Song); old && file != "" {
		list, p.sides = append(list, page.Stretch{File: file, Only: a.Proposal.Song.Audio.Heard, From: max(x.WasAt-far, 0), To: min(x.WasAt+far, a.Proposal.Map.Old)}), append(p.sides, oldSide)
	}
	if at := x.Place(); is && at != nil {
		p.sides = append(p.sides, newSide)
		list = append(list, page.Stretch{File: a.File, From: max(at.At-far, 0), To: min(at.At+far, a.Proposal.Map.New)})
	}
	if len(list) == 0 {
		p.h.Tell("there is nothing to hear: it has no place in the new recording")
		return
	}
	p.h.Hear(list...)
}
