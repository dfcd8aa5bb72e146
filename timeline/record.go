package timeline

import "slices"

// ID names a record for its whole life. It is random, stored with the record
// and never renumbered. Allowed characters: a-z, 0-9 and '-'.
type ID string

// Valid reports whether an id can be stored: 1 to 40 characters of a-z, 0-9
// and '-', not starting with '-'.
func (id ID) Valid() bool {
	if len(id) == 0 || len(id) > 40 || id[0] == '-' {
		return false
	}
	for i := 0; i < len(id); i++ {
		c := id[i]
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '-' {
			return false
		}
	}
	return true
}

// Record is one thing that can be named, edited, stored and compared: every
// pointer to a struct that embeds Base. A record inside a Show must not be
// written to; clone it (Clone) and Put the clone through a Draft.
type Record interface {
	// RecordID gives the id that names the record among its kind.
	RecordID() ID
	base() *Base
}

// Base is what every record carries: its id and what the show file said about
// it that the model does not know.
type Base struct {
	ID   ID
	Kept *Kept
}

// RecordID gives the record's id.
func (b *Base) RecordID() ID { return b.ID }

func (b *Base) base() *Base { return b }

// KeptOf gives what the record's show file said beyond the model, or nil.
func KeptOf(r Record) *Kept { return r.base().Kept }

// SetKept stores what a show file said beyond the model in a record that is
// still being built.
func SetKept(r Record, k *Kept) { r.base().Kept = k }

// SetID names a record that is still being built.
func SetID(r Record, id ID) { r.base().ID = id }

// Kept is what a show file said about a record that the model does not
// understand: comments and unknown keys. The model carries it along untouched;
// only the reader and writer of show files look inside. It is never written to
// once a record holds it.
type Kept struct {
	Above   []string           // comment lines before the record, with their '#'
	Beside  string             // comment at the end of the record's first line
	Keys    map[string]KeptKey // comments that belong to one key
	Unknown []KeptPair         // keys the model does not know, in file order
}

// KeptKey is the comments of one key of a record.
type KeptKey struct {
	Above  []string
	Beside string
}

// KeptPair is one unknown key with its value as the file wrote it.
type KeptPair struct {
	Key, Raw string
	Note     KeptKey
}

// equalKept compares two kept parts by content.
func equalKept(a, b *Kept) bool {
	if a == b {
		return true
	}
	if a == nil || b == nil {
		return a.empty() && b.empty()
	}
	if !slices.Equal(a.Above, b.Above) || a.Beside != b.Beside || len(a.Keys) != len(b.Keys) || len(a.Unknown) != len(b.Unknown) {
		return false
	}
	for k, v := range a.Keys {
		w, ok := b.Keys[k]
		if !ok || !equalKeptKey(v, w) {
			return false
		}
	}
	for i, p := range a.Unknown {
		q := b.Unknown[i]
		if p.Key != q.Key || p.Raw != q.Raw || !equalKeptKey(p.Note, q.Note) {
			return false
		}
	}
	return true
}

func (k *Kept) empty() bool {
	return k == nil || len(k.Above) == 0 && k.Beside == "" && len(k.Keys) == 0 && len(k.Unknown) == 0
}

func equalKeptKey(a, b KeptKey) bool {
	return a.Beside == b.Beside && slices.Equal(a.Above, b.Above)
}
