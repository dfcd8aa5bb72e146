package against

import (
	"fmt"
	"image"
	"io"
	"os"
	"path/filepath"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/shows/report/held"
	"emberbeat/timeline"
)

// ID is that of the page.
const ID = "list"

// most is how large a list may be that is compared while the window waits.
const most = 4 << 20

// Against is the page with what it remembers.
type Against struct {
	Rows widget.Selection
	Made *held.Report // nil while there is none

	h    page.Host
	file string // "" = none is chosen
	data []byte
	bad  error
	of   *timeline.Plan // what Made is of
}

// New gives the page and its commands.
func New(h page.Host) page.Family {
	p := &Against{h: h}
	return page.Family{State: p,
		Commands: []page.Command{
			{ID: "compare-list", Name: "Compare a desk's list…", Group: "Show", Help: "holds a list that the firing desk has exported against the plan of the night in view; nothing is written into it",
				Off: page.With(h, page.NeedShow), Run: p.ask},
			{ID: "compare-again", Name: "Read the desk's list again", Group: "Show", Help: "reads the list anew that was compared last, after the desk has exported it again", Off: p.needList, Run: func() { p.Read(p.file) }},
		},
		Pages: []page.Page{{ID: ID, Name: "List against plan", Part: "Checks", Draw: p.draw,
			Help: "what is missing in the list of the firing desk, too much, or at another time, address or place; Enter shows the cue"}}}
}

func (p *Against) needList() string {
	if why := page.NeedShow(p.h); why != "" {
		return why
	}
	if p.file == "" {
		return "choose a list first, with Compare a desk's list…"
	}
	return ""
}

func (p *Against) ask() {
	p.h.ChooseFile("Which list has the desk exported?", "Compare", []string{".csv", ".tsv", ".txt"}, p.Read)
}

// Read reads a list and brings the page into view.
func (p *Against) Read(file string) {
	data, err := contents(file)
	p.file, p.data, p.bad, p.of = file, data, err, nil
	p.Rows.Only(0)
	p.h.Turn(ID)
}

func contents(file string) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && len(data) > most {
		err = fmt.Errorf("the list is larger than %d MB; compare it on the command line, with emberbeat compare", most>>20)
	}
	return data, err
}

// compare holds the list against the plan in view, where either has changed.
func (p *Against) compare() {
	plan := p.h.Plan()
	if p.file == "" || p.of == plan {
		return
	}
	if p.of == nil && p.bad != nil { // it could not be read at all
		return
	}
	p.of, p.Made = plan, nil
	words := plan.Show.Head.DeskList
	reading, err := held.NewReading(words)
	if rate := held.RateOf(words); err == nil && rate != "" && rate != plan.Rate.String() {
		err = fmt.Errorf("the list has the rate %s, and the show %s: compare it on the command line, with emberbeat compare", rate, plan.Rate)
	}
	if err == nil {
		p.Made, err = held.Compare(plan, report.Filter{}, reading, filepath.Base(p.file), p.data)
	}
	p.bad = err
}

func (p *Against) draw(r image.Rectangle) {
	p.compare()
	u := p.h.UI()
	k := u.Stack(r, 8)
	p.h.Buttons(&k, "compare-list", "compare-again")
	said := p.said()
	u.Paragraph(k.Top(u.ParagraphHeight(k.Rest().Dx(), render.TypeLabel, said)*100/int(p.h.UI().Scene().Scale)+2), render.TypeLabel, render.InkText, said)
	form := u.Form(k.Bottom(176), 150)
	p.h.Field(&form, timeline.Ref{Kind: "show", ID: p.h.Show().Head.ID}, "desk-list")
	if p.Made == nil {
		return
	}
	list := p.Made.Differences
	spec := widget.TableSpec{Rows: len(list), Empty: p.Made.Counts()[0] + ".",
		Columns: []widget.Column{{Title: "What", Width: 120}, {Title: "Line", Width: 52, Right: true}, {Title: "Plan no.", Width: 70, Right: true}, {Title: "Song", Width: 50, Right: true}, {Title: "Said"}},
		Cell:    func(b []byte, row, col int) []byte { return append(b, cell(&list[row], col)...) }}
	whole := k.Bottom(38) // a long sentence is cut in its row
	if at := p.Rows.Cursor; at >= 0 && at < len(list) {
		u.Paragraph(whole, render.TypeLabel, render.InkSecondary, page.Upper(list[at].Says())+".")
	}
	if p.h.Fresh() {
		u.Focus(ID)
	}
	if e := u.Table(ID, k.Rest(), &p.Rows, &spec); e.Used && list[e.Row].Cue != "" {
		p.h.Go(timeline.Ref{Kind: "cue", Song: timeline.ID(list[e.Row].Song), ID: timeline.ID(list[e.Row].Cue)})
	}
}

// said is what stands above the table.
func (p *Against) said() string {
	switch {
	case p.file == "":
		return "No list is compared yet. Compare a desk's list… in the menu Show reads one. Below stands how its columns are read: map timecode=Time says which column holds what, " +
			"means A-{n}=\"IGN 1:{n}\" what an address is called here. It stays in the show."
	case p.bad != nil:
		return filepath.Base(p.file) + " cannot be compared: " + p.bad.Error() + ".\nSay below how it is read, such as map timecode=Time and map address=Output."
	}
	return strings.Join(append(p.Made.Whole(), p.Made.Counts()...), "\n")
}

func cell(d *held.Difference, col int) string {
	switch col {
	case 0:
		return string(d.Kind)
	case 1:
		return page.BlankZero(d.Line)
	case 2:
		return page.BlankZero(d.Number)
	case 3:
		return page.BlankZero(d.SongNumber)
	}
	return d.Says()
}
