package paper

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/timeline/testtool"
)

// loadSheet is a sheet with all that sheets have: facts given and not, notes,
// boxes, totals, words longer than their column, and a part over pages.
func loadSheet(rows int) *Sheet {
	sh := &Sheet{Title: "Load plan", Wide: true,
		Facts: []Fact{{"show", "Lanterns over Water"}, {"revision", "not given"}, {"date", "2031-05-09"}, {"venue", "Lantern Hall, Northport"}},
		Foot:  "Planning document, not permission to fire. Label, instructions, permit and authority come first; only licensed and competent persons load, connect, arm and fire."}
	p := Part{Heading: "Bank 4", Notes: []string{"Igniter bank of 16 outputs, front left."},
		Columns: []Column{{Name: "output", Right: true}, {Name: "placed effect"}, {Name: "NEC g", Right: true}, {Name: "measured", Box: true}}}
	for i := range rows {
		p.Rows = append(p.Rows, Row{Cells: []string{strconv.Itoa(i + 1), fmt.Sprintf("comet %d", i+1), "12.5", ""}})
	}
	p.Rows = append(p.Rows, Row{Cells: []string{"", "all", fmt.Sprint(12.5 * float64(rows)), ""}, Strong: true})
	sh.Parts = []Part{p, {Heading: "Spare", Notes: []string{"outputs 15 and 16"}}}
	return sh
}

func TestPageReadsAsItIsMeant(t *testing.T) {
	pages := loadSheet(3).Pages(render.NewFaces(), A4)
	require.Len(t, pages, 1)
	golden(t, "load.txt", Plain(pages[0]))
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if os.Getenv("EMBERBEAT_UPDATE") == "1" {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
		return
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), got)
}

func TestTablesGoOnBelowTheirHeadings(t *testing.T) {
	sh := loadSheet(60)
	sh.Parts = sh.Parts[:1]
	pages := sh.Pages(render.NewFaces(), Letter)
	require.Greater(t, len(pages), 2)
	for i, s := range pages {
		text := Plain(s)
		require.Contains(t, text, fmt.Sprintf("page %d of %d", i+1, len(pages)))
		require.Contains(t, text, "not permission to fire")
		require.Contains(t, text, "not given")
		require.Contains(t, text, "measured")
		require.Equal(t, i > 0, strings.Contains(text, "Bank 4 (continued)"))
	}
}

// Whatever the texts are, each word of a table stands on a page once and whole
// but for breaks, and inside its column.
func TestNoTextLeavesItsColumn(t *testing.T) {
	faces := render.NewFaces()
	letters := rapid.StringOfN(rapid.RuneFrom([]rune("abcWM .-éễ\n")), 0, 400, -1)
	rapid.Check(t, func(t *rapid.T) {
		sh := &Sheet{Title: letters.Draw(t, "title"), Wide: rapid.Bool().Draw(t, "wide"), Foot: "caution"}
		for range rapid.IntRange(0, 9).Draw(t, "facts") {
			sh.Facts = append(sh.Facts, Fact{"label", letters.Draw(t, "fact")})
		}
		p := Part{Heading: letters.Draw(t, "heading"), Columns: make([]Column, rapid.IntRange(1, 14).Draw(t, "columns"))}
		for i := range p.Columns {
			p.Columns[i] = Column{Name: "name", Right: i%2 == 1}
		}
		want := ""
		for range rapid.IntRange(0, 12).Draw(t, "rows") {
			cells := make([]string, len(p.Columns))
			for i := range cells {
				cells[i] = letters.Draw(t, "cell")
				want += cells[i]
			}
			p.Rows = append(p.Rows, Row{Cells: cells})
		}
		sh.Parts = []Part{p}
		size := rapid.SampledFrom(Sizes()).Draw(t, "paper")
		l := newLayout(sh, faces, sh.Paper(size))
		got := map[rune]int{}
		for n, s := range sh.Pages(faces, size) {
			l.body.Min.Y = l.area.Min.Y + l.headHeight(n+1)
			checkInside(t, s, l)
			for i := range s.Shapes {
				if b := &s.Shapes[i]; b.Kind == render.KindText && b.Type == render.TypeSmall && b.Ink == render.InkText {
					for _, r := range string(s.Label(b)) {
						got[r]++
					}
				}
			}
		}
		for _, r := range "abcWM.-éễ" {
			require.Equal(t, strings.Count(want, string(r)), got[r], "%q", r)
		}
	})
}

func checkInside(t require.TestingT, s *render.Scene, l *layout) {
	var ends []image.Rectangle // of the columns
	x := l.body.Min.X
	for _, w := range l.widths[columnKey(&l.sheet.Parts[0])] {
		ends = append(ends, image.Rect(x, 0, x+w, s.Size.Y))
		x += w + l.px(columnGap)
	}
	require.LessOrEqual(t, x-l.px(columnGap), l.body.Max.X)
	for i := range s.Shapes {
		sh := &s.Shapes[i]
		if sh.Kind != render.KindText {
			continue
		}
		require.True(t, sh.Box.In(l.area), "%s %v", s.Label(sh), sh.Box)
		if sh.Type == render.TypeSmall && sh.Ink == render.InkText {
			inside := false
			for _, c := range ends {
				inside = inside || sh.Box.In(c)
			}
			require.True(t, inside, "%s %v is in no column", s.Label(sh), sh.Box)
			require.True(t, sh.Box.Min.Y >= l.body.Min.Y && sh.Box.Max.Y <= l.body.Max.Y, "%s %v leaves the body", s.Label(sh), sh.Box)
		}
	}
}

func pdfOf(t *testing.T, sh *Sheet, size Size) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, WritePDF(&b, sh.Pages(render.NewFaces(), size), sh.Paper(size), &render.Day, sh.Title))
	return b.Bytes()
}

func TestPDFIsTheSameEachTime(t *testing.T) {
	first := pdfOf(t, loadSheet(40), A4)
	for range 10 { // maps come in another order each time
		require.Equal(t, first, pdfOf(t, loadSheet(40), A4))
	}
	require.NotContains(t, string(first), "Date")
	require.Less(t, len(first), 80_000, "the fonts are cut to what is used: whole they take 120,000")
	require.ErrorContains(t, WritePDF(&bytes.Buffer{}, nil, A4, &render.Day, ""), "needs a page")
}

func TestPopplerReadsThePDF(t *testing.T) {
	for _, c := range []struct {
		size Size
		says string
	}{{A4, "841.89 x 595.28 pts (A4)"}, {Letter, "792 x 612 pts (letter)"}} {
		file := filepath.Join(t.TempDir(), "load.pdf")
		sh := loadSheet(60)
		sh.Parts[0].Rows[0].Cells[1] = "Höhe 5 m – “left” ≥ 3 Ω"
		require.NoError(t, os.WriteFile(file, pdfOf(t, sh, c.size), 0o644))
		info := testtool.Output(t, "pdfinfo", file)
		require.Contains(t, info, c.says)
		require.Contains(t, info, "Load plan")
		require.NotContains(t, info, "Date")
		fonts := strings.Split(strings.TrimSpace(testtool.Output(t, "pdffonts", file)), "\n")[2:]
		require.Len(t, fonts, 2)
		for _, f := range fonts { // name, type, encoding, embedded, subset, unicode
			require.Regexp(t, `^utf8go(regular|bold) +CID TrueType +Identity-H +yes no +yes`, f)
		}
		text := testtool.Output(t, "pdftotext", "-layout", file, "-")
		require.Contains(t, text, "Höhe 5 m – “left” ≥ 3 Ω")
		for i := range 59 {
			require.Contains(t, text, fmt.Sprintf("comet %d", i+2))
		}
		require.Contains(t, text, "not permission to fire")
		wordsInside(t, testtool.Output(t, "pdftotext", "-bbox", file, "-"), c.size.Sideways())
	}
}

// wordsInside checks that every word poppler finds lies inside the margins.
func wordsInside(t *testing.T, boxes string, size Size) {
	t.Helper()
	w, h := size.points()
	const edge = margin*0.75 - 1 // points
	words := 0
	for line := range strings.Lines(boxes) {
		var x0, y0, x1, y1 float64
		if n, _ := fmt.Sscanf(strings.TrimSpace(line), `<word xMin="%f" yMin="%f" xMax="%f" yMax="%f">`, &x0, &y0, &x1, &y1); n == 4 {
			words++
			require.True(t, x0 >= edge && y0 >= edge && x1 <= w-edge && y1 <= h-edge, line)
		}
	}
	require.Greater(t, words, 200)
}

// Names are written in many scripts. What the fonts lack is set as another letter,
// and letters that mean something to the format do no harm.
func TestPopplerReadsEveryScript(t *testing.T) {
	file := filepath.Join(t.TempDir(), "names.pdf")
	sh := &Sheet{Title: "Ζωή \U0001F525", Parts: []Part{{Columns: []Column{{Name: "name"}}}}}
	for _, c := range scripts {
		sh.Parts[0].Rows = append(sh.Parts[0].Rows, Row{Cells: []string{c.text}}, Row{Cells: []string{c.text}, Strong: true})
	}
	require.NoError(t, os.WriteFile(file, pdfOf(t, sh, A4), 0o644))
	require.Contains(t, testtool.Output(t, "pdfinfo", file), "Ζωή ?\n")
	text := testtool.Output(t, "pdftotext", "-raw", file, "-")
	for _, c := range scripts {
		require.Equal(t, 2, strings.Count(text, c.reads+"\n"), "%q in\n%s", c.reads, text)
	}
}

// A sheet says at its end which names it does not print as they are written; one
// that prints all of them says nothing.
func TestSheetNamesWhatItCannotPrint(t *testing.T) {
	sh := &Sheet{Title: "Load plan", Facts: []Fact{{"show", "Nguyễn"}}, Parts: []Part{{Heading: "Effects", Columns: []Column{{Name: "name"}}, Rows: []Row{{Cells: []string{"Ζωή ✓"}}}}}}
	require.NotContains(t, allText(sh), "Not printed as written")
	sh.Facts[0].Text = "火山 Tour"
	sh.Parts[0].Rows = append(sh.Parts[0].Rows, Row{Cells: []string{"comet 山"}}, Row{Cells: []string{"comet 山"}})
	text := allText(sh)
	require.Contains(t, text, "Not printed as written")
	require.Contains(t, text, "U+706B U+5C71")
	require.Equal(t, 2, strings.Count(text, "U+5C71"), "each text once")
	require.Len(t, sh.Parts, 1, "the sheet itself stays")
}

// allText is all that stands on the pages of a sheet.
func allText(sh *Sheet) string {
	var out strings.Builder
	for _, page := range sh.Pages(render.NewFaces(), A4) {
		for i := range page.Shapes {
			if s := &page.Shapes[i]; s.Kind == render.KindText {
				out.Write(page.Label(s))
				out.WriteByte('\n')
			}
		}
	}
	return out.String()
}

var scripts = []struct{ text, reads string }{
	{"Ελένη Ωμέγα ΰΐς", "Ελένη Ωμέγα ΰΐς"},
	{"Щукина ґанок їжак Ђорђе", "Щукина ґанок їжак Ђорђе"},
	{"Zażółć ČčĊċ Şğıİ Ŝŋ", "Zażółć ČčĊċ Şğıİ Ŝŋ"}, // among them halves that are brackets and ends of line
	{"Nguyễn Thị Bưởi Đặng ấộỷ", "Nguyễn Thị Bưởi Đặng ấộỷ"},
	{"ἄνεμος Ѣѳ Ҕ ẞ Ǆ ȚȘ", "ἄνεμος Ѣѳ Ҕ ẞ Ǆ ȚȘ"},
	{"✓ ♪ ● ⚠", "✓ ♪ ● ⚠"},
	{`(a) [b] \ <c> ((`, `(a) [b] \ <c> ((`},
	{"火 and \U0001F525", "? and ?"},
	{"cut \xe2\x82", "cut ??"},
}

// The picture that poppler makes of a page is ours but for smoothing.
func TestPopplerDrawsThePageAsWeDo(t *testing.T) {
	sh := loadSheet(20)
	drawnAlike(t, pdfOf(t, sh, A4), sh.Pages(render.NewFaces(), A4)[0])
}

// drawnAlike compares what poppler draws of a file of one page with our picture
// of the scene.
func drawnAlike(t *testing.T, pdf []byte, s *render.Scene) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "page.pdf")
	require.NoError(t, os.WriteFile(file, pdf, 0o644))
	testtool.Output(t, "pdftoppm", "-r", strconv.Itoa(96*int(s.Scale)/100), "-png", "-singlefile", file, strings.TrimSuffix(file, ".pdf"))
	f, err := os.Open(strings.TrimSuffix(file, ".pdf") + ".png")
	require.NoError(t, err)
	defer f.Close()
	theirs, err := png.Decode(f)
	require.NoError(t, err)
	ours := Image(s, &render.Day)
	require.InDelta(t, ours.Bounds().Dx(), theirs.Bounds().Dx(), 2)
	require.InDelta(t, ours.Bounds().Dy(), theirs.Bounds().Dy(), 2)
	var a, b, apart float64 // darkness of blocks of 24 by 24 pixels
	for y := 0; y+24 < ours.Bounds().Dy(); y += 24 {
		for x := 0; x+24 < ours.Bounds().Dx(); x += 24 {
			p, q := darkness(ours, x, y), darkness(theirs, x, y)
			a, b, apart = a+p, b+q, apart+max(p-q, q-p)
		}
	}
	require.Greater(t, a, 0.0)
	require.InDelta(t, 1, b/a, 0.1, "ink")
	require.Less(t, apart/a, 0.2, "ink elsewhere")
}

func darkness(img image.Image, x0, y0 int) float64 {
	n := 0.0
	for y := y0; y < y0+24; y++ {
		for x := x0; x < x0+24; x++ {
			r, _, _, _ := img.At(x, y).RGBA()
			n += float64(0xFFFF-r) / 0xFFFF
		}
	}
	return n
}

// A song's picture with clips, lines, polygons and covers is a PDF as well.
func TestSongPictureAsPDF(t *testing.T) {
	s, err := (&Picture{View: render.SongView{Data: songOf(t, 5, 6, 7)}, Width: 900}).Scene(render.NewFaces())
	require.NoError(t, err)
	size := Size{"picture", float64(s.Size.X) * mmPerInch / 96, float64(s.Size.Y) * mmPerInch / 96}
	var b bytes.Buffer
	require.NoError(t, WritePDF(&b, []*render.Scene{s}, size, &render.Day, "Ember"))
	file := filepath.Join(t.TempDir(), "song.pdf")
	require.NoError(t, os.WriteFile(file, b.Bytes(), 0o644))
	require.Contains(t, testtool.Output(t, "pdftotext", file, "-"), "Ember")
	drawnAlike(t, b.Bytes(), s)
}

// A clip's end takes colour, cover and lettering back with it.
func TestPDFAfterAClip(t *testing.T) {
	s := render.NewScene(render.NewFaces())
	s.Reset(image.Pt(600, 400), render.Unit)
	for y := range 8 {
		s.PushClip(image.Rect(0, y*50, 300, y*50+40))
		s.Tint(image.Rect(0, y*50, 600, y*50+50), render.InkText, 40)
		s.Tint(image.Rect(0, y*50, 100, y*50+50), render.InkText, 40)
		s.Text(image.Pt(200, y*50), render.TypeTitle, render.InkText, "inside and cut off")
		s.PopClip()
		s.Text(image.Pt(320, y*50), render.TypeTitle, render.InkText, "outside")
		s.Tint(image.Rect(500, y*50, 600, y*50+40), render.InkText, 40)
	}
	size := Size{"picture", 600 * mmPerInch / 96, 400 * mmPerInch / 96}
	var b bytes.Buffer
	require.NoError(t, WritePDF(&b, []*render.Scene{s}, size, &render.Day, "clips"))
	drawnAlike(t, b.Bytes(), s)
}

func BenchmarkPages25000(b *testing.B) {
	sh, faces := loadSheet(25000), render.NewFaces()
	for b.Loop() {
		require.NoError(b, WritePDF(&bytes.Buffer{}, sh.Pages(faces, A4), A4.Sideways(), &render.Day, ""))
	}
}

// An entry of the title block that is never cut has the whole width where it needs
// more than the others may have; all of it stands on every page, below the others and
// above what follows. Any other is cut after three lines.
func TestTitleBlockNeverCutsOneEntry(t *testing.T) {
	var names []string
	for i := range 100 {
		names = append(names, fmt.Sprintf("rule-%d-of-many", i))
	}
	long := "100 errors open: " + strings.Join(names, ", ")
	for _, size := range []Size{A4, Letter} {
		sh := loadSheet(60)
		sh.Uncut = "checked"
		sh.Facts = append([]Fact{{"checked", long}, {"night", long}}, sh.Facts...)
		pages := sh.Pages(render.NewFaces(), size)
		require.Greater(t, len(pages), 1)
		for _, page := range pages {
			text := strings.Join(strings.Fields(Plain(page)), " ")
			for _, name := range names {
				require.Contains(t, text, name)
			}
			require.Equal(t, 1, strings.Count(text, "…"), "the night's")
			require.Contains(t, text, long, "it is read in one piece")
		}
		short := loadSheet(3)
		short.Facts, short.Uncut = append(short.Facts, Fact{"checked", "2 errors open: quiet, arm-up"}), "checked"
		plain := loadSheet(3)
		plain.Facts = append(plain.Facts, Fact{"checked", "2 errors open: quiet, arm-up"})
		require.Equal(t, Plain(plain.Pages(render.NewFaces(), size)[0]), Plain(short.Pages(render.NewFaces(), size)[0]), "what fits stands with the others")
	}
}

// Rows that stand with the one before are on one page with it: no page begins with
// one of them.
func TestRowsStandWithTheOneBefore(t *testing.T) {
	sh := loadSheet(0)
	p := &sh.Parts[0]
	p.Rows = nil
	for i := range 40 {
		p.Rows = append(p.Rows, Row{Cells: []string{strconv.Itoa(i), fmt.Sprintf("group %d", i), "", ""}, Strong: i%3 == 0})
		for k := range i%4 + 1 {
			p.Rows = append(p.Rows, Row{Cells: []string{"", fmt.Sprintf("of group %d", i), "", ""}, With: true, Strong: k == 1})
		}
	}
	for _, size := range []Size{A4, Letter} {
		pages := sh.Pages(render.NewFaces(), size)
		require.Greater(t, len(pages), 3)
		on := map[string]int{}
		for n, page := range pages {
			text := Plain(page)
			for i := range 40 {
				for _, what := range []string{"of group %d", "group %d"} {
					name := fmt.Sprintf(what, i)
					if strings.Contains(text+"\n", " "+name+"\n") || strings.Contains(text, " "+name+" ") {
						key := fmt.Sprint(i)
						if _, seen := on[key]; !seen {
							on[key] = n
						}
						require.Equal(t, on[key], n, name)
					}
				}
			}
		}
		require.Len(t, on, 40)
	}
}
