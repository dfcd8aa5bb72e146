package merge

import (
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// together lists fields that say one thing between them: half of one side's and
// half of the other's would be an output, a place or a recording that nobody chose.
var together = map[string][][]string{
	"song":     {{"audio", "file-hash", "pcm-hash", "heard", "sample-rate", "frames"}},
	"wire":     {{"unit", "output"}},
	"bank":     {{"space", "address"}},
	"device":   {{"space", "starts"}},
	"position": {{"x", "y", "z"}},
	"phrase":   {{"at", "to"}},
	"section":  {{"at", "to"}},
}

// fields merges a record that both have changed, field by field.
func (m *merger) fields(k *timeline.Kind, r timeline.Ref, b, o, t timeline.Record) timeline.Record {
	out := k.Clone(o)
	kept, clashing := keptBoth(timeline.KeptOf(b), timeline.KeptOf(o), timeline.KeptOf(t))
	timeline.SetKept(out, kept)
	for _, name := range clashing {
		m.unknown(r, name, b, o, t)
	}
	done := map[string]bool{}
	for i := range k.Fields {
		f := &k.Fields[i]
		if done[f.Name] {
			continue
		}
		group := []*field.Field{f}
		for _, names := range together[k.Name] {
			if slices.Contains(names, f.Name) {
				group = nil
				for _, name := range names {
					group = append(group, k.Field(name))
					done[name] = true
				}
			}
		}
		switch vb, vo, vt := valuesOf(group, b), valuesOf(group, o), valuesOf(group, t); {
		case equal(vo, vt), equal(vb, vt):
		case equal(vb, vo):
			setAll(group, out, vt)
		case len(group) == 1 && f.Type == field.ListType && m.list(k, r, f, out, b, vb[0].Items, vo[0].Items, vt[0].Items):
		default:
			m.values(r, group, vb, vo, vt)
		}
	}
	return out
}

func valuesOf(fields []*field.Field, r timeline.Record) []field.Value {
	out := make([]field.Value, len(fields))
	for i, f := range fields {
		out[i] = f.Get(r)
	}
	return out
}

func equal(a, b []field.Value) bool {
	return slices.EqualFunc(a, b, func(x, y field.Value) bool { return x.Equal(y) })
}

// setAll writes values that another record of the kind holds already.
func setAll(fields []*field.Field, r timeline.Record, vs []field.Value) {
	for i, f := range fields {
		_ = f.Set(r, vs[i])
	}
}

// values is a conflict about fields that both gave other values.
func (m *merger) values(r timeline.Ref, fields []*field.Field, b, o, t []field.Value) {
	c := Conflict{Ref: r, Why: Value, Held: Ours, Says: map[Side]string{Base: saidOf(fields, b), Ours: saidOf(fields, o), Theirs: saidOf(fields, t)}}
	for _, f := range fields {
		c.Fields = append(c.Fields, f.Name)
	}
	option := func(s Side, vs []field.Value) {
		x := Option{Side: s}
		for i, f := range fields {
			if !vs[i].Equal(o[i]) {
				d := deedOn(r)
				d.Field, d.Value = f.Name, &vs[i]
				x.Deeds = append(x.Deeds, d)
			}
		}
		c.Options = append(c.Options, x)
	}
	option(Ours, o)
	option(Theirs, t)
	option(Base, b)
	if len(fields) == 1 && fields[0].Name == "note" && o[0].Text != "" && t[0].Text != "" {
		option(Both, []field.Value{{Text: o[0].Text + "; " + t[0].Text}})
	}
	m.conflict(c)
}

func saidOf(fields []*field.Field, vs []field.Value) string {
	if len(fields) == 1 {
		return vs[0].String()
	}
	var parts []string
	for i, f := range fields {
		parts = append(parts, f.Name+"="+quoted(vs[i].String()))
	}
	return strings.Join(parts, " ")
}

func quoted(s string) string {
	if s == "" || strings.ContainsAny(s, ` "=;`) {
		return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
	}
	return s
}

// list merges a list that both have changed; false where what comes of it is no
// list that the field takes.
func (m *merger) list(k *timeline.Kind, r timeline.Ref, f *field.Field, out, b timeline.Record, base, ours, theirs []string) bool {
	items, clashes := lists(base, ours, theirs, f.Ref == nil && isPlain(base, ours, theirs))
	items = m.wordsChecked(k, f, b, items)
	if items == nil || f.Set(out, field.Value{Items: items}) != nil {
		return false
	}
	items = f.Get(out).Items
	whole := func(list []string) Deed {
		d := deedOn(r)
		d.Field, d.Value = f.Name, &field.Value{Items: list}
		return d
	}
	for _, x := range clashes {
		turn := func(from, to string) Deed {
			d := deedOn(r)
			d.Field, d.From, d.To, d.Nth = f.Name, from, to, x.nth
			return d
		}
		c := Conflict{Ref: r, Why: x.why, Fields: []string{f.Name}, Held: x.held, Says: map[Side]string{Base: x.base, Ours: x.ours, Theirs: x.theirs}, Options: []Option{{Side: x.held}}}
		add := func(s Side, d ...Deed) { c.Options = append(c.Options, Option{Side: s, Deeds: d}) }
		switch x.why {
		case Order:
			c.Says = map[Side]string{Base: placeIn(x.base, x.order[Base]), Ours: placeIn(x.base, x.order[Ours]), Theirs: placeIn(x.base, x.order[Theirs])}
			add(Theirs, whole(x.order[Theirs]))
			add(Base, whole(x.order[Base]))
		case Removed:
			held := x.ours + x.theirs
			add(x.held.other(), turn(held, ""))
			add(Base, turn(held, x.base))
		default:
			add(Theirs, turn(x.ours, x.theirs))
			if x.base != "" {
				add(Base, turn(x.ours, x.base))
			} else {
				add(Base, turn(x.ours, ""))
			}
			if !slices.Contains(items, x.theirs) && f.Ref == nil && f.Name != "beats" {
				add(Both, turn("", x.theirs))
			}
		}
		c.sort()
		m.conflict(c)
	}
	return true
}

// wordsChecked gives the items as the field writes them, or nil where one of them
// is none that it takes.
func (m *merger) wordsChecked(k *timeline.Kind, f *field.Field, b timeline.Record, items []string) []string {
	scratch := k.Clone(b)
	if f.Set(scratch, field.Value{Items: items}) != nil {
		return nil
	}
	if got := f.Get(scratch).Items; len(got) == len(items) {
		return got
	}
	return nil
}

// placeIn says where an item stands: after which other.
func placeIn(item string, list []string) string {
	switch i := slices.Index(list, item); {
	case i < 0:
		return ""
	case i == 0:
		return item + " first"
	default:
		return item + " after " + list[i-1]
	}
}

// unknown is a conflict about a key that this program does not know.
func (m *merger) unknown(r timeline.Ref, name string, b, o, t timeline.Record) {
	raw := func(rec timeline.Record) string {
		if k := timeline.KeptOf(rec); k != nil {
			return pairsByName(k.Unknown)[name].Raw
		}
		return ""
	}
	c := Conflict{Ref: r, Why: Unknown, Fields: []string{name}, Held: Ours, Says: map[Side]string{Base: raw(b), Ours: raw(o), Theirs: raw(t)}, Options: []Option{{Side: Ours}}}
	for _, x := range []struct {
		side Side
		raw  string
	}{{Theirs, raw(t)}, {Base, raw(b)}} {
		d := deedOn(r)
		d.Unknown, d.Raw = name, x.raw
		c.Options = append(c.Options, Option{Side: x.side, Deeds: []Deed{d}})
	}
	m.conflict(c)
}
