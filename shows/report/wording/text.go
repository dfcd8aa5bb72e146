package wording

import (
	"slices"
	"strings"
)

// Prefixed puts a prefix before a text that is not empty.
func Prefixed(prefix, s string) string {
	if s == "" {
		return ""
	}
	return prefix + s
}

// Given gives the text, or says that it is not given.
func Given(s string) string {
	if s == "" {
		return "not given"
	}
	return s
}

// JoinGiven joins the texts that are not empty.
func JoinGiven(between string, parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, between)
}

// NonEmpty gives the texts that are not empty.
func NonEmpty(list ...string) []string {
	var kept []string
	for _, s := range list {
		if s != "" {
			kept = append(kept, s)
		}
	}
	return kept
}

// Listed joins items with semicolons; it is a dash where there are none.
func Listed(items []string) string {
	if len(items) == 0 {
		return "–"
	}
	return strings.Join(items, "; ")
}

// AddOnce appends a text that the list does not hold.
func AddOnce(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

// OneIf is 1 for true and 0 for false, for comparisons that put false first.
func OneIf(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Wrap breaks text at spaces into lines of at most width characters.
func Wrap(text string, width int) string {
	var b strings.Builder
	used := 0
	for i, w := range strings.Fields(text) {
		n := len([]rune(w))
		switch {
		case i == 0:
		case used+1+n > width:
			b.WriteByte('\n')
			used = 0
		default:
			b.WriteByte(' ')
			used++
		}
		b.WriteString(w)
		used += n
	}
	return b.String()
}
