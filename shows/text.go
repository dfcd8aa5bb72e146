package shows

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// appendText appends a text in quotes: in double quotes, or in single ones
// where that saves escapes. Bytes that are no UTF-8 become U+FFFD.
func appendText(b []byte, s string) []byte {
	special, literal := false, true
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == '\'' || c < ' ' || c == 0x7f:
			special, literal = true, false
		case c == '"' || c == '\\' || c >= utf8.RuneSelf:
			special = true
		}
	}
	if special && !utf8.ValidString(s) {
		s = strings.ToValidUTF8(s, "\uFFFD")
	}
	switch {
	case !special:
		b = append(b, '"')
		b = append(b, s...)
		return append(b, '"')
	case literal && strings.ContainsAny(s, `"\`):
		b = append(b, '\'')
		b = append(b, s...)
		return append(b, '\'')
	}
	return appendEscaped(b, s)
}

func appendEscaped(b []byte, s string) []byte {
	b = append(b, '"')
	for i := 0; i < len(s); i++ {
		switch c := s[i]; c {
		case '"', '\\':
			b = append(b, '\\', c)
		case '\n':
			b = append(b, `\n`...)
		case '\t':
			b = append(b, `\t`...)
		case '\r':
			b = append(b, `\r`...)
		default:
			if c < ' ' || c == 0x7f {
				b = fmt.Appendf(b, `\u%04X`, c)
			} else {
				b = append(b, c)
			}
		}
	}
	return append(b, '"')
}

// bareKey writes a key, in quotes where it needs them.
func bareKey(s string) string {
	bare := s != ""
	for i := 0; i < len(s); i++ {
		c := s[i]
		if (c < 'a' || c > 'z') && (c < 'A' || c > 'Z') && (c < '0' || c > '9') && c != '-' && c != '_' {
			bare = false
		}
	}
	if bare {
		return s
	}
	return string(appendText(nil, s))
}

// asComment makes sure that a kept comment is one: it starts with '#' and
// stays on its line. Empty lines stay as they are.
func asComment(s string) string {
	s = strings.TrimRight(strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' || r == 0x7f {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD")), " \t")
	if s != "" && s[0] != '#' {
		return "# " + s
	}
	return s
}
