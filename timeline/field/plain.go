package field

import (
	"fmt"
	"strings"
	"unicode"
)

// unseen are characters that show nothing themselves and change how what stands
// around them looks: the control characters of ISO 646 and ISO 6429 but the tab,
// the separators of lines and paragraphs, and what the Unicode Bidirectional
// Algorithm (UAX #9) calls explicit directional formatting. A line break would
// end a row of a list, and a change of direction can let a sheet read otherwise
// than the show says.
func unseen(c rune) bool {
	return c != '\t' && unicode.IsControl(c) || c == '\u2028' || c == '\u2029' || unicode.Is(unicode.Bidi_Control, c)
}

// Plain gives an error that says which character of a text no text of a show
// may hold, or nil.
func Plain(text string) error {
	i := strings.IndexFunc(text, unseen)
	if i < 0 {
		return nil
	}
	c := []rune(text[i:])[0]
	what := "a control character"
	switch {
	case c == '\u2028' || c == '\u2029':
		what = "a line break"
	case !unicode.IsControl(c):
		what = "a mark that turns the direction of writing"
	}
	return fmt.Errorf("holds %s (U+%04X); write plain text on one line", what, c)
}

// Clean gives a text as Plain wants it: a blank in the place of each run of
// line breaks and blanks around it, and nothing in that of other characters.
func Clean(text string) string {
	if Plain(text) == nil {
		return text
	}
	var b strings.Builder
	for i, line := range strings.FieldsFunc(text, func(c rune) bool {
		return c == '\n' || c == '\r' || c == '\v' || c == '\f' || c == '\u0085' || c == '\u2028' || c == '\u2029'
	}) {
		line = strings.Map(func(c rune) rune {
			if unseen(c) {
				return -1
			}
			return c
		}, line)
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		if i > 0 && b.Len() > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(line)
	}
	return b.String()
}
