package table

import (
	"image"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
)

// Column is a column of a table.
type Column struct {
	Title string // with its unit
	Width int    // logical; 0 takes what the others leave, where none has it the first does
	Right bool   // for numbers
	Text  func(e *Row) string
	Draw  func(e *Row, r image.Rectangle) bool // nil = the text is set
	Edit  *timeline.Field                      // of the rows' records, that is edited in the cell; nil where it cannot be
}

// least gives the logical width that a column must have to be shown.
func (c *Column) least() int {
	if c.Width == 0 {
		return 120
	}
	return c.Width
}

// Field is the column of a field of a kind of record, named like the field with its unit; records it names are shown by their names.
func Field(h page.Host, kind, field string, width int) Column {
	f := timeline.KindOf(kind).Field(field)
	c := Column{Title: page.Label(f.Name), Width: width, Right: f.Unit != "" || f.Type == timeline.NumberField || f.Type == timeline.IntegerField}
	if f.Type != timeline.ListField && !f.Kept {
		c.Edit = f
	}
	if f.Unit != "" {
		c.Title += ", " + h.Show().Told().Unit(f.Unit)
	}
	c.Text = func(e *Row) string {
		if e.Record == nil {
			return ""
		}
		v := f.Get(e.Record)
		switch {
		case len(f.Ref) > 0 && f.Type != timeline.ListField:
			return page.NameOf(h.Show(), f.Ref, e.Ref.Song, timeline.ID(v.Text))
		case f.Type == timeline.FlagField && v.Text != "true":
			return ""
		case f.Type == timeline.FlagField:
			return "yes"
		case c.Right && v.Text == "0":
			return ""
		case f.Unit == "s":
			return page.Short(v.Text)
		case f.Type == timeline.NumberField:
			return page.Typed(h.Show().Told(), f, v)
		case f.Type == timeline.ListField && len(f.Ref) > 0:
			names := make([]string, len(v.Items))
			for i, id := range v.Items {
				names[i] = page.NameOf(h.Show(), f.Ref, e.Ref.Song, timeline.ID(id))
			}
			return strings.Join(names, ", ")
		case f.Type == timeline.ListField:
			return strings.Join(v.Items, "; ")
		}
		return v.Text
	}
	return c
}

// Of lists all records of a kind that lives outside songs.
func Of(h page.Host, kind string) func() []Row {
	k := timeline.KindOf(kind)
	return func() []Row {
		var list []Row
		for _, r := range k.List(h.Show(), "") {
			list = append(list, Row{Key: string(r.RecordID()), Ref: timeline.Ref{Kind: kind, ID: r.RecordID()}, Record: r})
		}
		return list
	}
}
