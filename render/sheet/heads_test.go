package sheet

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// No word in the head of any column is broken, on either paper, whatever stands below.
func TestEveryHeadFitsItsColumn(t *testing.T) {
	faces, heads := render.NewFaces(), 0
	check := func(t require.TestingT, p *timeline.Plan) {
		each(t, p, func(name string, made Sheet) {
			sh, words := made.Printed(), map[string]bool{}
			for word := range strings.FieldsSeq("printed letters that no font here has") { // heads of the part that paper adds itself
				words[word] = true
			}
			for _, part := range sh.Parts {
				for _, c := range part.Columns {
					for word := range strings.FieldsSeq(c.Name) {
						words[word] = true
					}
				}
			}
			for _, size := range paper.Sizes() {
				for _, page := range sh.Pages(faces, size) {
					for i := range page.Shapes {
						s := &page.Shapes[i]
						if s.Kind != render.KindText || s.Type != render.TypeMark || s.Ink != render.InkSecondary {
							continue
						}
						for word := range strings.FieldsSeq(string(page.Label(s))) {
							heads++
							require.True(t, words[word], "%s on %s: %q is a piece of a head", name, size.Name, word)
						}
					}
				}
			}
		})
	}
	s := testshow.Staged(t)
	check(t, timeline.Compile(s, s.Night("n1")))
	check(t, timeline.Compile(exampleShow(t), nil))
	check(t, timeline.Compile(exampleShow(t), exampleShow(t).Nights[0]))
	for seed := range 3 {
		check(t, testshow.Hostile(t, seed*1000))
	}
	rapid.Check(t, func(t *rapid.T) {
		if rapid.IntRange(0, 9).Draw(t, "one in ten") == 0 { // all sheets of a show take their time
			check(t, timeline.Compile(testshow.Random(t, s), s.Night("n1")))
		}
	})
	require.Positive(t, heads)
}

// No page of any sheet holds signatures alone: something that is signed for stands
// above them.
func TestNoSignatureStandsAlone(t *testing.T) {
	faces, signed := render.NewFaces(), 0
	for _, p := range []*timeline.Plan{timeline.Compile(exampleShow(t), nil), timeline.Compile(exampleShow(t), exampleShow(t).Nights[0]), timeline.Compile(crewNight(t), nil), testshow.Hostile(t, 0)} {
		each(t, p, func(name string, made Sheet) {
			if name != "inspector-sheet" {
				return
			}
			for _, size := range paper.Sizes() {
				for _, page := range made.Printed().Pages(faces, size) {
					text := paper.Plain(page)
					if at := strings.Index(text, "seen: name, date, signature"); at >= 0 {
						signed++
						_, rows, under := strings.Cut(text[:at], "performers") // a head of the table
						require.True(t, under, text)
						require.Greater(t, strings.Count(rows, "\n"), 3, "a row of what is signed for: %s", text)
					}
				}
			}
		})
	}
	require.Positive(t, signed)
}
