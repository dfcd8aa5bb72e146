package paper

import (
	"cmp"
	"image"
	"slices"
	"strings"
	"unicode/utf8"

	"emberbeat/render"
)

// Plain writes the texts of a scene as lines of plain text, roughly where they
// stand: for reading without a picture. An empty line stands for a gap.
func Plain(s *render.Scene) string {
	type word struct {
		at   image.Point
		text string
	}
	var words []word
	for i := range s.Shapes {
		if sh := &s.Shapes[i]; sh.Kind == render.KindText {
			words = append(words, word{image.Pt(sh.Box.Min.X, sh.Box.Min.Y+s.Face(sh.Type).Ascent()), string(s.Label(sh))})
		}
	}
	slices.SortStableFunc(words, func(a, b word) int { return cmp.Or(cmp.Compare(a.at.Y, b.at.Y), cmp.Compare(a.at.X, b.at.X)) })
	var out strings.Builder
	letter, last, col := s.Px(6), 0, 0
	for i, w := range words {
		if i > 0 && w.at.Y-last > s.Px(2) {
			out.WriteByte('\n')
			if w.at.Y-last > s.Px(24) {
				out.WriteByte('\n')
			}
			col = 0
		}
		if want := w.at.X/letter - 7; col < want || col == 0 {
			out.WriteString(strings.Repeat(" ", max(0, want-col)))
			col = max(col, want)
		} else {
			out.WriteString(" ")
			col++
		}
		out.WriteString(w.text)
		col += utf8.RuneCountInString(w.text)
		last = w.at.Y
	}
	out.WriteByte('\n')
	return out.String()
}
