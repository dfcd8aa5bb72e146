package history

import (
	"fmt"
	"image"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// ID is that of the page.
const ID = "history"

// History is the page with what it remembers.
type History struct {
	Rows widget.Selection // newest first

	h    page.Host
	seen int // step that was the last one made when it was drawn
}

// New gives the page and its command.
func New(h page.Host) page.Family {
	p := &History{h: h, seen: -1}
	here := page.Command{ID: "history-go", Name: "Go to the step", Help: "takes back the steps after the chosen one, or makes those up to it again", Group: "Edit", Off: p.needStep, Run: p.walk}
	return page.Family{State: p, Commands: []page.Command{here}, Pages: []page.Page{{ID: ID, Name: "History", Part: "Checks", Keys: []string{"Ctrl+Shift+H"}, Draw: p.draw,
		Help: "every step since the show was opened, newest first; Enter goes back or on to one"}}}
}

// step gives the step of a row.
func step(steps []page.Step, row int) int { return len(steps) - 1 - row }

func (p *History) needStep() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	if p.h.InView() != ID {
		return "turn to the history first, with " + p.h.Key("book-"+ID)
	}
	steps, now := p.h.Steps()
	if at := step(steps, p.Rows.Cursor); at == now {
		return "the show stands there now"
	}
	return ""
}

func (p *History) walk() {
	steps, _ := p.h.Steps()
	p.h.GoStep(step(steps, p.Rows.Cursor))
}

// draw lists the steps.
func (p *History) draw(r image.Rectangle) {
	u := p.h.UI()
	k := u.Stack(r, 8)
	p.h.Buttons(&k, "history-go", "undo", "redo")
	steps, now := p.h.Steps()
	u.Label(k.Top(20), render.TypeLabel, render.InkSecondary, fmt.Sprintf("%s made, %d of them taken back. A step that is made now takes the place of those.", timeline.Counted(len(steps)-1, "step"), len(steps)-1-now))
	if p.h.Fresh() {
		u.Focus(ID)
	}
	if p.h.Fresh() || p.seen != now {
		p.Rows.Only(step(steps, now))
		p.seen = now
	}
	spec := widget.TableSpec{Rows: len(steps),
		Columns: []widget.Column{{Title: "", Width: 30}, {Title: "When", Width: 90}, {Title: "What"}, {Title: "Records", Width: 80, Right: true}, {Title: "", Width: 90}},
		Cell:    func(b []byte, row, col int) []byte { return cell(b, steps, step(steps, row), col, now) },
		Ink: func(row int) render.Ink {
			if step(steps, row) > now {
				return render.InkFaint
			}
			return render.InkText
		}}
	if e := u.Table(ID, k.Rest(), &p.Rows, &spec); e.Used {
		p.h.Use("history-go")
	}
}

func cell(b []byte, steps []page.Step, at, col, now int) []byte {
	x := &steps[at]
	switch col {
	case 0:
		if at == now {
			return append(b, "→"...)
		}
	case 1:
		if !x.At.IsZero() {
			return x.At.Local().AppendFormat(b, "15:04:05")
		}
	case 2:
		if at == 0 {
			return append(b, "as it was opened"...)
		}
		if at > now {
			b = append(b, "taken back: "...)
		}
		return append(b, x.Label...)
	case 3:
		return append(b, page.BlankZero(x.Changes)...)
	case 4:
		if x.Saved {
			return append(b, "saved"...)
		}
	}
	return b
}
