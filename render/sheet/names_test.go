package sheet

import (
	"bytes"
	"encoding/csv"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

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
		s := renamed(rt, altered(rt, testshow.Random(rt, plain)))
		ids := idsOf(s)
		free := func(what, text string) {
			for _, word := range strings.FieldsFunc(text, func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) && c != '-' }) {
				require.False(rt, ids[word], "%s: %q is an id, in %q", what, word, text)
			}
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

// renamed gives the records of a show other names: each its own, one for several,
// or none.
func renamed(t *rapid.T, s *timeline.Show) *timeline.Show {
	out, err := s.Edit(func(d *timeline.Draft) error {
		rename := func(song timeline.ID, k *timeline.Kind) {
			if k.Field("name") == nil {
				return
			}
			for i, r := range k.List(s, song) {
				name := rapid.SampledFrom([]string{"", "Twin", "Nr " + strconv.Itoa(i+1)}).Draw(t, k.Name)
				require.NoError(t, d.Set(timeline.Ref{Kind: k.Name, Song: song, ID: r.RecordID()}, "name", timeline.Value{Text: name}))
			}
		}
		for _, k := range timeline.Kinds() {
			switch {
			case k.Name == "ruleset":
			case !k.InSong:
				rename("", k)
			default:
				for _, g := range s.Songs {
					rename(g.ID, k)
				}
			}
		}
		return nil
	})
	require.NoError(t, err)
	return out
}

// idsOf gives the ids of a show's records that are no words by themselves.
func idsOf(s *timeline.Show) map[string]bool {
	ids := map[string]bool{}
	add := func(k *timeline.Kind, song timeline.ID) {
		for _, r := range k.List(s, song) {
			if id := string(r.RecordID()); strings.ContainsAny(id, "0123456789") && id != "show1" || strings.HasPrefix(id, "l") {
				ids[id] = true
			}
		}
	}
	for _, k := range timeline.Kinds() {
		switch {
		case k.Name == "setting" || k.Name == "position":
		case !k.InSong:
			add(k, "")
		default:
			for _, g := range s.Songs {
				add(k, g.ID)
			}
		}
	}
	return ids
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
