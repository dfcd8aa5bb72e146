package timeline

import (
	"fmt"
	"strings"

	"emberbeat/timeline/field"
)

// The fields of records are those of package field, under the names that speak
// of records.
type (
	Field      = field.Field
	FieldType  = field.Type
	Value      = field.Value
	ValueError = field.ValueError
)

// The types of fields.
const (
	TextField    = field.TextType
	NumberField  = field.NumberType
	IntegerField = field.WholeType
	FlagField    = field.FlagType
	ListField    = field.ListType
)

// CleanText gives a text from elsewhere without the characters that an edit
// would refuse; a line break becomes a blank.
func CleanText(text string) string { return field.Clean(text) }

// refField holds the id of a record of one of the kinds. Whether that record
// exists is checked by edits and rules, not here: a show with a lost reference
// still opens.
func refField[T any](name, help string, at func(*T) *ID, kinds ...string) Field {
	f := field.Parsed(name, help, at, func(id ID) string { return string(id) }, parseRef)
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
	f := field.Parsed(name, help, at, Time.String, parseSpan)
	f.Unit = "s"
	return f
}

func momentField[T any](name, help string, at func(*T) *Moment) Field {
	return field.Parsed(name, help, at, Moment.String, ParseMoment)
}

func refListField[T any](name, help string, at func(*T) *[]ID, kinds ...string) Field {
	f := field.List(name, help, at, func(id ID) string { return string(id) }, func(s string) (ID, error) {
		if s == "" {
			return "", fmt.Errorf("is empty; write the id of a %s", strings.Join(kinds, " or "))
		}
		return parseRef(s)
	})
	f.Ref = kinds
	return f
}

func withRef(f Field, kinds ...string) Field {
	f.Ref = kinds
	return f
}
