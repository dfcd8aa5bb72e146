package paper

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"unicode/utf16"

	"emberbeat/render"
)

// WritePDF writes scenes as the pages of a PDF 1.4 (ISO 32000-1), all of one
// size, with the scenes' fonts embedded and their texts as texts. Nothing in it
// comes from a clock. It is written here, because the libraries at hand stamp
// the time of day into every file.
func WritePDF(w io.Writer, pages []*render.Scene, size Size, th *render.Theme, title string) error {
	if len(pages) == 0 {
		return errors.New("a PDF needs a page; none was given")
	}
	d := &pdf{theme: th, fonts: newPDFFonts(), covers: map[uint8]bool{}}
	contents := make([][]byte, len(pages))
	for i, s := range pages {
		contents[i] = d.content(s, size)
	}
	d.file(contents, size, title)
	_, err := w.Write(d.out.Bytes())
	return err
}

// pdf gathers one file.
type pdf struct {
	theme   *render.Theme
	fonts   [2]*pdfFont // regular and bold
	covers  map[uint8]bool
	out     bytes.Buffer
	offsets []int
	pack    *zlib.Writer // one for all streams: a new one takes longer than a page
}

// Numbers of the objects that every file has; pages follow, two objects each.
const (
	catalogObject = 1 + iota
	pagesObject
	infoObject
	resourcesObject
	firstFontObject
	firstPageObject = firstFontObject + 2*fontObjects
)

func (d *pdf) file(contents [][]byte, size Size, title string) {
	d.out.WriteString("%PDF-1.4\n%\xe2\xe3\xcf\xd3\n")
	d.object(fmt.Sprintf("<</Type/Catalog/Pages %d 0 R>>", pagesObject))
	d.pageTree(len(contents))
	d.object("<</Title " + pdfText(title) + ">>")
	d.resources()
	for _, f := range d.fonts {
		f.objects(d)
	}
	w, h := size.points()
	for _, c := range contents {
		d.object(fmt.Sprintf("<</Type/Page/Parent %d 0 R/MediaBox[0 0 %s %s]/Resources %d 0 R/Contents %d 0 R>>",
			pagesObject, number(w), number(h), resourcesObject, len(d.offsets)+2))
		d.stream("", c)
	}
	d.end()
}

func (d *pdf) pageTree(n int) {
	var kids bytes.Buffer
	for i := range n {
		fmt.Fprintf(&kids, "%d 0 R ", firstPageObject+2*i)
	}
	d.object(fmt.Sprintf("<</Type/Pages/Count %d/Kids[%s]>>", n, bytes.TrimSpace(kids.Bytes())))
}

func (d *pdf) resources() {
	var states bytes.Buffer
	var covers []uint8
	for c := range d.covers {
		covers = append(covers, c)
	}
	slices.Sort(covers)
	for _, c := range covers {
		a := number(float64(c) / 255)
		fmt.Fprintf(&states, "/G%d<</ca %s/CA %s>>", c, a, a)
	}
	d.object(fmt.Sprintf("<</Font<</F0 %d 0 R/F1 %d 0 R>>/ExtGState<<%s>>>>", firstFontObject, firstFontObject+fontObjects, states.String()))
}

// object writes the next object.
func (d *pdf) object(body string) {
	d.offsets = append(d.offsets, d.out.Len())
	fmt.Fprintf(&d.out, "%d 0 obj\n%s\nendobj\n", len(d.offsets), body)
}

// stream writes the next object as compressed bytes, with entries added to its
// dictionary.
func (d *pdf) stream(entries string, data []byte) {
	var packed bytes.Buffer
	if d.pack == nil {
		d.pack = zlib.NewWriter(&packed)
	}
	d.pack.Reset(&packed)
	_, _ = d.pack.Write(data) // into memory
	_ = d.pack.Close()
	d.offsets = append(d.offsets, d.out.Len())
	fmt.Fprintf(&d.out, "%d 0 obj\n<</Length %d/Filter/FlateDecode%s>>\nstream\n", len(d.offsets), packed.Len(), entries)
	d.out.Write(packed.Bytes())
	d.out.WriteString("\nendstream\nendobj\n")
}

func (d *pdf) end() {
	start := d.out.Len()
	fmt.Fprintf(&d.out, "xref\n0 %d\n0000000000 65535 f \n", len(d.offsets)+1)
	for _, at := range d.offsets {
		fmt.Fprintf(&d.out, "%010d 00000 n \n", at)
	}
	fmt.Fprintf(&d.out, "trailer\n<</Size %d/Root %d 0 R/Info %d 0 R>>\nstartxref\n%d\n%%%%EOF\n", len(d.offsets)+1, catalogObject, infoObject, start)
}

// number writes a number as PDF wants it, with at most four decimals.
func number(x float64) string {
	text := strconv.FormatFloat(x, 'f', 4, 64)
	for text[len(text)-1] == '0' {
		text = text[:len(text)-1]
	}
	if text[len(text)-1] == '.' {
		text = text[:len(text)-1]
	}
	return text
}

// pdfText writes a text string as UTF-16 in hexadecimal digits.
func pdfText(s string) string {
	var out bytes.Buffer
	out.WriteString("<FEFF")
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&out, "%04X", u)
	}
	out.WriteString(">")
	return out.String()
}
