package timeline

import (
	"errors"
	"fmt"
	"slices"
	"strconv"

	"emberbeat/timeline/field"
)

// DropItem takes item n, from 1, out of a list of a record: a cut out of a
// night, a line out of a venue. The error names how many there are.
func DropItem(r Ref, field string, n int) Edit {
	return func(d *Draft) error {
		f, items, err := d.listOf(r, field)
		if err != nil {
			return err
		}
		if n < 1 || n > len(items) {
			return &ValueError{Kind: r.Kind, Field: f.Name, Value: strconv.Itoa(n), Want: "is no item of the list; " + countItems(len(items))}
		}
		return d.Set(r, f.Name, Value{Items: slices.Delete(slices.Clone(items), n-1, n)})
	}
}

func countItems(n int) string {
	if n == 0 {
		return "it is empty"
	}
	return fmt.Sprintf("it has 1 to %d", n)
}

// listOf gives the items of a list field of a record.
func (d *Draft) listOf(r Ref, name string) (*Field, []string, error) {
	k := KindOf(r.Kind)
	if k == nil || k.Find(d.show, r.Song, r.ID) == nil {
		return nil, nil, fmt.Errorf("%s: there is no such record", r)
	}
	f := k.Field(name)
	if f == nil || f.Type != ListField {
		return nil, nil, &ValueError{Kind: k.Name, Field: name, Want: "is no list of this kind; lists: " + field.Listed(k.listNames())}
	}
	return f, f.Get(k.Find(d.show, r.Song, r.ID)).Items, nil
}

func (k *Kind) listNames() []string {
	var names []string
	for i := range k.Fields {
		if k.Fields[i].Type == ListField {
			names = append(names, k.Fields[i].Name)
		}
	}
	return names
}

// putRead puts a record that was changed in Go fields after it has been through
// the table of its fields, so that it holds nothing a file could not.
func (d *Draft) putRead(r Record) error {
	k := kindOfRecord(r)
	for i := range k.Fields {
		if err := k.Fields[i].Set(r, k.Fields[i].Get(r)); err != nil {
			if ve := (*ValueError)(nil); errors.As(err, &ve) {
				ve.Kind = k.Name
			}
			return err
		}
	}
	d.Put("", r)
	return nil
}

// ownLists gives a copied record lists of its own, so that they can be written
// into.
func ownLists(r Record) {
	k := kindOfRecord(r)
	for i := range k.Fields {
		if f := &k.Fields[i]; f.Type == ListField {
			_ = f.Set(r, f.Get(r)) // what a record holds can be set again, and putRead tells where not
		}
	}
}

// replace puts an item in the place of the first one that is the same, or at
// the end.
func replace[T any](list []T, item T, same func(T) bool) []T {
	if i := slices.IndexFunc(list, same); i >= 0 {
		list[i] = item
		return list
	}
	return append(list, item)
}
