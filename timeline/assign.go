package timeline

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline/field"
)

// Assignment is one change of a field as a user writes it: `key=value`, and for
// lists `key+=item` and `key-=item`.
type Assignment struct {
	Field string
	Op    AssignOp
	Text  string
}

// AssignOp says what an assignment does with a field.
type AssignOp byte

// The operations. A list set by AssignSet has its items separated by
// semicolons outside quotes; items added or removed are taken whole.
const (
	AssignSet    AssignOp = '='
	AssignAdd    AssignOp = '+'
	AssignRemove AssignOp = '-'
)

// ParseAssignment reads `key=value`, `key+=item` or `key-=item`.
func ParseAssignment(s string) (Assignment, error) {
	key, text, ok := strings.Cut(s, "=")
	a := Assignment{Field: key, Op: AssignSet, Text: text}
	if n := len(key); n > 0 && (key[n-1] == '+' || key[n-1] == '-') {
		a.Field, a.Op = key[:n-1], AssignOp(key[n-1])
	}
	if !ok || a.Field == "" {
		return Assignment{}, fmt.Errorf("%s is no assignment; write key=value, for lists also key+=item and key-=item", quoted(s))
	}
	return a, nil
}

// Assign gives the edit that makes assignments to one record, in order. Where
// a field names another record, the user may write that record's name instead
// of its id.
func (p *Plan) Assign(r Ref, assignments ...Assignment) Edit {
	return func(d *Draft) error {
		for _, a := range assignments {
			if err := p.assign(d, r, a); err != nil {
				return err
			}
		}
		return nil
	}
}

func (p *Plan) assign(d *Draft, r Ref, a Assignment) error {
	k := KindOf(r.Kind)
	if k == nil || k.Field(a.Field) == nil {
		return d.Set(r, a.Field, Value{Text: a.Text}) // names what would be valid
	}
	f := k.Field(a.Field)
	if f.Type != ListField {
		if a.Op != AssignSet {
			return &ValueError{Kind: k.Name, Field: f.Name, Value: a.Text, Want: "is added to or taken from a list, and this field holds one value; write " + f.Name + "=value"}
		}
		text, err := p.momentText(k, f, r, a.Text)
		if err != nil {
			return err
		}
		return d.Set(r, f.Name, Value{Text: p.refText(d, f, r.Song, text)})
	}
	rec := k.Find(d.show, r.Song, r.ID)
	if rec == nil {
		return fmt.Errorf("%s: there is no such record", r)
	}
	items, err := p.newItems(d, f, r, a, f.Get(rec).Items)
	if err != nil {
		return err
	}
	return d.Set(r, f.Name, Value{Items: items})
}

// momentText turns a timecode, where a moment of a song is wanted, into the
// song time it stands for; all other text stays as it is.
func (p *Plan) momentText(k *Kind, f *Field, r Ref, text string) (string, error) {
	song := p.Show.Song(r.Song)
	if !k.InSong || song == nil || f.Name != "at" && f.Name != "to" {
		return text, nil
	}
	at, err := ParsePosition(text)
	if err != nil || at.Kind != PositionTimecode {
		return text, nil
	}
	m, err := p.Show.MomentAt(&song.SongHead, at)
	if err != nil {
		return "", &ValueError{Kind: k.Name, Field: f.Name, Value: text, Want: err.Error()}
	}
	return m.String(), nil
}

// newItems applies an assignment to the items of a list.
func (p *Plan) newItems(d *Draft, f *Field, r Ref, a Assignment, items []string) ([]string, error) {
	switch a.Op {
	case AssignSet:
		var all []string
		for _, item := range field.Split(a.Text) {
			all = append(all, p.refItem(d, f, r.Song, item))
		}
		return all, nil
	case AssignAdd:
		return append(slices.Clone(items), p.refItem(d, f, r.Song, a.Text)), nil
	}
	i := indexOfItem(items, p.refItem(d, f, r.Song, a.Text))
	if i < 0 {
		return nil, &ValueError{Kind: r.Kind, Field: f.Name, Value: a.Text, Want: "is not in the list: " + d.show.Names().Said(f, r.Song, Value{Items: items})}
	}
	return slices.Delete(slices.Clone(items), i, i+1), nil
}

// indexOfItem finds an item by its whole text, or by its head word if only one
// item has it.
func indexOfItem(items []string, text string) int {
	if i := slices.Index(items, text); i >= 0 {
		return i
	}
	found := -1
	for i, item := range items {
		if head, _, _ := strings.Cut(item, " "); head == text {
			if found >= 0 {
				return -1
			}
			found = i
		}
	}
	return found
}

// refItem turns a name at the head of a list item into an id.
func (p *Plan) refItem(d *Draft, f *Field, song ID, item string) string {
	if whole := p.refText(d, f, song, item); whole != item {
		return whole
	}
	head, rest, ok := strings.Cut(item, " ")
	if !ok {
		return item
	}
	return p.refText(d, f, song, head) + " " + rest
}

// refText turns the name of a record into its id where a field names records
// and exactly one is meant; all other text stays as it is.
func (p *Plan) refText(d *Draft, f *Field, song ID, text string) string {
	if len(f.Ref) == 0 || text == "" || d.exists(f.Ref, song, ID(text)) {
		return text
	}
	var found []ID
	for _, name := range f.Ref {
		k := KindOf(name)
		for _, r := range k.List(d.show, song) {
			slug := k.Field("slug")
			if strings.EqualFold(k.NameOf(r), text) || slug != nil && slug.Get(r).Text == text {
				found = append(found, r.RecordID())
			}
		}
	}
	if len(found) == 0 { // as one without a name is called
		names := d.show.Names()
		for _, name := range f.Ref {
			for _, r := range KindOf(name).List(d.show, song) {
				if strings.EqualFold(names.called(song, r), text) {
					found = append(found, r.RecordID())
				}
			}
		}
	}
	if len(found) != 1 {
		return text
	}
	return string(found[0])
}

// Add gives the edit that adds an empty record and makes assignments to it. A
// kind that needs a slug gets a free one, from its name, unless it is given.
func (p *Plan) Add(r Ref, assignments ...Assignment) Edit {
	return func(d *Draft) error {
		k := KindOf(r.Kind)
		switch {
		case k == nil || k.Name == "show":
			return fmt.Errorf("a show holds no further record of kind %q", r.Kind)
		case k.Find(d.show, r.Song, r.ID) != nil:
			return fmt.Errorf("%s is there already; choose another id, or change that record", r)
		case !r.ID.Valid():
			return &ValueError{Kind: k.Name, Field: "id", Value: string(r.ID), Want: "is no id; ids have up to 40 characters of a-z, 0-9 and -"}
		}
		d.Put(r.Song, k.New(r.ID))
		if err := p.Assign(r, assignments...)(d); err != nil {
			return err
		}
		rec := k.Find(d.show, r.Song, r.ID)
		if slug := k.Field("slug"); slug != nil && slug.Get(rec).Text == "" {
			return d.Set(r, "slug", Value{Text: p.Show.FreeSlug(k, k.NameOf(rec))})
		}
		return nil
	}
}
