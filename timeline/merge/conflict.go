package merge

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// Side is a choice in a conflict.
type Side string

// The choices. Not every conflict has all of them.
const (
	Ours   Side = "ours"
	Theirs Side = "theirs"
	Base   Side = "base" // as it was before either of the two
	Both   Side = "both"
)

// Sides lists the choices in the order in which they are shown.
func Sides() []Side { return []Side{Ours, Theirs, Base, Both} }

// other gives the opposite side.
func (s Side) other() Side {
	switch s {
	case Ours:
		return Theirs
	case Theirs:
		return Ours
	}
	return s
}

// Why says what kind of conflict it is.
type Why string

// The kinds of conflicts.
const (
	Value   Why = "value"   // both gave it another value
	Item    Why = "item"    // both changed the same item of a list
	Order   Why = "order"   // both moved the same item of a list
	Removed Why = "removed" // one removed what the other changed
	Added   Why = "added"   // both added a record, or an item, under one name
	Used    Why = "used"    // one removed what the other came to use
	Unknown Why = "unknown" // both changed a key that this program does not know
)

// Conflict is one thing that both did otherwise. The merged show holds it as
// Held has it until it is settled.
type Conflict struct {
	Ref    timeline.Ref
	Name   string // what the crew calls the record, or ""
	In     string // title of the song that it lives in, or ""
	Why    Why
	Fields []string // those it is about; none = the record as a whole
	Held   Side
	// Says is what each side has, as files write it; a side that has nothing says
	// "". Base says nothing where there was none.
	Says    map[Side]string
	Options []Option
}

// Option is one choice: what it does to the show as it was merged. The choice
// that is held does nothing.
type Option struct {
	Side  Side   `json:"side"`
	Deeds []Deed `json:"deeds,omitempty"`
}

// Deed is one change of a record.
type Deed struct {
	Kind string      `json:"kind"`
	Song timeline.ID `json:"song,omitempty"`
	ID   timeline.ID `json:"id"`

	// One of these is done.
	Field   string                  `json:"field,omitempty"`  // becomes Value; or in its list From becomes To
	Value   *field.Value            `json:"value,omitempty"`  // of Field
	Nth     int                     `json:"nth,omitempty"`    // of the items of the text From, counted from 0
	From    string                  `json:"from,omitempty"`   // an item; "" = another one is added
	To      string                  `json:"to,omitempty"`     // what it becomes; "" = it goes
	Remove  bool                    `json:"remove,omitempty"` // the record goes
	Record  *map[string]field.Value `json:"record,omitempty"` // the record becomes this, what is left out has its default
	Rename  timeline.ID             `json:"rename,omitempty"` // in Field, what names this id names NewID
	NewID   timeline.ID             `json:"new,omitempty"`
	Unknown string                  `json:"unknown,omitempty"` // this unknown key has the value Raw; "" = it goes
	Raw     string                  `json:"raw,omitempty"`
}

func (d *Deed) ref() timeline.Ref { return timeline.Ref{Kind: d.Kind, Song: d.Song, ID: d.ID} }

func deedOn(r timeline.Ref) Deed { return Deed{Kind: r.Kind, Song: r.Song, ID: r.ID} }

// Option finds a choice, or nil.
func (c *Conflict) Option(s Side) *Option {
	i := slices.IndexFunc(c.Options, func(o Option) bool { return o.Side == s })
	if i < 0 {
		return nil
	}
	return &c.Options[i]
}

// Choices lists the sides that can be chosen.
func (c *Conflict) Choices() []Side {
	var list []Side
	for _, o := range c.Options {
		list = append(list, o.Side)
	}
	return list
}

// Key names the conflict among those of a show, the same on both sides.
func (c *Conflict) Key() string {
	key := c.Ref.String()
	if len(c.Fields) > 0 {
		key += " " + strings.Join(c.Fields, ",")
	}
	if c.Why == Item || c.Why == Added || c.Why == Removed || c.Why == Order {
		if len(c.Fields) > 0 {
			key += " " + c.itemKey()
		}
	}
	return key
}

// itemKey names the item that a conflict in a list is about.
func (c *Conflict) itemKey() string {
	for _, s := range []Side{Base, Ours, Theirs} {
		if c.Says[s] != "" {
			return identityOf(c.Says[s])
		}
	}
	return ""
}

// Settle gives the edit that makes a choice in the merged show. It takes away
// what the show keeps about the conflict as well, where it was stored.
func (c *Conflict) Settle(s Side) (timeline.Edit, error) {
	o := c.Option(s)
	if o == nil {
		var words []string
		for _, x := range c.Choices() {
			words = append(words, string(x))
		}
		return nil, fmt.Errorf("%q is no choice here; choose %s", s, strings.Join(words, ", "))
	}
	return func(d *timeline.Draft) error {
		for i := range o.Deeds {
			if err := o.Deeds[i].do(d); err != nil {
				return fmt.Errorf("%s cannot be settled for %s: %w", c.Key(), s, err)
			}
		}
		return drop(d, c)
	}, nil
}

// do makes the change.
func (d *Deed) do(in *timeline.Draft) error {
	k, r := timeline.KindOf(d.Kind), d.ref()
	if k == nil {
		return fmt.Errorf("there is no kind of record %q", d.Kind)
	}
	rec := k.Find(in.Show(), d.Song, d.ID)
	switch {
	case d.Record != nil:
		n := k.New(d.ID)
		if rec != nil {
			timeline.SetKept(n, timeline.KeptOf(rec))
		}
		for name, v := range *d.Record {
			f := k.Field(name)
			if f == nil {
				return fmt.Errorf("%s has no field %q", d.Kind, name)
			}
			if name == "slug" {
				v = d.slug(in, f, v)
			}
			if err := f.Set(n, v); err != nil {
				return err
			}
		}
		in.Put(d.Song, n)
		return nil
	case d.Remove && rec == nil:
		return nil // gone already
	case d.Remove:
		return in.Remove(r)
	case rec == nil:
		return fmt.Errorf("%s is not there any more", r)
	case d.Unknown != "":
		c := k.Clone(rec)
		timeline.SetKept(c, withUnknown(timeline.KeptOf(rec), d.Unknown, d.Raw))
		in.Put(d.Song, c)
		return nil
	}
	f := k.Field(d.Field)
	if f == nil {
		return fmt.Errorf("%s has no field %q", d.Kind, d.Field)
	}
	v := f.Get(rec)
	switch {
	case d.Value != nil:
		if v = *d.Value; d.Field == "slug" {
			v = d.slug(in, f, v)
		}
	case d.Rename != "":
		v = renamed(f, v, d.Rename, d.NewID)
	default:
		items, err := itemTurned(v.Items, d.From, d.To, d.Nth)
		if err != nil {
			return err
		}
		v = field.Value{Items: items}
	}
	return in.Set(r, d.Field, v)
}

// slug gives a name on disk that no other record of the kind has.
func (d *Deed) slug(in *timeline.Draft, f *field.Field, v field.Value) field.Value {
	v.Text = freeSlug(v.Text, func(s string) bool {
		return slices.ContainsFunc(timeline.KindOf(d.Kind).List(in.Show(), ""), func(r timeline.Record) bool { return r.RecordID() != d.ID && f.Get(r).Text == s })
	})
	return v
}

// itemTurned makes one item of a list another.
func itemTurned(items []string, from, to string, nth int) ([]string, error) {
	items = slices.Clone(items)
	if from == "" {
		return append(items, to), nil
	}
	i := -1
	for k, item := range items {
		if item == from && nth >= 0 {
			i = k
			nth--
		}
	}
	switch {
	case i < 0:
		return nil, fmt.Errorf("the list does not hold %q any more", from)
	case to == "":
		return slices.Delete(items, i, i+1), nil
	}
	items[i] = to
	return items, nil
}

// renamed gives a value of a field of references in which one id is another.
func renamed(f *timeline.Field, v field.Value, from, to timeline.ID) field.Value {
	if f.Type != field.ListType {
		if v.Text == string(from) {
			v.Text = string(to)
		}
		return v
	}
	items := slices.Clone(v.Items)
	for i, item := range items {
		if head, rest, more := strings.Cut(item, " "); head == string(from) {
			items[i] = string(to)
			if more {
				items[i] += " " + rest
			}
		}
	}
	return field.Value{Items: items}
}

func withUnknown(k *timeline.Kept, key, raw string) *timeline.Kept {
	c := timeline.Kept{}
	if k != nil {
		c = *k
	}
	c.Unknown = slices.Clone(c.Unknown)
	i := slices.IndexFunc(c.Unknown, func(p timeline.KeptPair) bool { return p.Key == key })
	switch {
	case i >= 0 && raw == "":
		c.Unknown = slices.Delete(c.Unknown, i, i+1)
	case i >= 0:
		c.Unknown[i].Raw = raw
	case raw != "":
		c.Unknown = append(c.Unknown, timeline.KeptPair{Key: key, Raw: raw})
	}
	return &c
}

// Said says in a sentence what a conflict is about.
func (c *Conflict) Said() string {
	name := c.Ref.Kind + " " + string(c.Ref.ID)
	if c.Name != "" {
		name = fmt.Sprintf("%s %q", c.Ref.Kind, c.Name)
	}
	if c.In != "" {
		name += fmt.Sprintf(" of song %q", c.In)
	}
	fields := strings.Join(c.Fields, " and ")
	switch c.Why {
	case Item:
		return fmt.Sprintf("%s: both changed the same of its %s", name, fields)
	case Order:
		return fmt.Sprintf("%s: both moved the same of its %s", name, fields)
	case Added:
		if fields != "" {
			return fmt.Sprintf("%s: both added the same to its %s, each otherwise", name, fields)
		}
		return name + ": both added one of this name, each otherwise"
	case Removed:
		who := map[Side]string{Ours: "theirs removed what ours changed", Theirs: "ours removed what theirs changed"}[c.Held]
		if fields != "" {
			return fmt.Sprintf("%s: of its %s %s", name, fields, who)
		}
		return name + ": " + who
	case Used:
		return name + ": " + map[Side]string{Ours: "theirs removed what ours came to use", Theirs: "ours removed what theirs came to use"}[c.Held]
	case Unknown:
		return fmt.Sprintf("%s: both changed the key %s, which this program does not know", name, fields)
	}
	return fmt.Sprintf("%s: both changed its %s", name, fields)
}
