package merge

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// heads gives the ids that a field of references holds: of list items with words
// of their own, the first.
func heads(f *field.Field, v field.Value) []timeline.ID {
	if f.Type != field.ListType {
		if v.Text == "" {
			return nil
		}
		return []timeline.ID{timeline.ID(v.Text)}
	}
	var ids []timeline.ID
	for _, item := range v.Items {
		head, _, _ := strings.Cut(item, " ")
		ids = append(ids, timeline.ID(head))
	}
	return ids
}

// lost is a name of a record that the merged show does not hold.
type lost struct {
	by, target timeline.Ref
	has        Side // that holds it
}

// references puts back what one removed and the other came to use. Each such
// record is a conflict.
func (m *merger) references() {
	for {
		l := m.firstLost()
		if l == nil {
			return
		}
		k, from := timeline.KindOf(l.target.Kind), m.side(l.has)
		if k.Name == "song" {
			m.takeSong(from, l.target.ID)
		} else {
			m.draft.Put(l.target.Song, k.Find(from, l.target.Song, l.target.ID))
		}
		c := Conflict{Ref: l.target, Why: Used, Held: l.has, Says: map[Side]string{l.has: "used by " + m.draft.Show().Names().NamedRefs(m.draft.Show().Users(l.target))},
			Options: []Option{{Side: l.has}, {Side: l.has.other(), Deeds: m.without(l.target, l.has.other())}}}
		c.sort()
		m.conflict(c)
	}
}

// firstLost finds a reference that leads nowhere in the merged show, and did on a
// side that has it.
func (m *merger) firstLost() *lost {
	show := m.draft.Show()
	for _, k := range timeline.Kinds() {
		for i := range k.Fields {
			f := &k.Fields[i]
			if len(f.Ref) == 0 {
				continue
			}
			for _, song := range songsOf(k, show) {
				for _, r := range k.List(show, song) {
					for _, id := range heads(f, f.Get(r)) {
						if found(show, f.Ref, song, id) != nil {
							continue
						}
						for _, s := range []Side{Ours, Theirs} {
							mine := k.Find(m.side(s), song, r.RecordID())
							if mine == nil || !slices.Contains(heads(f, f.Get(mine)), id) {
								continue
							}
							if to := found(m.side(s), f.Ref, song, id); to != nil {
								by := timeline.Ref{Kind: k.Name, ID: r.RecordID()}
								if k.InSong {
									by.Song = song
								}
								return &lost{by, *to, s}
							}
						}
					}
				}
			}
		}
	}
	return nil
}

func songsOf(k *timeline.Kind, s *timeline.Show) []timeline.ID {
	if !k.InSong {
		return []timeline.ID{""}
	}
	list := make([]timeline.ID, len(s.Songs))
	for i, g := range s.Songs {
		list[i] = g.ID
	}
	return list
}

// found gives the record of one of the kinds that an id names, or nil.
func found(s *timeline.Show, kinds []string, song, id timeline.ID) *timeline.Ref {
	for _, name := range kinds {
		k := timeline.KindOf(name)
		if k.Find(s, song, id) == nil {
			continue
		}
		r := timeline.Ref{Kind: name, ID: id}
		if k.InSong {
			r.Song = song
		}
		return &r
	}
	return nil
}

// without gives what removes a record, as one side has done: what names it is as
// that side has it, and what it has not goes.
func (m *merger) without(target timeline.Ref, as Side) []Deed {
	var deeds []Deed
	gone := map[timeline.Ref]bool{target: true}
	for todo := []timeline.Ref{target}; len(todo) > 0; todo = todo[1:] {
		for _, u := range m.draft.Show().Users(todo[0]) {
			if gone[u] {
				continue
			}
			k := timeline.KindOf(u.Kind)
			theirs, mine := k.Find(m.draft.Show(), u.Song, u.ID), k.Find(m.side(as), u.Song, u.ID)
			for i := range k.Fields {
				f := &k.Fields[i]
				v := f.Get(theirs)
				if !slices.Contains(f.Ref, todo[0].Kind) || !slices.Contains(heads(f, v), todo[0].ID) {
					continue
				}
				d := deedOn(u)
				switch {
				case f.Type == field.ListType:
					for j, id := range heads(f, v) {
						if id == todo[0].ID {
							one := d
							one.Field, one.From = f.Name, v.Items[j]
							deeds = append(deeds, one)
						}
					}
				case mine != nil && !slices.Contains(heads(f, f.Get(mine)), todo[0].ID):
					w := f.Get(mine)
					d.Field, d.Value = f.Name, &w
					deeds = append(deeds, d)
				default:
					gone[u] = true
					todo = append(todo, u)
					d.Remove = true
					deeds = append(deeds, d)
				}
			}
		}
	}
	d := deedOn(target)
	d.Remove = true
	return append(deeds, d)
}

// slugs gives records of one kind that would be stored under one name each its
// own.
func (m *merger) slugs() {
	for _, k := range timeline.Kinds() {
		f := k.Field("slug")
		if f == nil {
			continue
		}
		taken := map[string]timeline.ID{}
		list := slices.Clone(k.List(m.draft.Show(), ""))
		slices.SortStableFunc(list, func(a, b timeline.Record) int { return m.newer(k, f, a) - m.newer(k, f, b) })
		for _, r := range list {
			taken[f.Get(r).Text] = cmpOr(taken[f.Get(r).Text], r.RecordID())
		}
		for _, r := range list {
			slug := f.Get(r).Text
			if taken[slug] == r.RecordID() {
				continue
			}
			free := freeSlug(slug, func(s string) bool { return taken[s] != "" })
			taken[free] = r.RecordID()
			c := k.Clone(r)
			_ = f.Set(c, field.Value{Text: free}) // made of a slug
			m.draft.Put("", c)
			m.note("%s is stored as %s, for both named something %s", timeline.Ref{Kind: k.Name, ID: r.RecordID()}, free, slug)
		}
	}
}

// freeSlug gives a name on disk that is not taken: the one that is wanted, or with
// a number behind it.
func freeSlug(slug string, taken func(string) bool) string {
	free := slug
	for n := 2; taken(free); n++ {
		free = fmt.Sprintf("%s-%d", slug[:min(len(slug), 36)], n)
	}
	return free
}

// newer puts what had its name on disk before either of the two first.
func (m *merger) newer(k *timeline.Kind, f *field.Field, r timeline.Record) int {
	if was := k.Find(m.base, "", r.RecordID()); was != nil && f.Get(was).Equal(f.Get(r)) {
		return 0
	}
	return 1
}

func cmpOr(a, b timeline.ID) timeline.ID {
	if a != "" {
		return a
	}
	return b
}

// LostReference is a name of a record that a merged show does not hold.
type LostReference struct{ By, Target timeline.Ref }

// Lost lists the references of a show merged by other means that lead nowhere, and
// led somewhere on the side that has them.
func Lost(ours, theirs, is *timeline.Show) (list []LostReference) {
	m := &merger{base: is, ours: ours, theirs: theirs, draft: timeline.NewDraft(is)}
	for {
		l := m.firstLost()
		if l == nil {
			return list
		}
		list = append(list, LostReference{l.by, l.target})
		if k := timeline.KindOf(l.target.Kind); k.Name == "song" {
			m.takeSong(m.side(l.has), l.target.ID)
		} else {
			m.draft.Put(l.target.Song, k.Find(m.side(l.has), l.target.Song, l.target.ID))
		}
	}
}

// Started gives which of the states that ours went through, newest first, theirs
// most likely started from: the one that is nearest to theirs, and of several the
// oldest, for an older one than the true one loses nothing. -1 = there is none. A
// state may be nil.
func Started(theirs *timeline.Show, ours []*timeline.Show) int {
	best, least := -1, 0
	for i, s := range ours {
		if s == nil || s.Head.ID != theirs.Head.ID {
			continue
		}
		if n := distance(s, theirs); best < 0 || n <= least {
			best, least = i, n
		}
	}
	return best
}

// distance counts the fields in which two shows differ.
func distance(a, b *timeline.Show) (n int) {
	for _, c := range timeline.Diff(a, b) {
		n += 1 + len(c.Fields())
	}
	return n
}
