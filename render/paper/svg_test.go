package paper

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/timeline/testtool"
)

func svgOf(t *testing.T, s *render.Scene, title string) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, WriteSVG(&b, s, &render.Day, title))
	return b.Bytes()
}

// drawn is what an XML parser finds in a drawing.
type drawn struct {
	labels []string
	uses   int
	sizes  map[string]string // of the root
}

func parsed(t *testing.T, data []byte) drawn {
	t.Helper()
	d := drawn{sizes: map[string]string{}}
	ids, wanted := map[string]bool{}, []string{}
	for p := xml.NewDecoder(bytes.NewReader(data)); ; {
		token, err := p.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		for _, a := range e.Attr {
			switch {
			case a.Name.Local == "id":
				require.False(t, ids[a.Value], "id %s twice", a.Value)
				ids[a.Value] = true
			case a.Name.Local == "href":
				wanted, d.uses = append(wanted, strings.TrimPrefix(a.Value, "#")), d.uses+1
			case a.Name.Local == "clip-path":
				wanted = append(wanted, strings.TrimSuffix(strings.TrimPrefix(a.Value, "url(#"), ")"))
			case a.Name.Local == "aria-label":
				d.labels = append(d.labels, a.Value)
			case e.Name.Local == "svg":
				d.sizes[a.Name.Local] = a.Value
			}
		}
	}
	for _, id := range wanted {
		require.True(t, ids[id], "#%s is not there", id)
	}
	return d
}

// An XML parser finds every text of the page, in order, and every outline that
// is used.
func TestSVGHoldsThePage(t *testing.T) {
	sh := loadSheet(20)
	sh.Parts[0].Rows[0].Cells[1] = `Höhe 5 m – <left> & "right" ≥ 3 Ω`
	page := sh.Pages(render.NewFaces(), A4)[0]
	d := parsed(t, svgOf(t, page, `Load & "plan"`))
	var want []string
	letters := 0
	for i := range page.Shapes {
		if s := &page.Shapes[i]; s.Kind == render.KindText {
			want = append(want, string(page.Label(s)))
			letters += len([]rune(strings.ReplaceAll(string(page.Label(s)), " ", "")))
		}
	}
	require.Equal(t, want, d.labels)
	require.Equal(t, letters, d.uses)
	require.Equal(t, "0 0 3367 2381", d.sizes["viewBox"])
	require.Equal(t, "11.691in", d.sizes["width"]) // 297 mm, in whole pixels
}

func TestSVGIsTheSameEachTime(t *testing.T) {
	page := loadSheet(40).Pages(render.NewFaces(), A4)[0]
	require.Equal(t, svgOf(t, page, "plan"), svgOf(t, loadSheet(40).Pages(render.NewFaces(), A4)[0], "plan"))
	require.ErrorContains(t, WriteSVG(io.Discard, newScene(0, 3), &render.Day, ""), "sides must be from 1")
}

// Another program's picture of the drawing is our picture but for smoothing: of
// a page, and of a song with clips, lines, polygons and covers.
func TestAnotherProgramDrawsTheSVGAsWeDo(t *testing.T) {
	testtool.Need(t, "rsvg-convert")
	song, err := (&Picture{View: render.SongView{Data: songOf(t, 5, 6, 7)}, Width: 900}).Scene(render.NewFaces())
	require.NoError(t, err)
	for name, s := range map[string]*render.Scene{"page": loadSheet(20).Pages(render.NewFaces(), A4)[0], "song": song} {
		file := filepath.Join(t.TempDir(), name+".svg")
		require.NoError(t, os.WriteFile(file, svgOf(t, s, name), 0o644))
		cmd := exec.Command("rsvg-convert", "--dpi-x", "96", "--dpi-y", "96", "--zoom", number(float64(s.Scale)/100), file)
		var complaints bytes.Buffer
		cmd.Stderr = &complaints
		out, err := cmd.Output()
		require.NoError(t, err, complaints.String())
		require.Empty(t, complaints.String())
		theirs, err := png.Decode(bytes.NewReader(out))
		require.NoError(t, err)
		ours := Image(s, &render.Day)
		require.InDelta(t, ours.Bounds().Dx(), theirs.Bounds().Dx(), 1, name)
		require.InDelta(t, ours.Bounds().Dy(), theirs.Bounds().Dy(), 1, name)
		same(t, name, ours, theirs)
	}
}

// same compares the darkness of two pictures in blocks of 24 by 24 pixels.
func same(t *testing.T, name string, ours, theirs image.Image) {
	t.Helper()
	var a, b, apart float64
	for y := 0; y+24 < ours.Bounds().Dy(); y += 24 {
		for x := 0; x+24 < ours.Bounds().Dx(); x += 24 {
			p, q := darkness(ours, x, y), darkness(theirs, x, y)
			a, b, apart = a+p, b+q, apart+max(p-q, q-p)
		}
	}
	require.Positive(t, a, name)
	require.InDelta(t, 1, b/a, 0.01, name+": ink")
	require.Less(t, apart/a, 0.02, name+": ink elsewhere")
}
