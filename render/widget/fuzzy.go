package widget

import (
	"unicode"
	"unicode/utf8"
)

// Match says whether all letters of a query occur in a text in that order, and how well: more for letters at the beginning of words and
// for letters that follow each other, less for what is skipped. Case and gaps in the query do not count. An empty query matches with 0.
func Match(query, text string) (score int, ok bool) {
	best := -1
	for at := range len(text) {
		if s, ok := matchFrom(query, text, at); ok && s > best {
			best = s
		}
	}
	if best < 0 {
		return 0, blank(query)
	}
	return best, true
}

func blank(s string) bool {
	for _, r := range s {
		if !unicode.IsSpace(r) {
			return false
		}
	}
	return true
}

// The points of a match. They are ours, set so that "ex cue" finds "Export cue list" before "Next cue".
const (
	pointLetter = 1
	pointStart  = 7 // the first letter of a word
	pointRun    = 8 // right after the letter before
	pointFirst  = 4 // the first letter of all
)

// matchFrom matches greedily with the first letter of the query at the byte from, where a letter has to begin.
func matchFrom(query, text string, from int) (score int, ok bool) {
	if !utf8.RuneStart(text[from]) {
		return 0, false
	}
	at, last, first := from, -2, true
	for _, q := range query {
		if unicode.IsSpace(q) {
			continue
		}
		hit, size := find(text, at, unicode.ToLower(q), !first)
		if hit < 0 || first && hit != from {
			return 0, false
		}
		score += points(text, hit, last)
		at, last, first = hit+size, hit+size, false
	}
	return score, !first
}

// find gives the next letter q in text from at on: one that follows at once or begins a word before any other, where that is allowed.
func find(text string, at int, q rune, jump bool) (hit, size int) {
	hit = -1
	for i := at; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		if unicode.ToLower(r) == q {
			if i == at || !jump || startsWord(text, i) {
				return i, n
			}
			if hit < 0 {
				hit, size = i, n
			}
		}
		i += n
	}
	return hit, size
}

func points(text string, at, last int) int {
	p := pointLetter
	if startsWord(text, at) {
		p += pointStart
	}
	if at == last {
		p += pointRun
	}
	if at == 0 {
		p += pointFirst
	}
	return p
}

// startsWord says whether a word begins at a byte of text.
func startsWord(text string, at int) bool {
	if at == 0 {
		return true
	}
	before, _ := utf8.DecodeLastRuneInString(text[:at])
	return classOf(before) != word
}
