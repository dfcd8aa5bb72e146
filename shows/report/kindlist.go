package report

import (
	"strconv"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// KindList is the kinds of record a show can hold.
type KindList struct {
	Kinds []KindLine `json:"kinds"`
}

// KindLine is one kind of record.
type KindLine struct {
	Kind   string `json:"kind"`
	Plural string `json:"plural"`
	Help   string `json:"help"`
	InSong bool   `json:"in_song"`
	Count  int    `json:"count"` // records of it in the show
}

// NewKindList lists every kind, and how many records of it a show has.
func NewKindList(s *timeline.Show) *KindList {
	l := &KindList{}
	for _, k := range timeline.Kinds() {
		l.Kinds = append(l.Kinds, KindLine{k.Name, k.Plural, k.Help, k.InSong, NewRecords(s, k, Filter{}).Len()})
	}
	return l
}

// Table gives the list for people.
func (l *KindList) Table() *wording.Table {
	t := &wording.Table{Columns: []wording.Column{{Name: "kind", Right: false}, {Name: "records", Right: true}, {Name: "what it is", Right: false}}}
	for _, k := range l.Kinds {
		t.Rows = append(t.Rows, []string{k.Kind, strconv.Itoa(k.Count), k.Help})
	}
	return t
}

// FieldList is the fields of one kind of record.
type FieldList struct {
	Kind   string      `json:"kind"`
	Fields []FieldLine `json:"fields"`
}

// FieldLine is one field: what edit can write into it.
type FieldLine struct {
	Field   string   `json:"field"`
	Type    string   `json:"type"`
	Unit    string   `json:"unit,omitempty"`
	Help    string   `json:"help,omitempty"`
	Choices []string `json:"choices,omitempty"`
	Names   []string `json:"names,omitempty"` // kinds whose ids it holds
	Default string   `json:"default"`
}

// NewFieldList lists the fields of a kind in the order of its files.
func NewFieldList(k *timeline.Kind) *FieldList {
	l := &FieldList{Kind: k.Name}
	for i := range k.Fields {
		f := &k.Fields[i]
		l.Fields = append(l.Fields, FieldLine{f.Name, f.Type.String(), f.Unit, f.Help, f.Choices, f.Ref, f.Default.String()})
	}
	return l
}

// Table gives the list for people.
func (l *FieldList) Table() *wording.Table {
	t := &wording.Table{Columns: []wording.Column{{Name: "field", Right: false}, {Name: "holds", Right: false}, {Name: "default", Right: false}, {Name: "what it is", Right: false}}}
	for _, f := range l.Fields {
		t.Rows = append(t.Rows, []string{f.Field, f.holds(), f.Default, f.meaning()})
	}
	return t
}

// holds says in a few words what a field takes.
func (f FieldLine) holds() string {
	switch {
	case len(f.Names) > 0 && f.Type == timeline.ListField.String():
		return "list of " + strings.Join(f.Names, " or ")
	case len(f.Names) > 0:
		return strings.Join(f.Names, " or ")
	case len(f.Choices) > 0:
		return "a word"
	case f.Unit == "s":
		return "seconds"
	case f.Unit != "":
		return f.Type + " in " + f.Unit
	}
	return f.Type
}

// meaning is the help, with the words a field can hold.
func (f FieldLine) meaning() string {
	words := make([]string, 0, len(f.Choices))
	for _, c := range f.Choices {
		if c != "" {
			words = append(words, c)
		}
	}
	if len(words) == 0 {
		return f.Help
	}
	return f.Help + ": " + strings.Join(words, ", ")
}
