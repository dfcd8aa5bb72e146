package page

import (
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// FieldRow is the logical height of a row of a form, and most items how many of a list's are shown.
const (
	FieldRow  = widget.RowHeight + 6
	MostItems = 30
)

// FieldHeight gives the logical height that a field of a record takes in a form: a list has a row for each item below its own.
func FieldHeight(f *timeline.Field, rec timeline.Record) int {
	if f.Type == timeline.ListField {
		return FieldRow * (1 + min(len(f.Get(rec).Items), MostItems))
	}
	return FieldRow
}
