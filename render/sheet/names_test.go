package sheet

import (
	"bytes"
	"encoding/csv"
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// No id stands in what is read: in findings, in what would mend them, on a page or
// in a cell that names something, whether records have names of their own, share
// one or have none. Ids that are words as well (comet) are left out of account.
func TestNoIDIsEverRead(t *testing.T) {
	plain := testshow.Charged(t)
	rapid.Check(t, func(rt *rapid.T) {
		s := testshow.Renamed(rt, altered(rt, testshow.Random(rt, plain)))
		ids := testshow.IDs(s)
		free := func(what, text string) {
			require.Empty(rt, ids.In(text), "%s: %q", what, text)
		}
		for _, night := range []*timeline.Night{nil, s.Night("n1")} {
			p := timeline.Compile(s, night)
			found := report.NewFindings(p, rule.Facts{}, rule.Check(p, rule.Facts{}), nil, report.Filter{})
			var text bytes.Buffer
			require.NoError(rt, found.WriteLong(&text))
			free("findings", text.String())
			for _, o := range Kinds() {
				if night == nil && o.Night {
					continue
				}
				made, err := o.Make(p, report.Filter{})
				require.NoError(rt, err, o.Name)
				if o.Name != "cue-list" { // of which the CSV has all that the pages have
					eachText(reflect.ValueOf(*made.Printed()), func(text string) { free(o.Name, text) })
				}
				var list bytes.Buffer
				require.NoError(rt, made.WriteCSV(&list), o.Name)
				in := csv.NewReader(&list)
				in.FieldsPerRecord = -1
				rows, err := in.ReadAll()
				require.NoError(rt, err, o.Name)
				id := -1 // the one column of ids: a list that is read in again finds its cues by it
				for _, row := range rows {
					if slices.Contains(row, "lane") {
						id = slices.Index(row, "cue")
					}
					for i, cell := range row {
						if i != id {
							free(o.Name+" CSV", cell)
						}
					}
				}
			}
		}
	})
}

// eachText gives every text of a value, however deep.
func eachText(v reflect.Value, give func(string)) {
	switch v.Kind() {
	case reflect.String:
		give(v.String())
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			eachText(v.Elem(), give)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			eachText(v.Index(i), give)
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			eachText(v.MapIndex(k), give)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			eachText(v.Field(i), give)
		}
	}
}
