package paper

import (
	"strings"
	"unicode/utf8"

	"emberbeat/render"
)

// wrap breaks a text into lines of at most width device pixels: at spaces, and
// inside words that are longer than a line. There is always one line.
func wrap(f *render.Face, text string, width int) []string {
	if f.Measure(text) <= width && !strings.ContainsAny(text, "\n\r\t") {
		return []string{text}
	}
	var lines []string
	line, space := "", f.Measure(" ")
	used := 0
	for _, word := range strings.Fields(text) {
		w := f.Measure(word)
		if line != "" && used+space+w <= width {
			line, used = line+" "+word, used+space+w
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for w > width {
			n := fitting(f, word, width)
			lines, word = append(lines, word[:n]), word[n:]
			w = f.Measure(word)
		}
		line, used = word, w
	}
	return append(lines, line)
}

// fitting gives the bytes of the longest beginning of a word that fits, at
// least one letter.
func fitting(f *render.Face, word string, width int) int {
	_, end := utf8.DecodeRuneInString(word)
	for i, r := range word {
		if i < end {
			continue
		}
		if f.Measure(word[:i+utf8.RuneLen(r)]) > width {
			break
		}
		end = i + utf8.RuneLen(r)
	}
	return end
}

// atMost cuts a text down to some lines, the last with an ellipsis.
func atMost(lines []string, n int, f *render.Face, width int) []string {
	if len(lines) <= n {
		return lines
	}
	last := lines[n-1]
	for last != "" && f.Measure(last+"…") > width {
		_, k := utf8.DecodeLastRuneInString(last)
		last = last[:len(last)-k]
	}
	return append(append([]string{}, lines[:n-1]...), last+"…")
}

// longestWord gives the width of the widest word of a text.
func longestWord(f *render.Face, text string) int {
	w := 0
	for _, word := range strings.Fields(text) {
		w = max(w, f.Measure(word))
	}
	return w
}
