// Package field holds the lines of a table of fields: what a value is called,
// how it is written and read, and what would be valid. It knows neither records
// nor arguments, and works on any struct that has such a table.
package field

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"emberbeat/timeline/units"
)

// Type says how a field's value is written.
type Type uint8

// The field types. Times, positions, ids and choices are text.
const (
	TextType Type = iota
	NumberType
	WholeType
	FlagType
	ListType
)

func (t Type) String() string {
	return [...]string{"text", "number", "whole number", "yes or no", "list"}[t]
}

// Value is the value of one field in its canonical text: Text for all types
// but ListType ("true" or "false" for flags), Items for lists.
type Value struct {
	Text  string
	Items []string
}

// Equal compares two values of the same field.
func (v Value) Equal(w Value) bool { return v.Text == w.Text && slices.Equal(v.Items, w.Items) }

// String gives the value on one line, as an assignment takes it; list items are
// joined by "; ".
func (v Value) String() string {
	if len(v.Items) > 0 {
		return Join(v.Items)
	}
	return v.Text
}

// Field is one line of a table: a name, what it means, and how to read and write
// it. The show files, commands and the window know what a value is only through
// it.
type Field struct {
	Name    string   // the key in files and commands
	Type    Type     // how it is written
	Unit    string   // "s", "m", "kg" …, or ""
	Help    string   // one sentence for the user
	Choices []string // the valid words, or nil
	Ref     []string // names of the kinds whose ids it holds, or nil
	Default Value    // of a new one; files leave it out
	Kept    bool     // the program keeps it for itself, such as a hash; nobody types it

	get func(any) Value
	set func(any, Value) error
}

// AsKept gives the field as one that the program keeps for itself.
func (f Field) AsKept() Field {
	f.Kept = true
	return f
}

// Zero says what an amount of nothing means, as the field's help has it: "not given", "no limit", "the lane's"; ok is false for a value that is no
// zero, and for fields in which a zero is an amount.
func (f *Field) Zero(v Value) (means string, ok bool) {
	if x, err := strconv.ParseFloat(v.Text, 64); err != nil || x != 0 {
		return "", false
	}
	_, means, ok = strings.Cut(f.Help, "0 = ")
	means, _, _ = strings.Cut(means, ";")
	means, _, _ = strings.Cut(means, ",")
	return means, ok
}

// Get reads the field of r, a pointer to a struct of the field's table.
func (f *Field) Get(r any) Value { return f.get(r) }

// Set writes the field of r, a struct that is still being built. The error is a
// *ValueError that names the field, the value and what would be valid; r is
// then unchanged.
func (f *Field) Set(r any, v Value) error {
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

// The constructors below build the table lines of a struct type T from a
// function that points at the Go field.

// Of makes a field of any type from how it is read and written. An error of set
// says what would be valid.
func Of[T any](name, help string, t Type, get func(*T) Value, set func(*T, Value) error) Field {
	return Field{Name: name, Type: t, Help: help,
		get: func(r any) Value { return get(r.(*T)) },
		set: func(r any, v Value) error { return set(r.(*T), v) }}
}

// Text is plain text on one line.
func Text[T any](name, help string, at func(*T) *string) Field {
	return Of(name, help, TextType,
		func(t *T) Value { return Value{Text: *at(t)} },
		func(t *T, v Value) error {
			// Only what no file could keep: what was written before Plain was
			// asked still opens, and an edit is held against all of it.
			if i := strings.IndexFunc(v.Text, func(c rune) bool { return c < ' ' && c != '\t' || c == 0x7f }); i >= 0 {
				return Plain(v.Text)
			}
			*at(t) = v.Text
			return nil
		})
}

// Parsed is text that parse understands and format writes.
func Parsed[T, V any](name, help string, at func(*T) *V, format func(V) string, parse func(string) (V, error)) Field {
	return Of(name, help, TextType,
		func(t *T) Value { return Value{Text: format(*at(t))} },
		func(t *T, v Value) error {
			w, err := parse(v.Text)
			if err != nil {
				return err
			}
			*at(t) = w
			return nil
		})
}

// Choice is one of some words.
func Choice[T any, S ~string](name, help string, at func(*T) *S, words []S) Field {
	f := Parsed(name, help, at, func(s S) string { return string(s) }, func(s string) (S, error) {
		for _, w := range words {
			if string(w) == s {
				return w, nil
			}
		}
		return "", fmt.Errorf("is not one of: %s", Listed(words))
	})
	for _, w := range words {
		f.Choices = append(f.Choices, string(w))
	}
	return f
}

// Listed names words as an error does that says what would be valid.
func Listed[S ~string](words []S) string {
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

// Number is a finite number from min to max in an SI unit. It may be typed with a
// unit of its own, "3 ft"; a number alone is in the SI unit.
func Number[T any](name, unit, help string, min, max float64, at func(*T) *float64) Field {
	f := Parsed(name, help, at, FormatNumber, func(s string) (float64, error) {
		x, err := units.Metres.Read(unit, s)
		if err != nil || math.IsNaN(x) || x < min || x > max {
			return 0, fmt.Errorf("must be a number from %s to %s%s", FormatNumber(min), FormatNumber(max), unitSuffix(unit))
		}
		return x + 0, nil // + 0 turns -0 into 0, so that a value has one text
	})
	f.Type, f.Unit = NumberType, unit
	return f
}

func unitSuffix(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

// FormatNumber writes a number in as many digits as it needs.
func FormatNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// Whole is a whole number from min to max.
func Whole[T any](name, help string, min, max int, at func(*T) *int) Field {
	f := Parsed(name, help, at, strconv.Itoa, func(s string) (int, error) {
		n, err := strconv.Atoi(s)
		if err != nil || n < min || n > max {
			return 0, fmt.Errorf("must be a whole number from %d to %d", min, max)
		}
		return n, nil
	})
	f.Type = WholeType
	return f
}

// Flag is yes or no.
func Flag[T any](name, help string, at func(*T) *bool) Field {
	f := Parsed(name, help, at, strconv.FormatBool, func(s string) (bool, error) {
		switch s {
		case "true", "yes":
			return true, nil
		case "false", "no":
			return false, nil
		}
		return false, fmt.Errorf("must be true or false")
	})
	f.Type = FlagType
	return f
}

// List is a list of items that parse understands and format writes.
func List[T, V any](name, help string, at func(*T) *[]V, format func(V) string, parse func(string) (V, error)) Field {
	return Of(name, help, ListType,
		func(t *T) Value {
			list := *at(t)
			if len(list) == 0 {
				return Value{}
			}
			items := make([]string, len(list))
			for i, v := range list {
				items[i] = format(v)
			}
			return Value{Items: items}
		},
		func(t *T, v Value) error {
			var list []V
			for i, s := range v.Items {
				w, err := parse(s)
				if err != nil {
					return fmt.Errorf("item %d, %q: %w", i+1, s, err)
				}
				list = append(list, w)
			}
			*at(t) = list
			return nil
		})
}

// TextList is a list of texts.
func TextList[T any](name, help string, at func(*T) *[]string) Field {
	return List(name, help, at, func(s string) string { return s }, func(s string) (string, error) { return s, nil })
}
