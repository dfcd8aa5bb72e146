package paper

import (
	"fmt"
	"io"

	"emberbeat/render"
)

// Bound is several sheets as one file, whose pages are counted through.
type Bound struct {
	Sheets []BoundSheet
	Pages  int // of all sheets

	faces *render.Faces
	size  Size
}

// BoundSheet is a sheet among others.
type BoundSheet struct {
	Sheet *Sheet
	First int // of its pages, counted from 1 through the whole file
	Pages int
	Heads []Place // headings of its parts

	laid *layout
}

// Place is a heading and the page of its sheet that it stands on, counted from 1.
type Place struct {
	Heading string
	Page    int
}

// Bind lays sheets out on a paper, one behind the other, each in its own direction.
func Bind(faces *render.Faces, size Size, sheets ...*Sheet) *Bound {
	b := &Bound{faces: faces, size: size}
	for _, sh := range sheets {
		l := sh.flowed(faces, size)
		b.Sheets = append(b.Sheets, BoundSheet{Sheet: sh, First: b.Pages + 1, Pages: len(l.pages), Heads: l.heads, laid: l})
		b.Pages += len(l.pages)
	}
	for i := range b.Sheets {
		l := b.Sheets[i].laid
		l.before, l.all = b.Sheets[i].First-1, b.Pages
	}
	return b
}

// Scenes draws the pages of a sheet, each with its place in the whole file.
func (b *Bound) Scenes(sheet int) []*render.Scene { return b.Sheets[sheet].laid.draw(b.faces) }

// WritePDF writes all sheets as one PDF, as WritePDF does one, with an outline of
// sheets and below them of their headings, each heading once.
func (b *Bound) WritePDF(w io.Writer, th *render.Theme, title string) error {
	if b.Pages == 0 {
		return fmt.Errorf("a PDF needs a page; %d sheets have none", len(b.Sheets))
	}
	f := newPDF(b.size, th, title)
	last := b.Sheets[len(b.Sheets)-1].Sheet.Paper(b.size)
	for i := range b.Sheets {
		s := &b.Sheets[i]
		size := s.Sheet.Paper(b.size)
		for k, scene := range b.Scenes(i) {
			f.page(scene, size)
			if k == 0 {
				f.mark(s.Sheet.Title, 0, size, last)
			}
			for h, head := range s.Heads {
				if head.Page == k+1 && (h == 0 || s.Heads[h-1].Heading != head.Heading) {
					f.mark(head.Heading, 1, size, last)
				}
			}
		}
	}
	return f.write(w)
}
