package merge

import (
	"strings"
)

// An item of a list is a line of words: a head, then words such as gap=30 or
// reason="too near". Two items speak of the same thing where the words that say
// what it is are the same.

// namingWords are the keys of words that say what an item is about; the others
// say what is to become of it.
var namingWords = map[string]bool{"family": true, "article": true, "placed": true, "lane": true, "cue": true, "song": true, "section": true, "rule": true,
	"record": true, "supply": true, "after": true, "bank": true, "device": true, "position": true, "group": true, "sheet": true}

// wordsOf takes an item apart at blanks outside of quotes.
func wordsOf(item string) []string {
	var words []string
	start, quoted := -1, false
	for i := 0; i < len(item); i++ {
		c := item[i]
		switch {
		case quoted && c == '\\':
			i++
		case c == '"':
			quoted = !quoted
			if start < 0 {
				start = i
			}
		case c == ' ' && !quoted:
			if start >= 0 {
				words = append(words, item[start:i])
			}
			start = -1
		case start < 0:
			start = i
		}
	}
	if start >= 0 {
		words = append(words, item[start:])
	}
	return words
}

// keyOf gives the part of a word that says what it is: gap of gap=30.
func keyOf(word string) string {
	if i := strings.IndexByte(word, '='); i > 0 && word[0] != '"' {
		return word[:i]
	}
	return word
}

// isPlain reports whether items are free text: none of them has a word with a key.
func isPlain(lists ...[]string) bool {
	for _, items := range lists {
		for _, item := range items {
			for _, w := range wordsOf(item) {
				if keyOf(w) != w {
					return false
				}
			}
		}
	}
	return true
}

// identityOf gives a text that items share which speak of the same thing.
func identityOf(item string) string {
	words := wordsOf(item)
	var id []string
	for i, w := range words {
		if k := keyOf(w); i == 0 && k == w || k != w && namingWords[k] {
			id = append(id, w)
		}
	}
	if len(id) == 0 && len(words) > 0 {
		id = words[:1]
	}
	return strings.Join(id, " ")
}

// joinedWords merges an item that both changed word by word; false where both
// gave the same word another value.
func joinedWords(base, ours, theirs string) (string, bool) {
	b, o, t := wordsOf(base), wordsOf(ours), wordsOf(theirs)
	was, now := byKey(b), byKey(t)
	has := byKey(o)
	if was == nil || now == nil || has == nil {
		return "", false
	}
	x, y, z := bare(b), bare(o), bare(t)
	if x != y && x != z && y != z {
		return "", false // fired and misfired are not two words beside each other
	}
	drop, set := map[string]bool{}, map[string]string{}
	for k, w := range now {
		switch {
		case w == was[k] || w == has[k]:
		case has[k] == was[k]:
			set[k] = w
		default:
			return "", false
		}
	}
	for k, w := range was {
		if _, ok := now[k]; ok {
			continue
		}
		switch {
		case has[k] == w:
			drop[k] = true
		case has[k] != "":
			return "", false
		}
	}
	var words []string
	for _, w := range o {
		k := keyOf(w)
		if x, ok := set[k]; ok {
			w = x
			delete(set, k)
		}
		if !drop[k] {
			words = append(words, w)
		}
	}
	for _, w := range t {
		if x, ok := set[keyOf(w)]; ok {
			words = append(words, x)
		}
	}
	return strings.Join(words, " "), true
}

// bare gives the words that have no key.
func bare(words []string) string {
	var list []string
	for _, w := range words {
		if keyOf(w) == w {
			list = append(list, w)
		}
	}
	return strings.Join(list, " ")
}

// byKey gives the words of an item by their keys; nil where a key stands twice.
func byKey(words []string) map[string]string {
	m := make(map[string]string, len(words))
	for _, w := range words {
		if _, twice := m[keyOf(w)]; twice {
			return nil
		}
		m[keyOf(w)] = w
	}
	return m
}

// natural compares texts as people order them: runs of digits by their number.
func natural(a, b string) int {
	for a != "" && b != "" {
		x, y := digits(a), digits(b)
		if x > 0 && y > 0 {
			m, n := strings.TrimLeft(a[:x], "0"), strings.TrimLeft(b[:y], "0")
			if len(m) != len(n) {
				return len(m) - len(n)
			}
			if c := strings.Compare(m, n); c != 0 {
				return c
			}
			a, b = a[x:], b[y:]
			continue
		}
		if a[0] != b[0] {
			return int(a[0]) - int(b[0])
		}
		a, b = a[1:], b[1:]
	}
	return len(a) - len(b)
}

func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}
