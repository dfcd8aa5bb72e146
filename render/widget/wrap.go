package widget

import (
	"image"
	"strings"

	"emberbeat/render"
)

// Paragraph sets text into r in as many lines as it needs and gives their height in device pixels. A line break in the text breaks the
// line; a word longer than a line is cut with its whole in none.
func (u *UI) Paragraph(r image.Rectangle, t render.Type, ink render.Ink, text string) int {
	_, h := wrap(u.Scene(), r, t, ink, text, true)
	return h
}

// ParagraphHeight gives the height that Paragraph needs at a width, both in device pixels.
func (u *UI) ParagraphHeight(width int, t render.Type, text string) int {
	_, h := wrap(u.Scene(), image.Rectangle{Max: image.Pt(width, 1)}, t, 0, text, false)
	return h
}

// wrap breaks text into lines as wide as r, draws them if told to, and gives what they take.
func wrap(s *render.Scene, r image.Rectangle, t render.Type, ink render.Ink, text string, draw bool) (w, h int) {
	f := s.Face(t)
	for more := true; more; {
		var line string
		line, text, more = nextLine(f, r.Dx(), text)
		if draw {
			s.TextCut(image.Rect(r.Min.X, r.Min.Y+h, r.Max.X, r.Min.Y+h+f.Height()), t, ink, line)
		}
		w = max(w, min(f.Measure(line), r.Dx()))
		h += f.Height()
	}
	return w, h
}

// nextLine cuts off as many words as fit into a width, at least one.
func nextLine(f *render.Face, width int, text string) (line, rest string, more bool) {
	text, after, broken := strings.Cut(text, "\n")
	end := 0
	for at := 0; at < len(text); {
		n := strings.IndexByte(text[at+1:], ' ')
		next := at + 1 + n
		if n < 0 {
			next = len(text)
		}
		if end > 0 && f.Measure(text[:next]) > width {
			break
		}
		end, at = next, next
	}
	if end == len(text) {
		return text, after, broken
	}
	rest = strings.TrimLeft(text[end:], " ")
	if broken {
		rest += "\n" + after
	}
	return text[:end], rest, true
}
