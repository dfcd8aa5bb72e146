package timeline

import (
	"slices"
	"strings"
)

// Part says in which part of a show folder a kind of record is stored.
type Part uint8

// The parts of a show folder.
const (
	showPart Part = iota
	stockPart
	rigPart
	songPart // one folder a song
	venuePart
	nightPart
	rulePart
)

// The same parts, for other packages.
const (
	ShowPart  = showPart
	StockPart = stockPart
	RigPart   = rigPart
	SongPart  = songPart
	VenuePart = venuePart
	NightPart = nightPart
	RulePart  = rulePart
)

// Kind is one kind of record: its name, its table of fields, and the ways to
// reach its records in a Show. Get it with KindOf or Kinds.
type Kind struct {
	Name   string // "article"; also the word in commands and files
	Plural string
	Help   string
	Part   Part
	InSong bool // its records live in a song: section, marker, lane, phrase, cue
	Fields []Field

	byName map[string]*Field
	empty  func() Record
	clone  func(Record) Record
	list   func(s *Show, song ID) []Record
	find   func(s *Show, song, id ID) Record
	put    func(d *Draft, song ID, recs []Record)
	remove func(d *Draft, song, id ID)
	same   func(a, b *Show, song ID) bool
}

// New gives an empty record of the kind with its defaults, to be filled before
// it is Put.
func (k *Kind) New(id ID) Record {
	r := k.empty()
	r.base().ID = id
	return r
}

// Clone copies a record, so that the copy can be changed and Put. Slices are
// shared: replace them, never write into them.
func (k *Kind) Clone(r Record) Record { return k.clone(r) }

// Field finds a field by name, or nil.
func (k *Kind) Field(name string) *Field { return k.byName[name] }

// FieldNames lists the kind's field names in file order.
func (k *Kind) FieldNames() []string {
	names := make([]string, len(k.Fields))
	for i := range k.Fields {
		names[i] = k.Fields[i].Name
	}
	return names
}

// List gives the kind's records of a show, sorted by id; song names the song
// for kinds that live in one, and is ignored for others.
func (k *Kind) List(s *Show, song ID) []Record { return k.list(s, song) }

// Find gives one record, or nil.
func (k *Kind) Find(s *Show, song, id ID) Record { return k.find(s, song, id) }

var (
	kindOrder = []string{"show", "article", "devicetype", "banktype", "position", "placed", "group", "bank", "device", "wire",
		"circuit", "supply", "song", "section", "marker", "lane", "phrase", "cue", "aside", "set", "handcue", "person", "venue", "night", "setting", "ruleset"}
	kindTable = map[string]*Kind{}
)

// Kinds lists every kind of record in the order of the model.
func Kinds() []*Kind {
	kinds := make([]*Kind, len(kindOrder))
	for i, name := range kindOrder {
		kinds[i] = kindTable[name]
	}
	return kinds
}

// KindOf finds a kind by its name or plural, or nil.
func KindOf(name string) *Kind {
	if k := kindTable[name]; k != nil {
		return k
	}
	for _, k := range kindTable {
		if k.Plural == name {
			return k
		}
	}
	return nil
}

// ref is a pointer type to a record struct T.
type ref[T any] interface {
	*T
	Record
}

type defaulter interface{ defaults() }

func newRecord[T any, P ref[T]]() Record {
	r := P(new(T))
	if d, ok := any(r).(defaulter); ok {
		d.defaults()
	}
	return r
}

// register enters a kind whose records stand in one slice of the show.
func register[T any, P ref[T]](name, plural, help string, part Part,
	read func(*Show, ID) []P, own func(*Draft, ID) *[]P, fields ...Field) {
	enter(&Kind{Name: name, Plural: plural, Help: help, Part: part, Fields: fields,
		empty: newRecord[T, P],
		clone: func(r Record) Record { c := *any(r).(P); return P(&c) },
		list:  func(s *Show, song ID) []Record { return records(read(s, song)) },
		find: func(s *Show, song, id ID) Record {
			if r := findRecord(read(s, song), id); r != nil {
				return r
			}
			return nil
		},
		put: func(d *Draft, song ID, recs []Record) {
			slot := own(d, song)
			if slot == nil {
				return
			}
			*slot = merge(*slot, recs)
		},
		remove: func(d *Draft, song, id ID) {
			if slot := own(d, song); slot != nil {
				*slot = without(*slot, id)
			}
		},
		same: func(a, b *Show, song ID) bool { return sameSlice(read(a, song), read(b, song)) },
	})
}

// registerInSong enters a kind whose records live in songs.
func registerInSong[T any, P ref[T]](name, plural, help string, slot func(*Song) *[]P, fields ...Field) {
	register(name, plural, help, songPart,
		func(s *Show, song ID) []P {
			if g := s.Song(song); g != nil {
				return *slot(g)
			}
			return nil
		},
		func(d *Draft, song ID) *[]P {
			if g := d.song(song); g != nil {
				return slot(g)
			}
			return nil
		}, fields...)
	kindTable[name].InSong = true
}

// registerHead enters the kind of the one record of the show itself.
func registerHead(fields ...Field) {
	enter(&Kind{Name: "show", Plural: "shows", Help: "the show itself", Part: showPart, Fields: fields,
		empty: newRecord[Head, *Head],
		clone: func(r Record) Record { c := *r.(*Head); return &c },
		list:  func(s *Show, _ ID) []Record { return []Record{s.Head} },
		find: func(s *Show, _, id ID) Record {
			if s.Head.ID != id {
				return nil
			}
			return s.Head
		},
		put:    func(d *Draft, _ ID, recs []Record) { d.show.Head = recs[len(recs)-1].(*Head) },
		remove: func(*Draft, ID, ID) {},
		same:   func(a, b *Show, _ ID) bool { return a.Head == b.Head },
	})
}

// registerSongs enters the kind of songs, whose records are SongHeads: putting
// one leaves the song's lanes and cues as they are.
func registerSongs(fields ...Field) {
	enter(&Kind{Name: "song", Plural: "songs", Help: "a song of the tour", Part: songPart, Fields: fields,
		empty: newRecord[SongHead, *SongHead],
		clone: func(r Record) Record { c := *r.(*SongHead); return &c },
		list: func(s *Show, _ ID) []Record {
			list := make([]Record, len(s.Songs))
			for i, g := range s.Songs {
				list[i] = &g.SongHead
			}
			return list
		},
		find: func(s *Show, _, id ID) Record {
			if g := s.Song(id); g != nil {
				return &g.SongHead
			}
			return nil
		},
		put: func(d *Draft, _ ID, recs []Record) {
			for _, r := range recs {
				h := *r.(*SongHead)
				if g := d.song(h.ID); g != nil {
					g.SongHead = h
				} else {
					d.addSong(&Song{SongHead: h})
				}
			}
		},
		remove: func(d *Draft, _, id ID) { d.show.Songs = without(d.show.Songs, id) },
		same:   func(a, b *Show, _ ID) bool { return sameSlice(a.Songs, b.Songs) },
	})
}

func enter(k *Kind) {
	k.byName = make(map[string]*Field, len(k.Fields))
	empty := k.empty()
	for i := range k.Fields {
		f := &k.Fields[i]
		f.Default = f.Get(empty)
		k.byName[f.Name] = f
	}
	kindTable[k.Name] = k
}

func records[P Record](list []P) []Record {
	out := make([]Record, len(list))
	for i, r := range list {
		out[i] = r
	}
	return out
}

func findRecord[P interface {
	comparable
	Record
}](list []P, id ID) P {
	i, ok := slices.BinarySearchFunc(list, id, compareToID[P])
	if !ok {
		var none P
		return none
	}
	return list[i]
}

func compareToID[P Record](r P, id ID) int { return strings.Compare(string(r.base().ID), string(id)) }

func compareIDs[P Record](a, b P) int {
	return strings.Compare(string(a.base().ID), string(b.base().ID))
}

// merge gives a new sorted slice with recs put in; a record replaces one of
// its id, the last one wins.
func merge[P Record](list []P, recs []Record) []P {
	if len(recs) == 1 {
		r := recs[0].(P)
		i, found := slices.BinarySearchFunc(list, r.base().ID, compareToID[P])
		out := make([]P, 0, len(list)+1)
		out = append(append(out, list[:i]...), r)
		if found {
			i++
		}
		return append(out, list[i:]...)
	}
	add := make([]P, len(recs))
	for i, r := range recs {
		add[i] = r.(P)
	}
	add = inTurn(add)
	list = inTurn(list)
	out := make([]P, 0, len(list)+len(add))
	for _, r := range add {
		for len(list) > 0 && compareIDs(list[0], r) < 0 {
			out, list = append(out, list[0]), list[1:]
		}
		if out = append(out, r); len(list) > 0 && compareIDs(list[0], r) == 0 {
			list = list[1:]
		}
	}
	return append(out, list...)
}

// inTurn gives records sorted by id, of each id the last; a list that is so
// already is given as it is.
func inTurn[P Record](list []P) []P {
	before := func(a, b P) bool { return compareIDs(a, b) < 0 }
	n := 1
	for n < len(list) && before(list[n-1], list[n]) {
		n++
	}
	if n >= len(list) {
		return list
	}
	list = slices.Clone(list)
	slices.SortStableFunc(list, compareIDs[P])
	n = 0
	for i := range list {
		if i+1 == len(list) || before(list[i], list[i+1]) {
			list[n] = list[i]
			n++
		}
	}
	return list[:n]
}

// without gives a new slice that lacks the record of the id.
func without[P Record](list []P, id ID) []P {
	i, found := slices.BinarySearchFunc(list, id, compareToID[P])
	if !found {
		return list
	}
	return append(append(make([]P, 0, len(list)-1), list[:i]...), list[i+1:]...)
}

// sameSlice reports whether both are the very same records.
func sameSlice[P comparable](a, b []P) bool {
	if len(a) != len(b) {
		return false
	}
	if len(a) == 0 || &a[0] == &b[0] {
		return true
	}
	return slices.Equal(a, b)
}
