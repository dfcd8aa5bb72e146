package timeline

import (
	"fmt"
	"slices"
	"strings"
)

// Change is what happened to one record between two shows: added (Before nil),
// removed (After nil) or changed.
type Change struct {
	Ref           Ref
	Before, After Record
}

// Changes is a difference between two shows, in the order of Kinds, then song,
// then id.
type Changes []Change

// FieldChange is one field of a change in canonical text.
type FieldChange struct {
	Field         string
	Before, After Value
}

// Fields lists the fields that differ; for an added or removed record those
// that differ from a new record's.
func (c Change) Fields() []FieldChange {
	k := KindOf(c.Ref.Kind)
	var list []FieldChange
	for i := range k.Fields {
		f := &k.Fields[i]
		before, after := f.Default, f.Default
		if c.Before != nil {
			before = f.Get(c.Before)
		}
		if c.After != nil {
			after = f.Get(c.After)
		}
		if !before.Equal(after) {
			list = append(list, FieldChange{f.Name, before, after})
		}
	}
	return list
}

// String names the change in one line.
func (c Change) String() string {
	switch {
	case c.Before == nil:
		return "added " + c.Ref.String()
	case c.After == nil:
		return "removed " + c.Ref.String()
	}
	var parts []string
	for _, f := range c.Fields() {
		parts = append(parts, fmt.Sprintf("%s %q → %q", f.Field, f.Before, f.After))
	}
	return "changed " + c.Ref.String() + ": " + strings.Join(parts, ", ")
}

// Invert gives the changes that lead back.
func (cs Changes) Invert() Changes {
	inv := make(Changes, len(cs))
	for i, c := range cs {
		inv[i] = Change{c.Ref, c.After, c.Before}
	}
	return inv
}

// Diff gives the record-level changes from a to b. Parts that both shows share
// are skipped without being looked at.
func Diff(a, b *Show) Changes {
	var cs Changes
	for _, k := range Kinds() {
		if !k.InSong {
			if !k.same(a, b, "") {
				cs = diffLists(cs, k, "", k.List(a, ""), k.List(b, ""))
			}
			continue
		}
		for _, id := range songIDs(a, b) {
			if a.Song(id) != b.Song(id) && !k.same(a, b, id) {
				cs = diffLists(cs, k, id, k.List(a, id), k.List(b, id))
			}
		}
	}
	return cs
}

// songIDs gives the ids of the songs of either show, sorted.
func songIDs(a, b *Show) []ID {
	var ids []ID
	i, j := 0, 0
	for i < len(a.Songs) || j < len(b.Songs) {
		switch {
		case j == len(b.Songs) || i < len(a.Songs) && a.Songs[i].ID < b.Songs[j].ID:
			ids = append(ids, a.Songs[i].ID)
			i++
		case i == len(a.Songs) || b.Songs[j].ID < a.Songs[i].ID:
			ids = append(ids, b.Songs[j].ID)
			j++
		default:
			ids = append(ids, a.Songs[i].ID)
			i++
			j++
		}
	}
	return ids
}

func diffLists(cs Changes, k *Kind, song ID, a, b []Record) Changes {
	i, j := 0, 0
	for i < len(a) || j < len(b) {
		switch {
		case j == len(b) || i < len(a) && a[i].RecordID() < b[j].RecordID():
			cs = append(cs, Change{k.ref(song, a[i].RecordID()), a[i], nil})
			i++
		case i == len(a) || b[j].RecordID() < a[i].RecordID():
			cs = append(cs, Change{k.ref(song, b[j].RecordID()), nil, b[j]})
			j++
		default:
			if !k.Equal(a[i], b[j]) {
				cs = append(cs, Change{k.ref(song, a[i].RecordID()), a[i], b[j]})
			}
			i++
			j++
		}
	}
	return cs
}

// Equal compares two records of the kind by id, fields and what their files
// said beyond the model.
func (k *Kind) Equal(a, b Record) bool {
	if a == b {
		return true
	}
	if a == nil || b == nil || a.RecordID() != b.RecordID() || !equalKept(a.base().Kept, b.base().Kept) {
		return false
	}
	for i := range k.Fields {
		if !k.Fields[i].Get(a).Equal(k.Fields[i].Get(b)) {
			return false
		}
	}
	return true
}

// ConflictError says that a change does not start from what the show holds.
type ConflictError struct {
	Change Change
	Found  Record // what the show holds, or nil
}

func (e *ConflictError) Error() string {
	return fmt.Sprintf("%s: the show holds something else there than the change starts from", e.Change.Ref)
}

// Apply makes the changes in a show. Each must start from exactly what the
// show holds (else a *ConflictError, and nothing happens). Diff and Apply are
// exact both ways: Apply(a, Diff(a, b)) equals b, and with Invert leads back.
func Apply(s *Show, cs Changes) (*Show, error) {
	d := NewDraft(s)
	if err := d.apply(cs); err != nil {
		return nil, err
	}
	d.keepPlayed()
	d.show.keepLent()
	return d.show, nil
}

// Toward makes a show what another one is, record by record. What the other one
// keeps of a night that was played comes with it.
func Toward(to *Show) Edit {
	return func(d *Draft) error {
		if err := d.apply(Diff(d.show, to)); err != nil {
			return err
		}
		for _, k := range to.Played {
			if d.show.KeptFor(k.Night) == nil {
				d.show.Played = append(slices.Clip(d.show.Played), k)
			}
		}
		return nil
	}
}

// SongToward makes one song what it is in another show; what stands beside it stays.
func SongToward(to *Show, song ID) Edit {
	return func(d *Draft) error {
		var cs Changes
		for _, c := range Diff(d.show, to) {
			if c.Ref.Song == song || c.Ref == (Ref{Kind: "song", ID: song}) {
				cs = append(cs, c)
			}
		}
		if err := d.apply(cs); err != nil {
			return err
		}
		for _, c := range cs {
			if c.After != nil {
				d.put = append(d.put, c.Ref)
			} else {
				d.gone = append(d.gone, c.Ref)
			}
		}
		return nil
	}
}

// apply makes changes that start from what the draft holds.
func (d *Draft) apply(cs Changes) error {
	batch := map[Ref][]Record{} // puts of one slice are merged at once
	var order []Ref
	for _, c := range cs {
		k := KindOf(c.Ref.Kind)
		if k == nil {
			return fmt.Errorf("%s: no such kind of record", c.Ref)
		}
		found := k.Find(d.show, c.Ref.Song, c.Ref.ID)
		if (found == nil) != (c.Before == nil) || found != nil && !k.Equal(found, c.Before) {
			return &ConflictError{c, found}
		}
		if c.After != nil {
			slot := Ref{Kind: c.Ref.Kind, Song: c.Ref.Song}
			if batch[slot] == nil {
				order = append(order, slot)
			}
			batch[slot] = append(batch[slot], c.After)
		}
	}
	for _, slot := range order { // kinds come in model order: songs before what lives in them
		KindOf(slot.Kind).put(d, slot.Song, batch[slot])
	}
	for i := len(cs) - 1; i >= 0; i-- { // and leave after it
		if cs[i].After == nil {
			KindOf(cs[i].Ref.Kind).remove(d, cs[i].Ref.Song, cs[i].Ref.ID)
		}
	}
	return nil
}
