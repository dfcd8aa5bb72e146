package report

import (
	"bytes"
	"encoding/json"
	"io"
	"slices"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// Records is the records of one kind as the show holds them, in the order a
// reader wants: those of a song by time, all others by id.
type Records struct {
	Kind    *timeline.Kind
	show    *timeline.Show
	entries []entry
}

type entry struct {
	song   *timeline.Song // nil for kinds that do not live in a song
	record timeline.Record
	at     *timeline.Moment
}

// NewRecords lists the records of a kind; the filter's song and bars count for
// what lives in songs, and songs come in the order of their timecode.
func NewRecords(s *timeline.Show, k *timeline.Kind, f Filter) *Records {
	l := &Records{Kind: k, show: s}
	if !k.InSong {
		for _, r := range k.List(s, "") {
			if k.Name != "song" || f.Shows(r.RecordID()) {
				l.entries = append(l.entries, entry{record: r})
			}
		}
		return l
	}
	for _, g := range s.SongsByStart() {
		if f.Shows(g.ID) {
			l.entries = append(l.entries, songEntries(s, g, k, f)...)
		}
	}
	return l
}

func songEntries(s *timeline.Show, g *timeline.Song, k *timeline.Kind, f Filter) []entry {
	var all []entry
	for _, r := range k.List(s, g.ID) {
		e := entry{g, r, MomentOf(r)}
		if t, known := e.time(); e.at == nil || f.Bars == nil || known && f.ShowsAt(g, t) {
			all = append(all, e)
		}
	}
	slices.SortStableFunc(all, func(a, b entry) int {
		ta, _ := a.time()
		tb, _ := b.time()
		return int(min(1, max(-1, ta-tb)))
	})
	return all
}

// MomentOf gives where a record stands in its song; nil for records without a
// time.
func MomentOf(r timeline.Record) *timeline.Moment {
	switch r := r.(type) {
	case *timeline.Cue:
		return &r.At
	case *timeline.Section:
		return &r.At
	case *timeline.Marker:
		return &r.At
	}
	return nil
}

// time is where the record stands in its song; false when it has no place or
// stands on a bar and the song has no beat map.
func (e entry) time() (timeline.Time, bool) {
	if e.at == nil {
		return 0, false
	}
	return e.at.In(e.song.Beats)
}

// Len is the number of records.
func (l *Records) Len() int { return len(l.entries) }

// Table gives the records for people: what each is called, the time in the song of
// what stands there, then the fields in which at least one of them differs from a
// new record. Where a field names other records, their names are shown; ids stand
// in JSON alone.
func (l *Records) Table() *wording.Table {
	t := &wording.Table{}
	if l.Kind.InSong {
		t.Columns = append(t.Columns, wording.Column{Name: "song"})
	}
	t.Columns = append(t.Columns, wording.Column{Name: l.Kind.Name})
	if l.placed() {
		t.Columns = append(t.Columns, wording.Column{Name: "time", Right: true})
	}
	fields := slices.DeleteFunc(l.usedFields(), func(f *timeline.Field) bool { return f.Name == "name" || f.Name == "title" })
	names := l.show.Names()
	for _, f := range fields {
		t.Columns = append(t.Columns, wording.Column{Name: f.Name + unitSuffix(l.show.Told().Unit(f.Unit)), Right: isNumber(f)})
	}
	for _, e := range l.entries {
		t.Rows = append(t.Rows, l.row(names, e, fields))
	}
	return t
}

// placed reports whether records of the kind stand at a place of a song.
func (l *Records) placed() bool { return len(l.entries) > 0 && l.entries[0].at != nil }

func (l *Records) row(names *timeline.Names, e entry, fields []*timeline.Field) []string {
	var row []string
	if e.song != nil {
		row = append(row, e.song.Slug)
	}
	row = append(row, names.Called(e.home(), e.record))
	if l.placed() {
		time := "no beat map"
		if at, ok := e.time(); ok {
			time = at.Clock(4)
		}
		row = append(row, time)
	}
	for _, f := range fields {
		row = append(row, wording.Shorten(l.said(names, e, f)))
	}
	return row
}

// said writes a field of a record: a measure in the units that the show is told in.
func (l *Records) said(names *timeline.Names, e entry, f *timeline.Field) string {
	return l.show.Told().Shown(f.Unit, names.Said(f, e.owner(), f.Get(e.record)))
}

// home gives the song that a record lives in, "" of none.
func (e entry) home() timeline.ID {
	if e.song == nil {
		return ""
	}
	return e.song.ID
}

// owner gives the song whose records a field can name: its own of a song.
func (e entry) owner() timeline.ID {
	if head, ok := e.record.(*timeline.SongHead); ok {
		return head.ID
	}
	return e.home()
}

func unitSuffix(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

func (l *Records) usedFields() []*timeline.Field {
	var used []*timeline.Field
	for i := range l.Kind.Fields {
		f := &l.Kind.Fields[i]
		if slices.ContainsFunc(l.entries, func(e entry) bool { return !f.Get(e.record).Equal(f.Default) }) {
			used = append(used, f)
		}
	}
	return used
}

// isNumber reports whether a field's text is a number: numbers, and lengths of
// time in seconds.
func isNumber(f *timeline.Field) bool {
	return f.Type == timeline.NumberField || f.Type == timeline.IntegerField || f.Type == timeline.TextField && f.Unit == "s"
}

// MarshalJSON gives the records as an array of objects with all their fields
// under their own names, besides id and, for what lives in a song, song and
// the time where it stands.
func (l *Records) MarshalJSON() ([]byte, error) {
	all := []Object{}
	for _, e := range l.entries {
		var o Object
		o.Add("id", string(e.record.RecordID()))
		if e.song != nil {
			o.Add("song", string(e.song.ID))
		}
		if t, ok := e.time(); ok {
			o.Add("time", wording.Seconds(t))
		}
		for i := range l.Kind.Fields {
			f := &l.Kind.Fields[i]
			o.Add(f.Name, jsonValue(f, f.Get(e.record)))
		}
		all = append(all, o)
	}
	return json.Marshal(all)
}

func jsonValue(f *timeline.Field, v timeline.Value) any {
	switch {
	case f.Type == timeline.ListField:
		return append([]string{}, v.Items...)
	case f.Type == timeline.FlagField:
		return v.Text == "true"
	case isNumber(f):
		return json.Number(v.Text)
	}
	return v.Text
}

// Object is a JSON object whose keys keep their order.
type Object struct {
	keys   []string
	values []any
}

// Add appends a key with its value.
func (o *Object) Add(key string, value any) {
	o.keys, o.values = append(o.keys, key), append(o.values, value)
}

// MarshalJSON writes the keys in the order they were added.
func (o Object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, key := range o.keys {
		if i > 0 {
			b.WriteByte(',')
		}
		for j, part := range []any{key, o.values[i]} {
			if j > 0 {
				b.WriteByte(':')
			}
			text, err := json.Marshal(part)
			if err != nil {
				return nil, err
			}
			b.Write(text)
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// WriteRecords writes several lists as one JSON object, each under the plural
// of its kind.
func WriteRecords(w io.Writer, lists ...*Records) error {
	var o Object
	for _, l := range lists {
		o.Add(l.Kind.Plural, l)
	}
	return wording.WriteJSON(w, o)
}
