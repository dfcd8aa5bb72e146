package app

import (
	"image"
	"strings"

	"emberbeat/timeline"
)

// column is a column of a ledger.
type column struct {
	title string // with its unit
	width int    // logical; 0 takes what the others leave, where none has it the first does
	right bool   // for numbers
	text  func(a *App, e *entry) string
	draw  func(a *App, e *entry, r image.Rectangle) bool // nil = the text is set
}

// least gives the logical width that a column must have to be shown.
func (c *column) least() int {
	if c.width == 0 {
		return 120
	}
	return c.width
}

// fieldColumn is the column of a field of a kind of record, named like the field with its unit; records it names are shown by their names.
func fieldColumn(kind, field string, width int) column {
	f := timeline.KindOf(kind).Field(field)
	c := column{title: label(f.Name), width: width, right: f.Unit != "" || f.Type == timeline.NumberField || f.Type == timeline.IntegerField}
	if f.Unit != "" {
		c.title += ", " + f.Unit
	}
	c.text = func(a *App, e *entry) string {
		if e.rec == nil {
			return ""
		}
		v := f.Get(e.rec)
		switch {
		case len(f.Ref) > 0 && f.Type != timeline.ListField:
			return a.nameOf(f.Ref, e.ref.Song, timeline.ID(v.Text))
		case f.Type == timeline.FlagField && v.Text != "true":
			return ""
		case f.Type == timeline.FlagField:
			return "yes"
		case c.right && v.Text == "0":
			return ""
		case f.Unit == "s":
			return short(v.Text)
		case f.Type == timeline.ListField && len(f.Ref) > 0:
			names := make([]string, len(v.Items))
			for i, id := range v.Items {
				names[i] = a.nameOf(f.Ref, e.ref.Song, timeline.ID(id))
			}
			return strings.Join(names, ", ")
		case f.Type == timeline.ListField:
			return strings.Join(v.Items, "; ")
		}
		return v.Text
	}
	return c
}

// short leaves out the zeros at the end of a number; nothing is left of 0.
func short(number string) string {
	if strings.Contains(number, ".") {
		number = strings.TrimRight(strings.TrimRight(number, "0"), ".")
	}
	if number == "0" {
		return ""
	}
	return number
}

// nameOf gives the name of the record of one of some kinds with an id, the id where it has none, and "gone" where it is not there.
func (a *App) nameOf(kinds []string, song, id timeline.ID) string {
	if id == "" {
		return ""
	}
	for _, kind := range kinds {
		k := timeline.KindOf(kind)
		if r := find(a.work.shown, timeline.Ref{Kind: kind, Song: song, ID: id}); r != nil {
			if n := k.NameOf(r); n != "" {
				return n
			}
			return string(id)
		}
	}
	return string(id) + " (gone)"
}

// recordsOf lists all records of a kind that lives outside songs.
func recordsOf(kind string) func(*App) []entry {
	k := timeline.KindOf(kind)
	return func(a *App) []entry {
		var list []entry
		for _, r := range k.List(a.work.shown, "") {
			list = append(list, entry{key: string(r.RecordID()), ref: timeline.Ref{Kind: kind, ID: r.RecordID()}, rec: r})
		}
		return list
	}
}
