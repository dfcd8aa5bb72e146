package timeline

import (
	"fmt"
	"strings"

	"emberbeat/timeline/field"
)

// Words is a list item of a show file in its small grammar: an optional head
// word, then key=value pairs and flags, separated by spaces; a value with
// spaces, quotes or '=' stands in double quotes with \" and \\ inside.
//
//	ember gap=30.0000 encore
//	rule=recovery record=c81k by="stage manager" reason="checked on site"
type Words []Word

// Word is one word of an item: a pair (Key and Value), or a head or flag (only
// Key).
type Word struct {
	Key, Value string
	Pair       bool
}

// ParseWords reads an item. The error says where it stops making sense.
func ParseWords(s string) (Words, error) {
	var ws Words
	for i := 0; i < len(s); {
		if s[i] == ' ' {
			i++
			continue
		}
		key, next, err := scanWord(s, i)
		if err != nil {
			return nil, err
		}
		if next < len(s) && s[next] == '=' {
			value, after, err := scanWord(s, next+1)
			if err != nil {
				return nil, err
			}
			ws, i = append(ws, Word{key, value, true}), after
		} else {
			ws, i = append(ws, Word{Key: key}), next
		}
		if i < len(s) && s[i] != ' ' {
			return nil, fmt.Errorf("character %d: a space must follow %q", i+1, s[:i])
		}
	}
	return ws, nil
}

func scanWord(s string, i int) (word string, next int, err error) {
	if i < len(s) && s[i] == '"' {
		return field.ScanQuoted(s, i)
	}
	for next = i; next < len(s) && s[next] != ' ' && s[next] != '='; next++ {
		if s[next] == '"' {
			return "", 0, fmt.Errorf("character %d: a quote inside a word; quote the whole value", next+1)
		}
	}
	return s[i:next], next, nil
}

// String writes the item so that ParseWords reads the same.
func (ws Words) String() string {
	var b strings.Builder
	for i, w := range ws {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(quoteWord(w.Key))
		if w.Pair {
			b.WriteByte('=')
			b.WriteString(quoteWord(w.Value))
		}
	}
	return b.String()
}

func quoteWord(s string) string {
	if s != "" && !strings.ContainsAny(s, " =\"\\") {
		return s
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

// Get gives the value of a key and whether it is there.
func (ws Words) Get(key string) (string, bool) {
	for _, w := range ws {
		if w.Pair && w.Key == key {
			return w.Value, true
		}
	}
	return "", false
}

// itemReader takes an item apart and remembers the first error, so that a
// parser of items reads as a list of its keys.
type itemReader struct {
	words Words
	used  []bool
	err   error
}

func readItem(s string) *itemReader {
	ws, err := ParseWords(s)
	return &itemReader{words: ws, used: make([]bool, len(ws)), err: err}
}

// head takes the first word, which must not be a pair.
func (r *itemReader) head(what string) string {
	if r.err == nil && (len(r.words) == 0 || r.words[0].Pair) {
		r.err = fmt.Errorf("must start with %s", what)
	}
	if r.err != nil {
		return ""
	}
	r.used[0] = true
	return r.words[0].Key
}

func (r *itemReader) value(key string) string {
	for i, w := range r.words {
		if w.Pair && w.Key == key && !r.used[i] {
			r.used[i] = true
			return w.Value
		}
	}
	return ""
}

func (r *itemReader) flag(key string) bool {
	for i, w := range r.words {
		if !w.Pair && w.Key == key && !r.used[i] {
			r.used[i] = true
			return true
		}
	}
	return false
}

// take parses the value of a key if it is there.
func take[V any](r *itemReader, key string, parse func(string) (V, error)) (v V) {
	s := r.value(key)
	if s == "" || r.err != nil {
		return v
	}
	v, err := parse(s)
	if err != nil {
		r.err = fmt.Errorf("%s=%s: %w", key, s, err)
	}
	return v
}

// done gives the first error, or names a word that nobody took together with
// those that would be valid.
func (r *itemReader) done(valid string) error {
	if r.err != nil {
		return r.err
	}
	for i, w := range r.words {
		if !r.used[i] {
			return fmt.Errorf("%q is not understood here; valid: %s", w.Key, valid)
		}
	}
	return nil
}

// itemWriter builds an item; empty values are left out.
type itemWriter struct{ words Words }

func (w *itemWriter) head(s string) { w.words = append(w.words, Word{Key: s}) }

func (w *itemWriter) pair(key, value string) {
	if value != "" {
		w.words = append(w.words, Word{key, value, true})
	}
}

func (w *itemWriter) flag(key string, on bool) {
	if on {
		w.words = append(w.words, Word{Key: key})
	}
}

func (w *itemWriter) String() string { return w.words.String() }

// take2 parses a word that was already taken out of the item.
func take2[V any](r *itemReader, s string, parse func(string) (V, error)) (v V) {
	if r.err != nil {
		return v
	}
	v, err := parse(s)
	if err != nil {
		r.err = fmt.Errorf("%q: %w", s, err)
	}
	return v
}

func parseID(s string) (ID, error) {
	if !ID(s).Valid() {
		return "", fmt.Errorf("is no id; ids have up to 40 characters of a-z, 0-9 and -")
	}
	return ID(s), nil
}

// parseSpan reads a length of time in seconds: not negative, rounded to
// EntryStep.
func parseSpan(s string) (Time, error) {
	t, err := ParseTime(s)
	if err == nil && t < 0 {
		err = fmt.Errorf("is negative; a length of time is 0 or more")
	}
	return t.RoundTo(EntryStep), err
}
