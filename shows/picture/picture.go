package picture

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"
	"os/exec"
	"path"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"emberbeat/audio"
	"emberbeat/shows"
	"emberbeat/timeline"
)

// Limits of a picture: far above a plan that somebody looks at. Judgements.
const (
	mostBytes  = 32 << 20
	mostPixels = 24 << 20 // width times height: some 100 MB unpacked
	wait       = 30 * time.Second
	longSide   = 3000 // pixels of what is made of SVG and PDF
)

// Picture is a picture as it is kept with a show.
type Picture struct {
	Name       string // in the show's folder: plans/NAME.png
	Wide, High int    // pixels
	PNG        []byte
}

// Plan is the picture as a venue names it, before it lies anywhere.
func (p *Picture) Plan() timeline.PlanPicture {
	return timeline.PlanPicture{File: p.Name, Wide: p.Wide, High: p.High}
}

// ReadFile reads a picture from a file: a PNG, or an SVG or a page of a PDF (from
// 1), which become one. Its content tells which. Folders, devices and pipes, pictures
// that are too large and files that are none are refused with a sentence.
func ReadFile(ctx context.Context, file string, page int) (*Picture, error) {
	f, err := audio.OpenFile(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostBytes+1))
	if err != nil {
		return nil, err
	}
	if len(data) > mostBytes {
		return nil, fmt.Errorf("%s has more than %d MB; make it smaller", file, mostBytes>>20)
	}
	switch {
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
	case bytes.HasPrefix(data, []byte("%PDF-")):
		data, err = pdfPage(ctx, data, page)
	case isSVG(data):
		data, err = fromSVG(ctx, data)
	default:
		err = errors.New("it is neither a PNG nor an SVG nor a PDF; save the plan as one of them")
	}
	if err == nil {
		var p *Picture
		if p, err = read(data); err == nil {
			p.Name = nameOf(file, data)
			return p, nil
		}
	}
	return nil, fmt.Errorf("%s: %w", file, err)
}

// read looks at a PNG, first at its size and then at all of it.
func read(data []byte) (*Picture, error) {
	_, err := decode(data)
	if err != nil {
		return nil, err
	}
	c, err := png.DecodeConfig(bytes.NewReader(data))
	return &Picture{Wide: c.Width, High: c.Height, PNG: data}, err
}

func decode(data []byte) (image.Image, error) {
	c, err := png.DecodeConfig(bytes.NewReader(data))
	switch {
	case err != nil:
		return nil, fmt.Errorf("it is no PNG that can be read (%w)", err)
	case c.Width > timeline.MostPixels || c.Height > timeline.MostPixels || c.Width*c.Height > mostPixels:
		return nil, fmt.Errorf("it has %d by %d pixels; up to %d a side and %d million in all are taken", c.Width, c.Height, timeline.MostPixels, mostPixels>>20)
	}
	m, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("it is no PNG that can be read (%w)", err)
	}
	return m, nil
}

// nameOf is what a picture is called in a show: by its file and its content, so that
// another picture never takes its place.
func nameOf(file string, data []byte) string {
	slug := timeline.SlugOf(strings.TrimSuffix(filepath.Base(file), filepath.Ext(file)))
	if slug == "" {
		slug = "plan"
	}
	sum := sha256.Sum256(data)
	return path.Join(shows.PlansDir, fmt.Sprintf("%s-%x.png", slug, sum[:4]))
}

// isSVG reports whether a text begins as SVG does.
func isSVG(data []byte) bool {
	head := bytes.TrimLeft(bytes.TrimPrefix(data[:min(len(data), 4096)], []byte("\xEF\xBB\xBF")), " \t\r\n")
	return bytes.HasPrefix(head, []byte("<svg")) || bytes.HasPrefix(head, []byte("<?xml")) && bytes.Contains(head, []byte("<svg")) || bytes.HasPrefix(head, []byte("<!--")) && bytes.Contains(head, []byte("<svg"))
}

// fromSVG makes a PNG of an SVG. It is handed over without a place of its own, so
// that nothing in it can name other files.
func fromSVG(ctx context.Context, data []byte) ([]byte, error) {
	side := strconv.Itoa(longSide)
	return run(ctx, "rsvg-convert", "librsvg2-bin", data, "--format=png", "--keep-aspect-ratio", "--width="+side, "--height="+side, "--background-color=white")
}

// pdfPage makes a PNG of a page of a PDF.
func pdfPage(ctx context.Context, data []byte, page int) ([]byte, error) {
	n := strconv.Itoa(max(page, 1))
	out, err := run(ctx, "pdftoppm", "poppler-utils", data, "-png", "-f", n, "-l", n, "-singlefile", "-scale-to", strconv.Itoa(longSide), "-")
	if err == nil && len(out) == 0 {
		err = fmt.Errorf("it has no page %s", n)
	}
	return out, err
}

// run has a program make a PNG of what it is given.
func run(ctx context.Context, name, pack string, data []byte, args ...string) ([]byte, error) {
	program, err := exec.LookPath(name)
	if err != nil {
		return nil, fmt.Errorf("%s is needed to read it, and is not installed; on Debian the package %s has it. Or save the plan as PNG", name, pack)
	}
	ctx, cancel := context.WithTimeout(ctx, wait)
	defer cancel()
	cmd := exec.CommandContext(ctx, program, args...)
	var out limited
	var said bytes.Buffer
	cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(data), &out, &said
	if err := cmd.Run(); err != nil {
		switch {
		case out.over:
			return nil, fmt.Errorf("%s makes more than %d MB of it; make it smaller", name, mostBytes>>20)
		case ctx.Err() != nil:
			return nil, fmt.Errorf("%s takes longer than %v for it; save the plan as PNG", name, wait)
		}
		line, _, _ := strings.Cut(strings.TrimSpace(said.String()), "\n")
		return nil, fmt.Errorf("%s cannot read it (%s)", name, timeline.CleanText(line))
	}
	return out.Bytes(), nil
}

// limited holds what a program writes, up to the size of a picture.
type limited struct {
	bytes.Buffer
	over bool
}

func (l *limited) Write(b []byte) (int, error) {
	if l.Len()+len(b) > mostBytes {
		l.over = true
		return 0, errors.New("too much")
	}
	return l.Buffer.Write(b)
}

// Keep puts a picture into the folder of a show, which it cannot leave by a link.
func (p *Picture) Keep(dir string) error {
	return shows.CopyIn(shows.OS(dir), p.Name, bytes.NewReader(p.PNG), nil)
}

// Load reads the picture of a venue from the folder of a show. A name that leads out
// of the folder, a file that is missing, another size than the venue says and what
// is no picture are errors.
func Load(dir string, p timeline.PlanPicture) (image.Image, error) {
	if !timeline.IsPlanPicture(p.File) {
		return nil, fmt.Errorf("%q is no picture in the show's folder", p.File)
	}
	data, err := shows.ReadPlan(dir, p.File, mostBytes)
	if err != nil {
		return nil, err
	}
	m, err := decode(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.File, err)
	}
	if b := m.Bounds(); b.Dx() != p.Wide || b.Dy() != p.High {
		return nil, fmt.Errorf("%s has %d by %d pixels, and the venue says %d by %d: it is another picture", p.File, b.Dx(), b.Dy(), p.Wide, p.High)
	}
	return m, nil
}
