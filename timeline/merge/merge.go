package merge

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// Result is two edits joined.
type Result struct {
	Show      *timeline.Show
	Conflicts []Conflict // in the order of the model
	Notes     []string   // what was done that neither of the two asked for
}

// ErrOther says that two shows are no edits of one.
var ErrOther = errors.New("these are edits of different shows")

// Shows merges two edits of a show, made from the base apart from each other.
func Shows(base, ours, theirs *timeline.Show) (*Result, error) {
	if base.Head.ID != ours.Head.ID || base.Head.ID != theirs.Head.ID {
		return nil, fmt.Errorf("%w: %q (%s), %q (%s) and %q (%s)", ErrOther, base.Head.Title, base.Head.ID, ours.Head.Title, ours.Head.ID, theirs.Head.Title, theirs.Head.ID)
	}
	m := &merger{base: base, ours: ours, theirs: theirs, draft: timeline.NewDraft(ours)}
	for _, k := range timeline.Kinds() {
		if !k.InSong {
			m.kind(k)
		}
	}
	m.leave()
	m.references()
	m.slugs()
	m.result.Show = m.draft.Show()
	m.played()
	m.named()
	return &m.result, nil
}

type merger struct {
	base, ours, theirs *timeline.Show
	draft              *timeline.Draft
	gone               []timeline.Ref // of ours
	result             Result
}

func (m *merger) side(s Side) *timeline.Show {
	switch s {
	case Ours:
		return m.ours
	case Theirs:
		return m.theirs
	}
	return m.base
}

func (m *merger) conflict(c Conflict) {
	maps.DeleteFunc(c.Says, func(_ Side, text string) bool { return text == "" })
	m.result.Conflicts = append(m.result.Conflicts, c)
}

// kind merges the records of a kind, and for songs what lives in them.
func (m *merger) kind(k *timeline.Kind) {
	for _, id := range ids(k, "", m.base, m.ours, m.theirs) {
		if k.Name != "song" {
			m.record(k, "", id)
			continue
		}
		if m.song(k, id) {
			for _, in := range timeline.Kinds() {
				if in.InSong {
					for _, r := range ids(in, id, m.base, m.ours, m.theirs) {
						m.record(in, id, r)
					}
				}
			}
		}
	}
}

// ids gives the ids of a kind in any of the shows, sorted.
func ids(k *timeline.Kind, song timeline.ID, shows ...*timeline.Show) []timeline.ID {
	all := map[timeline.ID]bool{}
	for _, s := range shows {
		for _, r := range k.List(s, song) {
			all[r.RecordID()] = true
		}
	}
	return slices.Sorted(maps.Keys(all))
}

// song merges the record of a song, and reports whether what lives in it is to be
// merged as well. A song that one has removed goes whole, unless the other changed
// anything in it.
func (m *merger) song(k *timeline.Kind, id timeline.ID) bool {
	b, o, t := m.base.Song(id), m.ours.Song(id), m.theirs.Song(id)
	switch {
	case b == nil || o != nil && t != nil:
		m.record(k, "", id)
		return true
	case o == nil && t == nil:
	case o == nil && !sameSong(m.base, m.theirs, id):
		m.takeSong(m.theirs, id)
		m.removed(k, timeline.Ref{Kind: "song", ID: id}, Theirs)
	case t == nil && !sameSong(m.base, m.ours, id):
		m.removed(k, timeline.Ref{Kind: "song", ID: id}, Ours)
	case o != nil:
		m.gone = append(m.gone, timeline.Ref{Kind: "song", ID: id})
	}
	return false
}

// sameSong reports whether two shows hold the same of a song.
func sameSong(a, b *timeline.Show, id timeline.ID) bool {
	if a.Song(id) == b.Song(id) {
		return true
	}
	head := timeline.KindOf("song")
	if !head.Equal(head.Find(a, "", id), head.Find(b, "", id)) {
		return false
	}
	for _, k := range timeline.Kinds() {
		if k.InSong && !slices.EqualFunc(k.List(a, id), k.List(b, id), k.Equal) {
			return false
		}
	}
	return true
}

// takeSong puts a song in as another show has it.
func (m *merger) takeSong(from *timeline.Show, id timeline.ID) {
	m.draft.Put("", timeline.KindOf("song").Find(from, "", id))
	for _, k := range timeline.Kinds() {
		if list := k.List(from, id); k.InSong && len(list) > 0 {
			m.draft.Put(id, list...)
		}
	}
}

// removed is a conflict about what one removed and the other changed; it is held
// as it was changed.
func (m *merger) removed(k *timeline.Kind, r timeline.Ref, changed Side) {
	gone := deedOn(r)
	gone.Remove = true
	c := Conflict{Ref: r, Why: Removed, Held: changed, Options: []Option{{Side: changed}, {Side: changed.other(), Deeds: []Deed{gone}}},
		Says: map[Side]string{changed: said(k, k.Find(m.side(changed), r.Song, r.ID), k.Find(m.base, r.Song, r.ID)), Base: said(k, k.Find(m.base, r.Song, r.ID), k.Find(m.side(changed), r.Song, r.ID))}}
	c.sort()
	m.conflict(c)
}

func (c *Conflict) sort() {
	slices.SortFunc(c.Options, func(a, b Option) int {
		return slices.Index(Sides(), a.Side) - slices.Index(Sides(), b.Side)
	})
}

// record merges one record.
func (m *merger) record(k *timeline.Kind, song, id timeline.ID) {
	b, o, t := k.Find(m.base, song, id), k.Find(m.ours, song, id), k.Find(m.theirs, song, id)
	r := timeline.Ref{Kind: k.Name, ID: id}
	if k.InSong {
		r.Song = song
	}
	switch {
	case o == nil && t == nil, same(k, o, t), b != nil && same(k, b, t) && o == nil, o != nil && same(k, b, t):
		return // as ours has it
	case o == nil && b == nil:
		m.draft.Put(song, t)
	case t == nil && b == nil:
	case t == nil && same(k, b, o):
		m.gone = append(m.gone, r)
	case same(k, b, o):
		m.draft.Put(song, t)
	case o == nil:
		m.draft.Put(song, t)
		m.removed(k, r, Theirs)
	case t == nil:
		m.removed(k, r, Ours)
	case b == nil && k.Name != "song":
		m.added(k, r, o, t)
	default:
		if b == nil {
			b = k.New(id)
		}
		m.draft.Put(song, m.fields(k, r, b, o, t))
	}
}

func same(k *timeline.Kind, a, b timeline.Record) bool {
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	return k.Equal(a, b)
}

// said writes a record on one line: the fields in which it is not another one.
func said(k *timeline.Kind, r, than timeline.Record) string {
	if r == nil {
		return ""
	}
	var text string
	for i := range k.Fields {
		f := &k.Fields[i]
		v, was := f.Get(r), f.Default
		if than != nil {
			was = f.Get(than)
		}
		if v.Equal(was) || f.Name == "slug" {
			continue
		}
		if text != "" {
			text += " "
		}
		text += f.Name + "=" + quoted(v.String())
	}
	return text
}

// added is a conflict about a record that both added under one id.
func (m *merger) added(k *timeline.Kind, r timeline.Ref, o, t timeline.Record) {
	if k.Find(m.base, r.Song, r.ID) != nil {
		return
	}
	kept, _ := keptBoth(nil, timeline.KeptOf(o), timeline.KeptOf(t))
	if c := k.Clone(o); kept != timeline.KeptOf(o) {
		timeline.SetKept(c, kept)
		m.draft.Put(r.Song, c)
	}
	if said(k, o, nil) == said(k, t, nil) {
		return // they differ in comments alone
	}
	become, gone := deedOn(r), deedOn(r)
	become.Record, gone.Remove = fieldsOf(k, t), true
	c := Conflict{Ref: r, Why: Added, Held: Ours, Says: map[Side]string{Ours: said(k, o, nil), Theirs: said(k, t, nil)},
		Options: []Option{{Side: Ours}, {Side: Theirs, Deeds: []Deed{become}}}}
	if len(m.ours.Users(r)) == 0 && len(m.theirs.Users(r)) == 0 {
		c.Options = append(c.Options, Option{Side: Base, Deeds: []Deed{gone}})
	}
	if both, ok := m.beside(k, r, t); ok {
		c.Options = append(c.Options, both)
	}
	m.conflict(c)
}

// beside is the choice to keep a record of theirs beside ours of the same id: it
// has another one, and what theirs alone aims at it follows it.
func (m *merger) beside(k *timeline.Kind, r timeline.Ref, t timeline.Record) (Option, bool) {
	if k.Name == "show" || k.Name == "setting" || k.Field("slug") != nil {
		return Option{}, false // there is one of them, or its name is that of a file
	}
	var id timeline.ID
	for n := 2; ; n++ {
		id = timeline.ID(fmt.Sprintf("%s-%d", r.ID[:min(len(r.ID), 36)], n))
		if k.Find(m.ours, r.Song, id) == nil && k.Find(m.theirs, r.Song, id) == nil && k.Find(m.base, r.Song, id) == nil {
			break
		}
	}
	twin := deedOn(timeline.Ref{Kind: r.Kind, Song: r.Song, ID: id})
	twin.Record = fieldsOf(k, t)
	o := Option{Side: Both, Deeds: []Deed{twin}}
	ours := m.ours.Users(r)
	for _, u := range m.theirs.Users(r) {
		if slices.Contains(ours, u) {
			continue
		}
		uk := timeline.KindOf(u.Kind)
		for i := range uk.Fields {
			f := &uk.Fields[i]
			if slices.Contains(f.Ref, r.Kind) && slices.Contains(heads(f, f.Get(uk.Find(m.theirs, u.Song, u.ID))), r.ID) {
				d := deedOn(u)
				d.Field, d.Rename, d.NewID = f.Name, r.ID, id
				o.Deeds = append(o.Deeds, d)
			}
		}
	}
	return o, true
}

func fieldsOf(k *timeline.Kind, r timeline.Record) *map[string]field.Value {
	m := map[string]field.Value{}
	for i := range k.Fields {
		if v := k.Fields[i].Get(r); !v.Equal(k.Fields[i].Default) {
			m[k.Fields[i].Name] = v
		}
	}
	return &m
}

// leave takes out what one has removed and the other left alone.
func (m *merger) leave() {
	for _, r := range m.gone {
		if timeline.KindOf(r.Kind).Find(m.draft.Show(), r.Song, r.ID) != nil {
			_ = m.draft.Remove(r) // it is there, and not the show's own record
		}
	}
}

// played joins what is kept of nights that were played.
func (m *merger) played() {
	var list []timeline.Played
	seen := map[timeline.ID]bool{}
	for _, k := range slices.Concat(m.ours.Played, m.theirs.Played) {
		if seen[k.Night] || m.result.Show.Night(k.Night) == nil {
			continue
		}
		seen[k.Night] = true
		b, o, t := m.base.KeptFor(k.Night), m.ours.KeptFor(k.Night), m.theirs.KeptFor(k.Night)
		switch kept := o; {
		case o == nil && b != nil && sameShow(b, t), t == nil && b != nil && sameShow(b, o):
		case o == nil || b != nil && sameShow(b, o) && t != nil:
			list = append(list, timeline.Played{Night: k.Night, Show: t})
		default:
			if t != nil && !sameShow(o, t) && !sameShow(b, t) {
				m.note("both kept the night %s as it was played, from two states of the show; ours is kept", k.Night)
			}
			list = append(list, timeline.Played{Night: k.Night, Show: kept})
		}
	}
	if len(list)+len(m.result.Show.Played) > 0 {
		s := *m.result.Show
		s.Played = list
		m.result.Show = &s
	}
}

func sameShow(a, b *timeline.Show) bool {
	return a == b || a != nil && b != nil && len(timeline.Diff(a, b)) == 0
}

func (m *merger) note(format string, args ...any) {
	m.result.Notes = append(m.result.Notes, fmt.Sprintf(format, args...))
}

// named gives conflicts the names of their records.
func (m *merger) named() {
	for i := range m.result.Conflicts {
		c := &m.result.Conflicts[i]
		k := timeline.KindOf(c.Ref.Kind)
		for _, s := range []*timeline.Show{m.result.Show, m.ours, m.theirs, m.base} {
			if r := k.Find(s, c.Ref.Song, c.Ref.ID); r != nil && c.Name == "" {
				c.Name = s.CalledIn(c.Ref.Song, r)
				if g := s.Song(c.Ref.Song); k.InSong && g != nil {
					c.In = g.FullTitle()
				}
			}
		}
	}
}
