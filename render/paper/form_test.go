package paper

import (
	"fmt"
	"image"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
)

// formSheet is a sheet with a stamp, large numbers, a form with lines to write
// on, a drawing on a page of its own, and boxes to sign in.
func formSheet() *Sheet {
	return &Sheet{Title: "Permit pack", Foot: "Planning document, not permission to fire.", Stamp: "DRAFT: 3 numbers are unverified", Wide: true, Facts: []Fact{{"revision", "B"}},
		Parts: []Part{
			{Heading: "At a glance", Figures: []Fact{{"pieces", "24"}, {"NEC", "312.5 g"}, {"governing", "the label distance of an article whose name is long"}}},
			{Heading: "Who", Entries: []Fact{{"operator", "A. Example"}, {"licence", ""}, {"place", "Lantern Hall, Northport"}}},
			{Heading: "Plan", NewPage: true, Art: &Art{Least: 300, Draw: func(s *render.Scene, area image.Rectangle) {
				s.Frame(area, s.Px(1), render.InkText)
				s.Text(area.Min.Add(image.Pt(s.Px(8), s.Px(8))), render.TypeSmall, render.InkText, "scale 1:200")
			}}},
			{Heading: "Signatures", Tall: true, Columns: []Column{{Name: "role"}, {Name: "signature", Box: true}}, Rows: []Row{{Cells: []string{"operator", ""}}}},
		}}
}

func TestFormReadsAsItIsMeant(t *testing.T) {
	pages := formSheet().Pages(render.NewFaces(), A4)
	require.Len(t, pages, 3, "the drawing takes a page")
	var text strings.Builder
	for _, p := range pages {
		text.WriteString(Plain(p))
	}
	golden(t, "form.txt", text.String())
	require.Equal(t, 3, strings.Count(text.String(), "DRAFT"), "every page is stamped")
}

// Forms and large numbers keep inside the page, whatever they say, and nothing
// of it is lost.
func TestFormsKeepInside(t *testing.T) {
	faces := render.NewFaces()
	letters := rapid.StringOfN(rapid.RuneFrom([]rune("abcWM .-é火\n")), 0, 900, -1)
	rapid.Check(t, func(t *rapid.T) {
		p := Part{Heading: "form"}
		want := ""
		for range rapid.IntRange(0, 8).Draw(t, "figures") {
			f := Fact{"", letters.Draw(t, "figure")}
			p.Figures, want = append(p.Figures, f), want+f.Text
		}
		for range rapid.IntRange(0, 12).Draw(t, "entries") {
			f := Fact{"", letters.Draw(t, "entry")}
			p.Entries, want = append(p.Entries, f), want+f.Text
		}
		sh := &Sheet{Title: "T", Foot: "F", Wide: rapid.Bool().Draw(t, "wide"), Parts: []Part{p}}
		size := rapid.SampledFrom(Sizes()).Draw(t, "paper")
		l := newLayout(sh, faces, sh.Paper(size))
		got := ""
		for _, s := range sh.Pages(faces, size) {
			for i := range s.Shapes {
				sh := &s.Shapes[i]
				if sh.Kind == render.KindText {
					require.True(t, sh.Box.In(l.area), "%s %v", s.Label(sh), sh.Box)
					got += string(s.Label(sh))
				}
			}
		}
		for _, r := range "bWMé火" {
			require.GreaterOrEqual(t, strings.Count(got, string(r)), strings.Count(want, string(r)), "%q", r)
		}
	})
}

func TestDigestTellsWhatIsPrinted(t *testing.T) {
	faces := render.NewFaces()
	first := formSheet().Digest(faces, "revision")
	require.Len(t, first, 16)
	require.Equal(t, first, formSheet().Digest(faces, "revision"))
	for name, change := range map[string]func(*Sheet){
		"stamp":  func(s *Sheet) { s.Stamp = "" },
		"figure": func(s *Sheet) { s.Parts[0].Figures[0].Text = "25" },
		"entry":  func(s *Sheet) { s.Parts[1].Entries[1].Text = "L 12" },
		"row":    func(s *Sheet) { s.Parts[3].Rows[0].Cells[0] = "authority" },
		"drawing": func(s *Sheet) {
			s.Parts[2].Art.Draw = func(s *render.Scene, area image.Rectangle) { s.Rect(area, render.InkText) }
		},
	} {
		sh := formSheet()
		change(sh)
		require.NotEqual(t, first, sh.Digest(faces, "revision"), name)
	}
	other := formSheet()
	other.Facts[0].Text = "C"
	require.Equal(t, first, other.Digest(faces, "revision"), "a fact that does not count")
	require.NotEqual(t, formSheet().Digest(faces), other.Digest(faces))
}

// A part that does not begin a page alone has the last row of the table before it on
// its page, and so has a total the row before.
func TestNoSignatureBeginsAPageAlone(t *testing.T) {
	faces, moved := render.NewFaces(), 0
	for rows := range 120 {
		for how := range 4 {
			total, whole := how%2 == 1, how > 1
			table := Part{Heading: "Loads", Whole: whole, Dense: rows%2 == 0, Columns: []Column{{Name: "what"}}}
			for i := range rows + 1 {
				table.Rows = append(table.Rows, Row{Cells: []string{fmt.Sprintf("row%d.", i)}})
			}
			if total {
				table.Rows = append(table.Rows, Row{Cells: []string{"all"}, Strong: true})
			}
			sign := Part{Heading: "Signatures", Whole: true, With: true, Tall: true, Columns: []Column{{Name: "role"}, {Name: "signature", Box: true}}}
			for range 1 + rows%4 {
				sign.Rows = append(sign.Rows, Row{Cells: []string{"operator", ""}})
			}
			sh := &Sheet{Title: "Sheet", Wide: true, Parts: []Part{table, sign}}
			for n, page := range sh.Pages(faces, A4) {
				text := Plain(page)
				at := strings.Index(text, "Signatures")
				if at < 0 {
					continue
				}
				require.Contains(t, text[:at], fmt.Sprintf("row%d.", rows), "%d rows, total %v, whole %v", rows+1, total, whole)
				require.Equal(t, len(sign.Rows), strings.Count(text, "operator"), "they are not parted")
				if n > 0 {
					moved++
				}
			}
		}
	}
	require.Positive(t, moved)
}
