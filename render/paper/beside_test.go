package paper

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
)

// Whatever stands beside itself is there once and in order, down a column and then
// down the next; no heading stands at the foot of one without what it heads.
func TestTablesBesideThemselvesHoldEveryRow(t *testing.T) {
	faces := render.NewFaces()
	rapid.Check(t, func(t *rapid.T) {
		p := Part{Heading: "Place", Beside: rapid.IntRange(2, 3).Draw(t, "beside"), Large: rapid.Bool().Draw(t, "large"), Dense: true, Columns: []Column{{Name: "time"}, {Name: "what"}}}
		rows := rapid.IntRange(0, 150).Draw(t, "rows")
		every := rapid.IntRange(2, 9).Draw(t, "heading every")
		for i := range rows {
			if i%every == 0 && i+1 < rows {
				p.Rows = append(p.Rows, Row{Cells: []string{fmt.Sprintf("head%d", i), ""}, Strong: true, Across: true})
			} else {
				p.Rows = append(p.Rows, Row{Cells: []string{fmt.Sprintf("row%d", i), strings.Repeat("long ", rapid.IntRange(0, 20).Draw(t, "words"))}, With: i%every == 1})
			}
		}
		sh := &Sheet{Title: "Beside", Foot: "caution", Parts: []Part{p}}
		heads := map[int]string{} // by row
		for i, r := range p.Rows {
			if heads[i] = heads[i-1]; r.Across {
				heads[i] = r.Cells[0]
			}
		}
		next := 0
		for _, page := range sh.Pages(faces, A4) {
			l := newLayout(sh, faces, A4)
			last, lastTop, left := "", 0, -1
			for i := range page.Shapes {
				s := &page.Shapes[i]
				text := ""
				if s.Kind == render.KindText {
					text = string(page.Label(s))
				}
				if !strings.HasPrefix(text, "row") && !strings.HasPrefix(text, "head") {
					continue
				}
				if said, again := strings.CutSuffix(text, more); again { // what the page's first row stands under
					require.Empty(t, last)
					require.Equal(t, heads[next], said)
					continue
				}
				require.Equal(t, fmt.Sprint(next), strings.TrimLeft(text, "rowhead"))
				if s.Box.Min.X != left { // another column
					require.False(t, strings.HasPrefix(last, "head"), "%s stands alone", last)
					require.Greater(t, s.Box.Min.X, left)
					left, lastTop = s.Box.Min.X, 0
				}
				require.Greater(t, s.Box.Min.Y, lastTop)
				require.Less(t, s.Box.Max.Y, l.body.Max.Y)
				last, lastTop, next = text, s.Box.Min.Y, next+1
			}
			require.False(t, strings.HasPrefix(last, "head"), "%s stands alone", last)
		}
		require.Equal(t, rows, next)
	})
}

// Rows that end on a page stand in columns of like height, and what comes below has
// the rest of the page.
func TestTablesBesideThemselvesEndEvenly(t *testing.T) {
	p := Part{Heading: "Place", Beside: 3, Dense: true, Columns: []Column{{Name: "what"}}}
	for i := range 31 {
		p.Rows = append(p.Rows, Row{Cells: []string{fmt.Sprintf("row%d", i)}})
	}
	pages := (&Sheet{Title: "Beside", Parts: []Part{p, {Heading: "Below"}}}).Pages(render.NewFaces(), A4)
	require.Len(t, pages, 1)
	count := map[int]int{}
	for i := range pages[0].Shapes {
		if s := &pages[0].Shapes[i]; s.Kind == render.KindText && strings.HasPrefix(string(pages[0].Label(s)), "row") {
			count[s.Box.Min.X]++
		}
	}
	require.Len(t, count, 3)
	for _, n := range count {
		require.InDelta(t, 10, n, 1)
	}
}

// A page that begins within a group says its heading again, a table of the page's
// width as well; one that begins with a heading or a total does not.
func TestGroupsThatGoOnSayTheirHeadingAgain(t *testing.T) {
	p := Part{Heading: "Place", Dense: true, Columns: []Column{{Name: "what"}}}
	for i := range 90 {
		if i%40 == 0 {
			p.Rows = append(p.Rows, Row{Cells: []string{fmt.Sprintf("song%d", i)}, Strong: true, Across: true})
		}
		p.Rows = append(p.Rows, Row{Cells: []string{fmt.Sprintf("row%d", i)}, With: i%40 == 0})
	}
	p.Rows = append(p.Rows, Row{Cells: []string{"all"}, Strong: true})
	sh := &Sheet{Title: "Groups", Parts: []Part{p}}
	pages := sh.Pages(render.NewFaces(), A4)
	require.Greater(t, len(pages), 1)
	for n, page := range pages[1:] {
		var list []string
		for line := range strings.Lines(Plain(page)) {
			if text := strings.TrimSpace(line); strings.HasPrefix(text, "song") || strings.HasPrefix(text, "row") {
				list = append(list, text)
			}
		}
		require.NotEmpty(t, list)
		if strings.HasPrefix(list[0], "song") && !strings.HasSuffix(list[0], more) {
			continue
		}
		var row int
		_, err := fmt.Sscanf(list[1], "row%d", &row)
		require.NoError(t, err, "page %d: %v", n+2, list)
		require.Equal(t, fmt.Sprintf("song%d%s", row/40*40, more), list[0])
	}
}
