package paper

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/go-pdf/fpdf"

	"emberbeat/render"
	"emberbeat/render/letter"
)

// WritePDF writes scenes as the pages of a PDF 1.4 (ISO 32000-1), all of one
// size, with what they use of the scenes' fonts embedded and their texts as
// texts. Nothing in it comes from a clock.
func WritePDF(w io.Writer, pages []*render.Scene, size Size, th *render.Theme, title string) error {
	if len(pages) == 0 {
		return errors.New("a PDF needs a page; none was given")
	}
	f := newPDF(size, th, title)
	for _, s := range pages {
		f.page(s, size)
	}
	return f.write(w)
}

// newPDF begins a file.
func newPDF(size Size, th *render.Theme, title string) *pdfPage {
	sheet := fpdf.SizeType{}
	sheet.Wd, sheet.Ht = size.points()
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: sheet})
	f.SetCatalogSort(true) // else fonts come in the order of a map
	f.SetCreationDate(noDate)
	f.SetModificationDate(noDate)
	f.SetProducer("", false)
	f.SetTitle(strings.Map(basic, title), true)
	f.SetAutoPageBreak(false, 0)
	return newPDFPage(f, th)
}

// page adds a page with a scene.
func (p *pdfPage) page(s *render.Scene, size Size) {
	sheet := fpdf.SizeType{}
	sheet.Wd, sheet.Ht = size.points()
	p.AddPageFormat("P", sheet)
	p.draw(s)
}

// mark enters the head of the current page, of some size, into the outline. The
// library counts heights of all pages from the last page's.
func (p *pdfPage) mark(text string, level int, size, last Size) {
	_, high := size.points()
	_, lastHigh := last.points()
	p.Bookmark(strings.Map(basic, text), level, lastHigh-high)
}

// write ends the file.
func (p *pdfPage) write(w io.Writer) error {
	var out bytes.Buffer
	if err := p.Output(&out); err != nil {
		return fmt.Errorf("PDF: %w", err)
	}
	_, err := w.Write(undated(out.Bytes()))
	return err
}

// noDate stands where the library insists on a date: the zero time would make
// it read the clock.
var noDate = time.Unix(0, 0).UTC()

// undated lays blanks over the dates of a file, so that it claims none. Its
// length stays, and with it all places that its table of contents names.
func undated(file []byte) []byte {
	stamp := noDate.Format("(D:20060102150405)")
	for _, key := range []string{"/CreationDate ", "/ModDate "} {
		if at := bytes.LastIndex(file, []byte(key+stamp)); at >= 0 {
			copy(file[at:], strings.Repeat(" ", len(key+stamp)))
		}
	}
	return file
}

// basic gives a letter as the library can write it: it knows none above U+FFFF.
func basic(r rune) rune {
	if r > 0xFFFF {
		return letter.Stand
	}
	return r
}

// newPDFPage gives the page writer of a file, and the file its main fonts. The
// others come with the first letter that needs them.
func newPDFPage(f *fpdf.Fpdf, th *render.Theme) *pdfPage {
	p := &pdfPage{Fpdf: f, theme: th, has: map[*letter.Font]bool{}}
	p.carry(letter.Regular.Main)
	p.carry(letter.Bold.Main)
	return p
}

// carry puts a font into the file.
func (p *pdfPage) carry(f *letter.Font) {
	if !p.has[f] {
		p.has[f] = true
		p.AddUTF8FontFromBytes(f.Name, "", f.TTF)
	}
}
