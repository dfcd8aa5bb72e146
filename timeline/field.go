package timeline

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// FieldType says how a field's value is written in a show file.
type FieldType uint8

// The field types. Times, positions, ids and choices are text.
const (
	TextField FieldType = iota
	NumberField
	IntegerField
	FlagField
	ListField
)

func (t FieldType) String() string {
	return [...]string{"text", "number", "whole number", "yes or no", "list"}[t]
}

// Value is the value of one field in its canonical text: Text for all types
// but ListField ("true" or "false" for flags), Items for lists.
type Value struct {
	Text  string
	Items []string
}

// Equal compares two values of the same field.
func (v Value) Equal(w Value) bool { return v.Text == w.Text && equalStrings(v.Items, w.Items) }

// String gives the value on one line, as an assignment takes it; list items are
// joined by "; ".
func (v Value) String() string {
	if len(v.Items) > 0 {
		return joinItems(v.Items)
	}
	return v.Text
}

// Field is one line of the table of a record kind: a name, what it means, and
// how to read and write it. The show files, the edit command and the inspector
// know the model's fields only through it.
type Field struct {
	Name    string    // the key in show files and commands
	Type    FieldType // how it is written
	Unit    string    // "s", "m", "kg" …, or ""
	Help    string    // one sentence for the user
	Choices []string  // the valid words, or nil
	Ref     []string  // names of the kinds whose ids it holds, or nil
	Default Value     // the value of a new record; files leave it out

	get func(Record) Value
	set func(Record, Value) error
}

// Get reads the field of a record of the field's kind.
func (f *Field) Get(r Record) Value { return f.get(r) }

// Set writes the field of a record that is still being built. The error is a
// *ValueError that names the field, the value and what would be valid; the
// record is then unchanged.
func (f *Field) Set(r Record, v Value) error {
	if !utf8.ValidString(v.Text) || slices.ContainsFunc(v.Items, func(s string) bool { return !utf8.ValidString(s) }) {
		return &ValueError{Field: f.Name, Value: v.String(), Want: "holds bytes that are no UTF-8 text; files could not keep them"}
	}
	if err := f.set(r, v); err != nil {
		return &ValueError{Field: f.Name, Value: v.String(), Want: err.Error()}
	}
	return nil
}

// ValueError says that a value does not fit a field.
type ValueError struct {
	Kind, Field string // Kind may be empty
	Value       string
	Want        string // what is wrong and what would be valid
}

func (e *ValueError) Error() string {
	name := e.Field
	if e.Kind != "" {
		name = e.Kind + " " + e.Field
	}
	return fmt.Sprintf("%s: %q: %s", name, e.Value, e.Want)
}

// The constructors below build the table lines of a record type T from a
// function that points at the Go field.

func textField[T any](name, help string, at func(*T) *string) Field {
	return Field{Name: name, Help: help,
		get: func(r Record) Value { return Value{Text: *at(any(r).(*T))} },
		set: func(r Record, v Value) error {
			if i := strings.IndexFunc(v.Text, func(c rune) bool { return c < ' ' && c != '\t' || c == 0x7f }); i >= 0 {
				return fmt.Errorf("holds a control character; write plain text on one line")
			}
			*at(any(r).(*T)) = v.Text
			return nil
		}}
}

func parsedField[T, V any](name, help string, at func(*T) *V, format func(V) string, parse func(string) (V, error)) Field {
	return Field{Name: name, Help: help,
		get: func(r Record) Value { return Value{Text: format(*at(any(r).(*T)))} },
		set: func(r Record, v Value) error {
			w, err := parse(v.Text)
			if err != nil {
				return err
			}
			*at(any(r).(*T)) = w
			return nil
		}}
}

func choiceField[T any, S ~string](name, help string, at func(*T) *S, words []S) Field {
	f := parsedField(name, help, at, func(s S) string { return string(s) }, func(s string) (S, error) {
		for _, w := range words {
			if string(w) == s {
				return w, nil
			}
		}
		return "", fmt.Errorf("is not one of: %s", joinWords(words))
	})
	for _, w := range words {
		f.Choices = append(f.Choices, string(w))
	}
	return f
}

func joinWords[S ~string](words []S) string {
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			b.WriteString(", ")
		}
		if w == "" {
			b.WriteString(`"" (none)`)
		} else {
			b.WriteString(string(w))
		}
	}
	return b.String()
}

// refField holds the id of a record of one of the kinds. Whether that record
// exists is checked by edits and rules, not here: a show with a lost reference
// still opens.
func refField[T any](name, help string, at func(*T) *ID, kinds ...string) Field {
	f := parsedField(name, help, at, func(id ID) string { return string(id) }, parseRef)
	f.Ref = kinds
	return f
}

func parseRef(s string) (ID, error) {
	if s != "" && !ID(s).Valid() {
		return "", fmt.Errorf("is no id; ids have up to 40 characters of a-z, 0-9 and -")
	}
	return ID(s), nil
}

// spanField is a length of time in seconds, rounded to EntryStep, never
// negative.
func spanField[T any](name, help string, at func(*T) *Time) Field {
	f := parsedField(name, help, at, Time.String, parseSpan)
	f.Unit = "s"
	return f
}

func momentField[T any](name, help string, at func(*T) *Moment) Field {
	return parsedField(name, help, at, Moment.String, ParseMoment)
}

// numberField is a finite number from min to max.
func numberField[T any](name, unit, help string, min, max float64, at func(*T) *float64) Field {
	f := parsedField(name, help, at, formatNumber, func(s string) (float64, error) {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil || math.IsNaN(x) || x < min || x > max {
			return 0, fmt.Errorf("must be a number from %s to %s%s", formatNumber(min), formatNumber(max), unitSuffix(unit))
		}
		return x + 0, nil // + 0 turns -0 into 0, so that a value has one text
	})
	f.Type, f.Unit = NumberField, unit
	return f
}

func unitSuffix(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

func formatNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func integerField[T any](name, help string, min, max int, at func(*T) *int) Field {
	f := parsedField(name, help, at, strconv.Itoa, func(s string) (int, error) {
		n, err := strconv.Atoi(s)
		if err != nil || n < min || n > max {
			return 0, fmt.Errorf("must be a whole number from %d to %d", min, max)
		}
		return n, nil
	})
	f.Type = IntegerField
	return f
}

func flagField[T any](name, help string, at func(*T) *bool) Field {
	f := parsedField(name, help, at, strconv.FormatBool, func(s string) (bool, error) {
		switch s {
		case "true", "yes":
			return true, nil
		case "false", "no":
			return false, nil
		}
		return false, fmt.Errorf("must be true or false")
	})
	f.Type = FlagField
	return f
}

func listField[T, V any](name, help string, at func(*T) *[]V, format func(V) string, parse func(string) (V, error)) Field {
	return Field{Name: name, Help: help, Type: ListField,
		get: func(r Record) Value {
			list := *at(any(r).(*T))
			if len(list) == 0 {
				return Value{}
			}
			items := make([]string, len(list))
			for i, v := range list {
				items[i] = format(v)
			}
			return Value{Items: items}
		},
		set: func(r Record, v Value) error {
			var list []V
			for i, s := range v.Items {
				w, err := parse(s)
				if err != nil {
					return fmt.Errorf("item %d, %q: %w", i+1, s, err)
				}
				list = append(list, w)
			}
			*at(any(r).(*T)) = list
			return nil
		}}
}

func refListField[T any](name, help string, at func(*T) *[]ID, kinds ...string) Field {
	f := listField(name, help, at, func(id ID) string { return string(id) }, func(s string) (ID, error) {
		if s == "" {
			return "", fmt.Errorf("is empty; write the id of a %s", strings.Join(kinds, " or "))
		}
		return parseRef(s)
	})
	f.Ref = kinds
	return f
}

func textListField[T any](name, help string, at func(*T) *[]string) Field {
	return listField(name, help, at, func(s string) string { return s }, func(s string) (string, error) { return s, nil })
}

func withRef(f Field, kinds ...string) Field {
	f.Ref = kinds
	return f
}
