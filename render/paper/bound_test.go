package paper

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
)

// Sheets in one file follow each other, their pages are counted through, and each page
// looks as it does alone but for its number.
func TestBoundSheetsAreCountedThrough(t *testing.T) {
	faces := render.NewFaces()
	rapid.Check(t, func(t *rapid.T) {
		var list []*Sheet
		for i := range rapid.IntRange(1, 4).Draw(t, "sheets") {
			sh := &Sheet{Title: fmt.Sprintf("Sheet %d", i), Wide: rapid.Bool().Draw(t, "wide"), Parts: []Part{{Heading: "Part", Columns: []Column{{Name: "what"}}}}}
			for k := range rapid.IntRange(0, 90).Draw(t, "rows") {
				sh.Parts[0].Rows = append(sh.Parts[0].Rows, Row{Cells: []string{fmt.Sprint("row", k)}})
			}
			list = append(list, sh)
		}
		size := rapid.SampledFrom(Sizes()).Draw(t, "paper")
		b := Bind(faces, size, list...)
		page := 0
		for i := range b.Sheets {
			alone := list[i].Pages(faces, size)
			require.Equal(t, page+1, b.Sheets[i].First)
			require.Equal(t, len(alone), b.Sheets[i].Pages)
			for k, scene := range b.Scenes(i) {
				page++
				was, more := fmt.Sprintf("page %d of %d", k+1, len(alone)), fmt.Sprintf(" · %d of all %d", page, b.Pages)
				require.Contains(t, Plain(scene), was+more)
				require.Equal(t, strings.Fields(Plain(alone[k])), strings.Fields(strings.Replace(Plain(scene), was+more, was, 1)))
			}
		}
		require.Equal(t, page, b.Pages)
	})
}

// The outline names each sheet and below it its headings; pages keep their direction,
// and the same sheets are the same file.
func TestOneFileHasAnOutline(t *testing.T) {
	list := []*Sheet{{Title: "First", Wide: true, Parts: []Part{{Heading: "A"}, {Heading: "B", NewPage: true}}}, {Title: "Second", Parts: []Part{{Heading: "C"}}}}
	var out, again bytes.Buffer
	b := Bind(render.NewFaces(), A4, list...)
	require.NoError(t, b.WritePDF(&out, &render.Day, "All"))
	require.NoError(t, b.WritePDF(&again, &render.Day, "All"))
	require.Equal(t, out.Bytes(), again.Bytes())
	file := out.String()
	require.Contains(t, file, "/Outlines")
	require.Len(t, regexp.MustCompile(`/Dest \[`).FindAllString(file, -1), 5, "two sheets and three headings")
	require.Len(t, regexp.MustCompile(`/Parent \d+ 0 R\n(/Prev \d+ 0 R\n)?/Dest|/Parent`).FindAllString(file, -1), 5+3, "and three pages")
	for _, top := range []string{"595.28", "841.89"} { // a page that lies and one that stands, from its head
		require.Contains(t, file, "/XYZ 0 "+top+" null")
	}
	require.Error(t, Bind(render.NewFaces(), A4).WritePDF(&out, &render.Day, "None"))
}
