package picture_test

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/picture"
	"emberbeat/timeline"
	"emberbeat/timeline/testtool"
)

func write(t *testing.T, name, text string) string {
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

func pngOf(t *testing.T, wide, high int) string {
	var b bytes.Buffer
	m := image.NewGray(image.Rect(0, 0, wide, high))
	m.SetGray(1, 1, color.Gray{Y: 255})
	require.NoError(t, png.Encode(&b, m))
	return b.String()
}

// claims is a PNG that says it has so many pixels, and has none.
func claims(wide, high uint32) string {
	var b bytes.Buffer
	b.WriteString("\x89PNG\r\n\x1a\n")
	chunk := func(name string, data []byte) {
		_ = binary.Write(&b, binary.BigEndian, uint32(len(data)))
		body := append([]byte(name), data...)
		b.Write(body)
		_ = binary.Write(&b, binary.BigEndian, crc32.ChecksumIEEE(body))
	}
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, wide), high)
	chunk("IHDR", append(head, 8, 0, 0, 0, 0))
	var z bytes.Buffer
	w := zlib.NewWriter(&z)
	_ = w.Close()
	chunk("IDAT", z.Bytes())
	chunk("IEND", nil)
	return b.String()
}

func readFile(path string, page int) (*picture.Picture, error) {
	return picture.ReadFile(context.Background(), path, page)
}

func TestPNG(t *testing.T) {
	p, err := readFile(write(t, "Große Halle.png", pngOf(t, 40, 30)), 1)
	require.NoError(t, err)
	require.Regexp(t, `^plans/gro[a-z]*e-halle-[0-9a-f]{8}\.png$`, p.Name)
	require.True(t, timeline.IsPlanPicture(p.Name))
	require.Equal(t, timeline.PlanPicture{File: p.Name, Wide: 40, High: 30}, p.Plan())
	other, err := readFile(write(t, "Große Halle.png", pngOf(t, 41, 30)), 1)
	require.NoError(t, err)
	require.NotEqual(t, p.Name, other.Name, "another picture never takes the place of one")
	dir := t.TempDir()
	require.NoError(t, p.Keep(dir))
	require.NoError(t, p.Keep(dir))
	m, err := picture.Load(dir, p.Plan())
	require.NoError(t, err)
	require.Equal(t, image.Pt(40, 30), m.Bounds().Size())
	wrong := p.Plan()
	wrong.Wide = 39
	_, err = picture.Load(dir, wrong)
	require.ErrorContains(t, err, "it is another picture")
}

func TestRefusedPictures(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"x.txt", "hello", "it is neither a PNG nor an SVG nor a PDF"},
		{"x.png", "\x89PNG\r\n\x1a\nhello", "it is no PNG that can be read"},
		{"cut.png", pngOf(t, 40, 30)[:60], "it is no PNG that can be read"},
		{"wide.png", claims(8001, 1), "it has 8001 by 1 pixels; up to 8000 a side"},
		{"bomb.png", claims(8000, 8000), "and 24 million in all are taken"},
		{"large.svg", "<svg>" + strings.Repeat(" ", 32<<20), "has more than 32 MB"},
		{"page.html", "<?xml version=\"1.0\"?><html/>", "it is neither"},
	} {
		_, err := readFile(write(t, c.name, c.text), 1)
		require.ErrorContains(t, err, c.want, c.name)
	}
	_, err := readFile(t.TempDir(), 1)
	require.ErrorContains(t, err, "is not a file")
	_, err = readFile(os.DevNull, 1)
	require.ErrorContains(t, err, "is not a file")
	t.Setenv("PATH", "")
	_, err = readFile(write(t, "x.svg", "<svg/>"), 1)
	require.ErrorContains(t, err, "rsvg-convert is needed to read it, and is not installed; on Debian the package librsvg2-bin has it")
	_, err = readFile(write(t, "x.pdf", "%PDF-1.4"), 1)
	require.ErrorContains(t, err, "on Debian the package poppler-utils has it")
}

// Nothing is read from outside of the folder, and nothing put there.
func TestPicturesStayInTheFolder(t *testing.T) {
	p, err := readFile(write(t, "hall.png", pngOf(t, 40, 30)), 1)
	require.NoError(t, err)
	dir, away := t.TempDir(), t.TempDir()
	require.NoError(t, os.Symlink(away, filepath.Join(dir, "plans")))
	require.ErrorContains(t, p.Keep(dir), "is a link to")
	left, err := os.ReadDir(away)
	require.NoError(t, err)
	require.Empty(t, left)
	require.NoError(t, os.WriteFile(filepath.Join(away, filepath.Base(p.Name)), p.PNG, 0o644))
	_, err = picture.Load(dir, p.Plan())
	require.ErrorContains(t, err, "is a link to")
	dir = t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "plans"), 0o755))
	require.NoError(t, os.Symlink(filepath.Join(away, filepath.Base(p.Name)), filepath.Join(dir, filepath.FromSlash(p.Name))))
	_, err = picture.Load(dir, p.Plan())
	require.ErrorContains(t, err, "is a link to")
	_, err = picture.Load(t.TempDir(), p.Plan())
	require.Error(t, err)
	_, err = picture.Load(dir, timeline.PlanPicture{File: "../x.png"})
	require.ErrorContains(t, err, "is no picture in the show's folder")
}

// SVG becomes a picture with its longer side at 3,000 pixels, and reads no file that
// it names.
func TestSVG(t *testing.T) {
	testtool.Need(t, "rsvg-convert")
	secret := write(t, "secret.png", pngOf(t, 10, 10))
	text := `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="200" height="100"><image xlink:href="file://` + secret + `" width="200" height="100"/></svg>`
	p, err := readFile(write(t, "hall.svg", text), 1)
	require.NoError(t, err)
	require.Equal(t, []int{3000, 1500}, []int{p.Wide, p.High})
	m, err := png.Decode(bytes.NewReader(p.PNG))
	require.NoError(t, err)
	r, g, b, _ := m.At(1500, 750).RGBA()
	require.Equal(t, []uint32{0xffff, 0xffff, 0xffff}, []uint32{r, g, b}, "what it names is not there")
	_, err = readFile(write(t, "broken.svg", "<svg"), 1)
	require.ErrorContains(t, err, "rsvg-convert cannot read it")
}

func TestPDF(t *testing.T) {
	testtool.Need(t, "pdftoppm")
	text := "%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 400 200]>>endobj\ntrailer<</Root 1 0 R>>\n"
	p, err := readFile(write(t, "hall.pdf", text), 1)
	require.NoError(t, err)
	require.Equal(t, []int{3000, 1500}, []int{p.Wide, p.High})
	_, err = readFile(write(t, "hall.pdf", text), 7)
	require.ErrorContains(t, err, "hall.pdf: ")
	_, err = readFile(write(t, "broken.pdf", "%PDF-1.4 no"), 1)
	require.ErrorContains(t, err, "pdftoppm cannot read it")
}
