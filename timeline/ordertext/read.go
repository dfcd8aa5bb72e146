package ordertext

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Line is a line of a running order as somebody wrote it.
type Line struct {
	N      int      // of the line in the text, from 1
	Text   string   // as it stands there, without the space around it
	Names  []string // what the song may be called: as it stands, without its number, without its times, without what stands after a dash
	Word   string   // in brackets, or after a dash: what may be a version; "" = none
	Encore bool     // it stands under the word, or says it
}

// maxText bounds the text of a running order, far beyond any.
const maxText = 1 << 20

// Read reads a running order as text: a song on each line, with numbers, times,
// tabs, dashes and bullets beside it or not. Lines without a letter or digit are
// none; the word encore on a line of its own makes encores of those that follow. It
// reads everything, and knows no songs.
func Read(text string) []Line {
	if len(text) > maxText {
		text = text[:maxText]
	}
	text = strings.ToValidUTF8(text, "\uFFFD")
	var list []Line
	encore := false
	for i, raw := range strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n").Replace(text), "\n") {
		line := plainLine(raw)
		if !strings.ContainsFunc(line, isWordRune) {
			continue
		}
		l := Line{N: i + 1, Text: line, Encore: encore}
		rest, says := cutEncore(line)
		if says {
			if rest == "" {
				encore = true
				continue
			}
			l.Encore, line = true, rest
		}
		l.read(line)
		if len(l.Names) > 0 {
			list = append(list, l)
		}
	}
	return list
}

func isWordRune(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

// plainLine makes one kind of space, dash and quote of all that there are.
func plainLine(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\t':
			return '\t'
		case unicode.IsSpace(r), r == '\u00A0', r == '\u200B', r == '\uFEFF':
			return ' '
		case unicode.Is(unicode.Pd, r):
			return '-'
		case strings.ContainsRune("\u2018\u2019\u02BC`\u00B4", r):
			return '\''
		case strings.ContainsRune("\u201C\u201D\u201E\u00AB\u00BB", r):
			return '"'
		case unicode.IsControl(r):
			return -1
		}
		return r
	}, s)
	return strings.TrimSpace(s)
}

// cutEncore cuts the word encore off the head of a line, with a number and marks after
// it; what is left of `*** ENCORE ***` is nothing.
func cutEncore(line string) (rest string, says bool) {
	s := strings.TrimLeftFunc(line, func(r rune) bool { return !isWordRune(r) })
	low := strings.ToLower(s)
	for _, word := range []string{"encores", "encore"} {
		if !strings.HasPrefix(low, word) {
			continue
		}
		after := strings.TrimLeft(s[len(word):], " ")
		if after != "" && !strings.HasPrefix(s[len(word):], " ") && !strings.ContainsAny(after[:1], ":.-*=)]#\t(") {
			return line, false // encored, encoreful: part of a title
		}
		trimmed := strings.TrimLeft(after, "0123456789 ")
		if trimmed != "" && !strings.ContainsAny(trimmed[:1], ":.-*=)]#\t(") && trimmed == after {
			return line, false // a title that begins with the word
		}
		trimmed = strings.Trim(trimmed, ":.-*=)]#\t (")
		if !strings.ContainsFunc(trimmed, isWordRune) {
			trimmed = ""
		}
		return trimmed, true
	}
	return line, false
}

// read takes a line apart.
func (l *Line) read(line string) {
	fields := strings.FieldsFunc(line, func(r rune) bool { return r == '\t' })
	for i := range fields {
		fields[i] = strings.TrimSpace(fields[i])
	}
	whole := line
	if len(fields) > 1 { // of a table the first column with a letter that is no time is the title
		for _, f := range fields {
			if rest := cutTimes(f); strings.ContainsFunc(rest, unicode.IsLetter) {
				whole = f
				break
			}
		}
	}
	whole = strings.Trim(whole, "\t ")
	l.add(whole)
	bare := cutBullet(whole)
	l.add(bare)
	timeless := cutTimes(bare)
	l.add(timeless)
	numberless := cutTimes(cutNumber(timeless))
	l.add(numberless)
	for _, s := range []string{timeless, numberless} {
		name, word := cutWord(s)
		if word != "" && strings.ContainsFunc(name, unicode.IsLetter) {
			l.Word = word
			l.add(name)
		}
	}
}

// add adds a name that the song may have, once.
func (l *Line) add(name string) {
	name = strings.Trim(name, " \t\"-:;,|")
	if !strings.ContainsFunc(name, isWordRune) {
		return
	}
	for _, n := range l.Names {
		if n == name {
			return
		}
	}
	l.Names = append(l.Names, name)
}

// cutBullet cuts marks off the head of a line.
func cutBullet(s string) string {
	return strings.TrimLeftFunc(s, func(r rune) bool { return !isWordRune(r) && r != '(' && r != '[' && r != '"' && r != '\'' })
}

// cutNumber cuts a number off the head of a line: `3. `, `03) `, `#3 - `, `3 `.
func cutNumber(s string) string {
	rest := strings.TrimLeft(s, "#")
	low := strings.ToLower(rest)
	if strings.HasPrefix(low, "no.") || strings.HasPrefix(low, "nr.") {
		rest = strings.TrimLeft(rest[3:], " ")
	}
	digits := strings.TrimLeft(rest, "0123456789")
	if n := len(rest) - len(digits); n == 0 || n > 3 {
		return s
	}
	after := strings.TrimLeft(digits, ".):-/| \t")
	if after == digits || !strings.ContainsFunc(after, isWordRune) {
		return s // 99ers
	}
	return after
}

// cutTimes cuts times off both ends of a text: 3:45, (3:45), 1:02:10, 3'45", 21:30 h,
// 4 min.
func cutTimes(s string) string {
	words := strings.Fields(s)
	for changed := true; changed && len(words) > 0; {
		changed = false
		for _, n := range []int{2, 1} { // two words are `4 min`
			if len(words) >= n && isTime(strings.Join(words[len(words)-n:], " ")) {
				words, changed = words[:len(words)-n], true
				break
			}
			if len(words) >= n && isTime(strings.Join(words[:n], " ")) {
				words, changed = words[n:], true
				break
			}
		}
		for len(words) > 0 && changed && strings.Trim(words[len(words)-1], "-|/,;:@~") == "" {
			words = words[:len(words)-1]
		}
	}
	return strings.Trim(strings.Join(words, " "), " -|/,;")
}

// isTime reports whether a text is a length or a time of day.
func isTime(s string) bool {
	s = strings.ToLower(strings.Trim(s, "()[]{},;~@"))
	for _, unit := range []string{"minutes", "minute", "mins", "min", "uhr", "hrs", "h", "am", "pm", "sec", "s", "m", "bpm"} {
		if rest, ok := strings.CutSuffix(s, unit); ok && rest != "" {
			rest = strings.TrimRight(rest, " .")
			return isDigits(rest) || isClock(rest)
		}
	}
	return isClock(s)
}

func isDigits(s string) bool {
	return s != "" && len(s) <= 4 && strings.Trim(s, "0123456789") == ""
}

// isClock reads 3:45, 01:02:10, 3'45" and 3'45.
func isClock(s string) bool {
	parts := strings.FieldsFunc(strings.TrimSuffix(s, "\""), func(r rune) bool { return r == ':' || r == '\'' })
	if len(parts) < 2 || len(parts) > 4 || !strings.ContainsAny(s, ":'") {
		return false
	}
	for i, p := range parts {
		if !isDigits(p) || i > 0 && len(p) != 2 {
			return false
		}
	}
	return true
}

// cutWord parts a name from what stands in brackets at its end, or after a dash with
// space around it.
func cutWord(s string) (name, word string) {
	if last, n := utf8.DecodeLastRuneInString(s); n > 0 && (last == ')' || last == ']') {
		open := map[rune]string{')': "(", ']': "["}[last]
		if i := strings.LastIndex(s, open); i > 0 {
			return strings.TrimSpace(s[:i]), strings.TrimSpace(s[i+1 : len(s)-n])
		}
	}
	if i := strings.LastIndex(s, " - "); i > 0 {
		return strings.TrimSpace(s[:i]), strings.TrimSpace(s[i+3:])
	}
	return s, ""
}
