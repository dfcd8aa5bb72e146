package field

import (
	"fmt"
	"strings"
)

// Split separates list items at semicolons outside double quotes. An item
// that is quoted as a whole is taken out of its quotes.
func Split(s string) []string {
	items, _ := cutItems(s)
	return items
}

// cutItems also says whether all quotes are closed.
func cutItems(s string) (items []string, closed bool) {
	start, quotedNow := 0, false
	cut := func(end int) {
		if item := strings.TrimSpace(s[start:end]); item != "" {
			items = append(items, unquotedItem(item))
		}
		start = end + 1
	}
	for i := 0; i < len(s); i++ {
		switch {
		case s[i] == '\\' && quotedNow:
			i++
		case s[i] == '"':
			quotedNow = !quotedNow
		case s[i] == ';' && !quotedNow:
			cut(i)
		}
	}
	cut(len(s))
	return items, !quotedNow
}

func unquotedItem(item string) string {
	if item[0] == '"' {
		if text, next, err := ScanQuoted(item, 0); err == nil && next == len(item) {
			return text
		}
	}
	return item
}

// Join writes list items so that Split gives them back: those that
// would fall apart stand in quotes.
func Join(items []string) string {
	parts := make([]string, len(items))
	for i, item := range items {
		parts[i] = item
		if split, closed := cutItems(item); !closed || len(split) != 1 || split[0] != item {
			parts[i] = `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(item) + `"`
		}
	}
	return strings.Join(parts, "; ")
}

// ScanQuoted reads the text in double quotes that starts at s[i], and gives
// where it ends. Inside, \\ stands before a quote or itself.
func ScanQuoted(s string, i int) (string, int, error) {
	var b strings.Builder
	for j := i + 1; j < len(s); j++ {
		switch {
		case s[j] == '"':
			return b.String(), j + 1, nil
		case s[j] == '\\' && j+1 < len(s):
			j++
			b.WriteByte(s[j])
		default:
			b.WriteByte(s[j])
		}
	}
	return "", 0, fmt.Errorf("character %d: the quote is never closed", i+1)
}
