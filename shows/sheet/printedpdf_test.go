package sheet

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/paper"
	"emberbeat/timeline"
)

// tool runs a program of poppler, an independent reader of PDF.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		if os.Getenv("EMBERBEAT_REQUIRE_TOOLS") == "1" {
			t.Fatalf("%s is missing (package poppler-utils)", name)
		}
		t.Skipf("%s is missing (package poppler-utils)", name)
	}
	cmd := exec.Command(name, args...)
	var complaints bytes.Buffer
	cmd.Stderr = &complaints
	out, err := cmd.Output()
	require.NoError(t, err, complaints.String())
	require.Empty(t, complaints.String(), "%s complains", name)
	return string(out)
}

// Poppler reads every sheet on both papers: page size, embedded fonts, no time
// of day, no word outside the margins, and the caution on every page.
func TestPopplerReadsEverySheet(t *testing.T) {
	dir := t.TempDir()
	plans := map[string]*timeline.Plan{"plain": timeline.Compile(staged(t), staged(t).Night("n1")), "hostile": hostile(t, 7)}
	for _, size := range []struct {
		paper paper.Size
		says  string
		w, h  float64
	}{{paper.A4, "841.89 x 595.276 pts (A4)", 841.89, 595.276}, {paper.Letter, "792 x 612 pts (letter)", 792, 612}} {
		for which, p := range plans {
			each(t, p, func(name string, made Printed) {
				file := filepath.Join(dir, name+".pdf")
				var b bytes.Buffer
				require.NoError(t, WritePDF(&b, made, size.paper))
				require.NoError(t, os.WriteFile(file, b.Bytes(), 0o644))
				info := tool(t, "pdfinfo", file)
				require.Contains(t, info, size.says, name)
				require.NotContains(t, info, "Date", name)
				for _, f := range strings.Split(strings.TrimSpace(tool(t, "pdffonts", file)), "\n")[2:] { // name, type, encoding, embedded, subset, unicode
					require.Regexp(t, `^Go(Regular|Bold) +CID TrueType +Identity-H +yes no +yes`, f, name)
				}
				pages := strings.Split(strings.TrimSuffix(tool(t, "pdftotext", "-layout", file, "-"), "\f"), "\f")
				require.Contains(t, info, fmt.Sprintf("Pages:           %d\n", len(pages)))
				for _, page := range pages {
					require.Contains(t, strings.Join(strings.Fields(page), " "), "not permission to fire", "%s %s", which, name)
				}
				wordsInside(t, name, tool(t, "pdftotext", "-bbox", file, "-"), size.w, size.h)
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
