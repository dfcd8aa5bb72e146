package workbook

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"regexp"
	"strings"
	"time"
	"unicode/utf8"
)

// noTime stands where an archive has a time: the earliest that one can have.
var noTime = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

const (
	spaceMain    = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	spaceRelated = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	spacePackage = "http://schemas.openxmlformats.org/package/2006/"
	typeMain     = "application/vnd.openxmlformats-officedocument.spreadsheetml."
)

// Write writes a book. The same book gives the same bytes: nothing in it comes from
// a clock. What a workbook cannot hold is an error, and then nothing is written.
func Write(w io.Writer, b *Book) error {
	if err := b.fits(); err != nil {
		return err
	}
	var file bytes.Buffer
	z, names := zip.NewWriter(&file), b.names()
	add := func(name, text string) error {
		f, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: noTime})
		if err == nil {
			_, err = io.WriteString(f, xml.Header+text)
		}
		return err
	}
	parts := [][2]string{{"[Content_Types].xml", b.types()},
		{"_rels/.rels", relations([2]string{"officeDocument", "xl/workbook.xml"})},
		{"xl/workbook.xml", b.workbook(names)}, {"xl/_rels/workbook.xml.rels", b.related()}, {"xl/styles.xml", styles()}}
	for i := range b.Tabs {
		parts = append(parts, [2]string{fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), b.tab(&b.Tabs[i])})
	}
	for _, p := range parts {
		if err := add(p[0], p[1]); err != nil {
			return fmt.Errorf("workbook: %w", err)
		}
	}
	if err := z.Close(); err != nil {
		return fmt.Errorf("workbook: %w", err)
	}
	_, err := w.Write(file.Bytes())
	return err
}

func (b *Book) types() string {
	var t strings.Builder
	t.WriteString(`<Types xmlns="` + spacePackage + `content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
		`<Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="` + typeMain + `sheet.main+xml"/>` +
		`<Override PartName="/xl/styles.xml" ContentType="` + typeMain + `styles+xml"/>`)
	for i := range b.Tabs {
		fmt.Fprintf(&t, `<Override PartName="/xl/worksheets/sheet%d.xml" ContentType="%sworksheet+xml"/>`, i+1, typeMain)
	}
	return t.String() + `</Types>`
}

// relations lists what a part refers to: kinds and targets, numbered from rId1.
func relations(list ...[2]string) string {
	var t strings.Builder
	t.WriteString(`<Relationships xmlns="` + spacePackage + `relationships">`)
	for i, r := range list {
		fmt.Fprintf(&t, `<Relationship Id="rId%d" Type="%s/%s" Target="%s"/>`, i+1, spaceRelated, r[0], r[1])
	}
	return t.String() + `</Relationships>`
}

func (b *Book) related() string {
	var list [][2]string
	for i := range b.Tabs {
		list = append(list, [2]string{"worksheet", fmt.Sprintf("worksheets/sheet%d.xml", i+1)})
	}
	return relations(append(list, [2]string{"styles", "styles.xml"})...)
}

// workbook lists the worksheets, and names what of each is printed, what stands on
// each of its pages, and what its filter is about.
func (b *Book) workbook(names []string) string {
	var t, named strings.Builder
	t.WriteString(`<workbook xmlns="` + spaceMain + `" xmlns:r="` + spaceRelated + `"><sheets>`)
	for i, name := range names {
		fmt.Fprintf(&t, `<sheet name="%s" sheetId="%d" r:id="rId%d"/>`, escaped(name), i+1, i+1)
		tab := &b.Tabs[i]
		of := "'" + strings.ReplaceAll(name, "'", "''") + "'!"
		last := letters(tab.width() - 1)
		define := func(what, hidden, area string) {
			fmt.Fprintf(&named, `<definedName name="_xlnm.%s" localSheetId="%d"%s>%s</definedName>`, what, i, hidden, escaped(of+area))
		}
		if len(tab.Columns) > 0 {
			define("_FilterDatabase", ` hidden="1"`, fmt.Sprintf("$A$2:$%s$%d", last, len(tab.Rows)+tab.top()))
		}
		define("Print_Area", "", fmt.Sprintf("$A$1:$%s$%d", last, len(tab.Rows)+tab.top()))
		define("Print_Titles", "", fmt.Sprintf("$1:$%d", tab.top()))
	}
	return t.String() + `</sheets><definedNames>` + named.String() + `</definedNames></workbook>`
}

// top is how many rows stand above those of the tab.
func (t *Tab) top() int {
	if len(t.Columns) > 0 {
		return 2
	}
	return 1
}

// Styles of cells, as styles lists them: one for each number of decimals stands
// behind, plain and strong in turn.
const (
	plainStyle = iota
	textStyle
	strongStyle
	headStyle
	boxStyle
	lineStyle
	numberStyle
)

const textFormat = 49 // "@": a text is shown as it is and stays one when it is edited (ECMA-376 part 1, 18.8.30)

func styles() string {
	var t, formats strings.Builder
	cell := func(format, font, fill, border int, align string) {
		fmt.Fprintf(&t, `<xf numFmtId="%d" fontId="%d" fillId="%d" borderId="%d" xfId="0" applyNumberFormat="1" applyFont="1" applyFill="1" applyBorder="1" applyAlignment="1"><alignment %s/></xf>`, format, font, fill, border, align)
	}
	const wrapped = `vertical="top" wrapText="1"`
	cell(0, 0, 0, 0, `vertical="top"`)
	cell(textFormat, 0, 0, 0, wrapped)
	cell(textFormat, 1, 0, 0, wrapped)
	cell(textFormat, 1, 2, 1, `vertical="bottom" wrapText="1"`)
	cell(textFormat, 0, 0, 2, wrapped)
	cell(textFormat, 1, 0, 0, `vertical="top"`)
	for n := range mostDigits {
		code := "0"
		if n > 0 {
			code += "." + strings.Repeat("0", n)
		}
		fmt.Fprintf(&formats, `<numFmt numFmtId="%d" formatCode="%s"/>`, 164+n, code)
		cell(164+n, 0, 0, 0, `vertical="top"`)
		cell(164+n, 1, 0, 0, `vertical="top"`)
	}
	return `<styleSheet xmlns="` + spaceMain + `">` +
		fmt.Sprintf(`<numFmts count="%d">%s</numFmts>`, mostDigits, formats.String()) +
		`<fonts count="2"><font><sz val="10"/><name val="Arial"/></font><font><b/><sz val="10"/><name val="Arial"/></font></fonts>` +
		`<fills count="3"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill><fill><patternFill patternType="solid"><fgColor rgb="FFE6E6E6"/></patternFill></fill></fills>` +
		`<borders count="3"><border><left/><right/><top/><bottom/><diagonal/></border><border><left/><right/><top/><bottom style="medium"/><diagonal/></border>` +
		`<border><left style="thin"/><right style="thin"/><top style="thin"/><bottom style="thin"/><diagonal/></border></borders>` +
		`<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
		fmt.Sprintf(`<cellXfs count="%d">%s</cellXfs>`, numberStyle+2*mostDigits, t.String()) +
		`<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`
}

// Widths of columns in characters.
const (
	leastWidth = 5
	mostWidth  = 60
)

func (b *Book) tab(t *Tab) string {
	var x strings.Builder
	last := ref(t.width()-1, len(t.Rows)+t.top()-1)
	fmt.Fprintf(&x, `<worksheet xmlns="%s"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr><dimension ref="A1:%s"/>`, spaceMain, last)
	fmt.Fprintf(&x, `<sheetViews><sheetView workbookViewId="0"><pane ySplit="%d" topLeftCell="A%d" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews>`, t.top(), t.top()+1)
	x.WriteString(`<sheetFormatPr defaultRowHeight="13"/><cols>`)
	for i, n := range t.widths() {
		fmt.Fprintf(&x, `<col min="%d" max="%d" width="%d" customWidth="1"/>`, i+1, i+1, n)
	}
	x.WriteString(`</cols><sheetData><row r="1">` + textCell(0, 0, lineStyle, t.Line) + `</row>`)
	if len(t.Columns) > 0 {
		x.WriteString(`<row r="2">`)
		for i, name := range t.Columns {
			x.WriteString(textCell(i, 1, headStyle, name))
		}
		x.WriteString(`</row>`)
	}
	for i, r := range t.Rows {
		fmt.Fprintf(&x, `<row r="%d">`, i+t.top()+1)
		for k, c := range r.Cells {
			x.WriteString(c.written(k, i+t.top(), r.Strong))
		}
		x.WriteString(`</row>`)
	}
	x.WriteString(`</sheetData>`)
	if len(t.Columns) > 0 {
		fmt.Fprintf(&x, `<autoFilter ref="A2:%s"/>`, last)
	}
	size := 9 // A4, and 1 is Letter (18.3.1.63)
	if b.Letter {
		size = 1
	}
	fmt.Fprintf(&x, `<pageMargins left="0.5" right="0.5" top="0.7" bottom="0.9" header="0.3" footer="0.3"/><pageSetup paperSize="%d" orientation="landscape" fitToWidth="1" fitToHeight="0"/>`, size)
	fmt.Fprintf(&x, `<headerFooter><oddHeader>%s</oddHeader><oddFooter>%s</oddFooter></headerFooter></worksheet>`,
		escaped("&L"+printed(b.Title, 200)+"&R&P / &N"), escaped("&L&8 "+printed(b.Foot, 245)))
	return x.String()
}

// printed gives a text for the head or foot of printed pages, which know & as a sign
// for what to put in and hold 255 characters (18.3.1.46); what is longer stands
// whole on the first worksheet.
func printed(text string, most int) string {
	text = strings.ReplaceAll(text, "&", "&&")
	for units(text) > most {
		_, n := utf8.DecodeLastRuneInString(text)
		text = strings.TrimRight(text[:len(text)-n], "&")
	}
	return text
}

// widths gives each column the room that its longest cell asks for; a longer one
// wraps.
func (t *Tab) widths() []int {
	widths := make([]int, t.width())
	want := func(i int, text string) { widths[i] = max(widths[i], utf8.RuneCountInString(text)+2) }
	for i, name := range t.Columns {
		for word := range strings.FieldsSeq(name) {
			want(i, word+"  ") // beside the button of the filter
		}
	}
	for _, r := range t.Rows {
		for i, c := range r.Cells {
			want(i, c.Text)
		}
	}
	for i := range widths {
		widths[i] = min(max(widths[i], leastWidth), mostWidth)
	}
	return widths
}

func (c Cell) written(column, row int, strong bool) string {
	if value, decimals, ok := c.number(); ok {
		style := numberStyle + 2*decimals
		if strong {
			style++
		}
		return fmt.Sprintf(`<c r="%s" s="%d"><v>%s</v></c>`, ref(column, row), style, value)
	}
	switch {
	case c.Box && !strong && c.Text == "":
		return fmt.Sprintf(`<c r="%s" s="%d"/>`, ref(column, row), boxStyle)
	case c.Text == "":
		return ""
	case strong:
		return textCell(column, row, strongStyle, c.Text)
	}
	return textCell(column, row, textStyle, c.Text)
}

func textCell(column, row, style int, text string) string {
	return fmt.Sprintf(`<c r="%s" s="%d" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, ref(column, row), style, escaped(text))
}

// looksEscaped is what readers of a workbook take for a letter that XML has no place
// for (ECMA-376 part 1, 22.9.2.19).
var looksEscaped = regexp.MustCompile(`^_x[0-9A-Fa-f]{4}_`)

// escaped writes a text so that a reader of a workbook has it back letter by letter.
func escaped(text string) string {
	var t, out strings.Builder
	for i, r := range text {
		switch {
		case r < ' ' && r != '\t' && r != '\n', r == 0xFFFE, r == 0xFFFF:
			fmt.Fprintf(&t, "_x%04X_", r)
		case r == '_' && looksEscaped.MatchString(text[i:]):
			t.WriteString("_x005F_")
		default:
			t.WriteRune(r)
		}
	}
	_ = xml.EscapeText(&out, []byte(t.String())) // into a buffer, which takes everything
	return out.String()
}
