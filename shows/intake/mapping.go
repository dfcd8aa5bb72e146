package intake

import (
	"fmt"
	"slices"
	"strings"
)

// What a column of a table can say about a cue.
const (
	SongColumn    = "song"     // title, folder, id or number
	AtColumn      = "at"       // bar, time or timecode, as positions are written everywhere
	BarColumn     = "bar"      // 17.3, 17.3+1/2
	SecondsColumn = "seconds"  // from the start of the audio: 62.5, 1:02.5
	CodeColumn    = "timecode" // 01:00:42:12
	TargetColumn  = "target"   // placed effect or group
	LaneColumn    = "lane"
	ArticleColumn = "article"
	OpenColumn    = "open" // seconds
	LevelColumn   = "level"
	NoteColumn    = "note"
)

// timeColumns are those that say when; a table needs one.
var timeColumns = []string{AtColumn, BarColumn, SecondsColumn, CodeColumn}

// MappingFields lists what a column can say.
func MappingFields() []string {
	return []string{SongColumn, AtColumn, BarColumn, SecondsColumn, CodeColumn, TargetColumn, LaneColumn, ArticleColumn, OpenColumn, LevelColumn, NoteColumn}
}

// Mapping says which column holds what: field to the name of the column.
type Mapping map[string]string

// ParseMapping reads `at=Time code` for each column that has a name of its own.
func ParseMapping(texts []string) (Mapping, error) {
	return ParseMappingTo(MappingFields(), "a cue", texts)
}

// ParseMappingTo is ParseMapping for rows that tell of something else, which has
// these fields.
func ParseMappingTo(fields []string, what string, texts []string) (Mapping, error) {
	m := Mapping{}
	for _, text := range texts {
		field, column, ok := strings.Cut(text, "=")
		field, column = strings.TrimSpace(field), strings.TrimSpace(column)
		switch {
		case !ok || column == "":
			return nil, fmt.Errorf("%q names no column; write FIELD=COLUMN, such as timecode=Time", text)
		case !slices.Contains(fields, field):
			return nil, fmt.Errorf("%q: %q is nothing that %s has; write one of %s", text, field, what, strings.Join(fields, ", "))
		case m[field] != "":
			return nil, fmt.Errorf("%s is given two columns, %q and %q; name one", field, m[field], column)
		}
		m[field] = column
	}
	return m, nil
}

// Columns lists the columns that a mapping names.
func (m Mapping) Columns() []string {
	var list []string
	for _, f := range MappingFields() {
		if m[f] != "" {
			list = append(list, m[f])
		}
	}
	return list
}

// columnsOf gives the number of the column of each field: as mapped, else the
// column that has the field's own name. A mapped column that is not there is an
// error, and so is a table that says no time in any column, or in two.
func (m Mapping) columnsOf(t *Table) (map[string]int, error) {
	at := map[string]int{}
	for _, f := range MappingFields() {
		name := m[f]
		if name == "" {
			name = f
		}
		i := columnNamed(t.Columns, name)
		switch {
		case i < 0 && m[f] != "":
			return nil, fmt.Errorf("no column is called %q; the table has %s", name, quotedList(t.Columns))
		case i >= 0:
			at[f] = i
		}
	}
	return at, oneTime(at, m, t)
}

// oneTime keeps one of the columns that say when: the one that was mapped.
func oneTime(at map[string]int, m Mapping, t *Table) error {
	var have, mapped []string
	for _, f := range timeColumns {
		if _, ok := at[f]; ok {
			have = append(have, f)
			if m[f] != "" {
				mapped = append(mapped, f)
			}
		}
	}
	keep := have
	if len(mapped) > 0 {
		keep = mapped
	}
	switch len(keep) {
	case 0:
		return fmt.Errorf("no column says when; map one of %s, such as timecode=%s; the table has %s", strings.Join(timeColumns, ", "), firstOf(t.Columns), quotedList(t.Columns))
	case 1:
	default:
		return fmt.Errorf("%s each say when; map the one that counts, such as %s=%s", strings.Join(keep, " and "), keep[0], t.Columns[at[keep[0]]])
	}
	for _, f := range have {
		if f != keep[0] {
			delete(at, f)
		}
	}
	return nil
}

func firstOf(list []string) string {
	if len(list) == 0 {
		return "COLUMN"
	}
	return list[0]
}

func quotedList(list []string) string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = fmt.Sprintf("%q", s)
	}
	return strings.Join(out, ", ")
}
