package sheet

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/paper"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/testtool"
)

// Poppler reads every sheet on both papers: page size, embedded fonts, no time
// of day, no word outside the margins, and the caution on every page.
func TestPopplerReadsEverySheet(t *testing.T) {
	dir := t.TempDir()
	plans := map[string]*timeline.Plan{"plain": timeline.Compile(testshow.Staged(t), testshow.Staged(t).Night("n1")), "hostile": testshow.Hostile(t, 7)}
	for _, size := range []struct {
		paper paper.Size
		says  string
		w, h  float64

		upright string
	}{{paper.A4, "841.89 x 595.28 pts (A4)", 841.89, 595.276, "595.28 x 841.89 pts (A4)"}, {paper.Letter, "792 x 612 pts (letter)", 792, 612, "612 x 792 pts (letter)"}} {
		for which, p := range plans {
			each(t, p, func(name string, made Sheet) {
				file := filepath.Join(dir, name+".pdf")
				var b bytes.Buffer
				require.NoError(t, WritePDF(&b, made, size.paper))
				require.NoError(t, os.WriteFile(file, b.Bytes(), 0o644))
				info := testtool.Output(t, "pdfinfo", file)
				says, w, h := size.says, size.w, size.h
				if !made.Printed().Wide {
					says, w, h = size.upright, h, w
				}
				require.Contains(t, info, says, name)
				require.NotContains(t, info, "Date", name)
				for _, f := range strings.Split(strings.TrimSpace(testtool.Output(t, "pdffonts", file)), "\n")[2:] { // name, type, encoding, embedded, subset, unicode
					require.Regexp(t, `^utf8go(regular|bold) +CID TrueType +Identity-H +yes no +yes`, f, name)
				}
				pages := strings.Split(strings.TrimSuffix(testtool.Output(t, "pdftotext", "-layout", file, "-"), "\f"), "\f")
				require.Contains(t, info, fmt.Sprintf("Pages:           %d\n", len(pages)))
				for _, page := range pages {
					require.Contains(t, strings.Join(strings.Fields(page), " "), "not permission to fire", "%s %s", which, name)
				}
				wordsInside(t, name, testtool.Output(t, "pdftotext", "-bbox", file, "-"), w, h)
			})
		}
	}
}

// wordsInside checks that every word lies inside the margins of its page.
func wordsInside(t *testing.T, name, boxes string, w, h float64) {
	t.Helper()
	const edge = 45*0.75 - 1 // points
	words := 0
	for line := range strings.Lines(boxes) {
		var x0, y0, x1, y1 float64
		if n, _ := fmt.Sscanf(strings.TrimSpace(line), `<word xMin="%f" yMin="%f" xMax="%f" yMax="%f">`, &x0, &y0, &x1, &y1); n == 4 {
			words++
			require.True(t, x0 >= edge && y0 >= edge && x1 <= w-edge && y1 <= h-edge, "%s: %s", name, line)
		}
	}
	require.Greater(t, words, 30, name)
}
