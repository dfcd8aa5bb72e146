package merge

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// A conflict that nobody has settled yet is kept in the show as a table of its
// own, [[conflict]], among what files hold beyond the model: so it goes where the
// show goes, and whoever opens it has all choices still.

// Table is the name of such a table.
const Table = "[[conflict]]"

// Pair gives the conflict as a table of a file, for the record of a show or of
// one of its files to keep; prefix is that of the file.
func (c *Conflict) Pair(prefix string) timeline.KeptPair {
	options, err := json.Marshal(c.Options)
	if err != nil {
		panic(err) // it is made of texts
	}
	lines := []string{Table, "kind = " + text(c.Ref.Kind)}
	add := func(key, value string) {
		if value != "" {
			lines = append(lines, key+" = "+text(value))
		}
	}
	add("song", string(c.Ref.Song))
	add("id", string(c.Ref.ID))
	add("name", c.Name)
	add("in", c.In)
	add("why", string(c.Why))
	add("fields", strings.Join(c.Fields, " "))
	add("held", string(c.Held))
	for _, s := range []Side{Base, Ours, Theirs} {
		add(string(s), c.Says[s])
	}
	add("options", string(options))
	return timeline.KeptPair{Key: prefix + Table, Raw: strings.Join(lines, "\n"), Note: timeline.KeptKey{Above: []string{"# not settled yet: emberbeat merge SHOW --resolve"}}}
}

// text writes a text as TOML does: as it is in single quotes where that can be.
func text(s string) string {
	if !strings.ContainsAny(s, "'\n\r\t") {
		return "'" + s + "'"
	}
	b, _ := json.Marshal(s) // no text can fail; its escapes are those of TOML as well
	return string(b)
}

// readPair reads a table that Pair has written. owner is the song in whose files
// it stands, or ""; what lives in a song and names none lives in that one.
func readPair(raw string, owner timeline.ID) (Conflict, error) {
	c := Conflict{Says: map[Side]string{}}
	for _, line := range strings.Split(raw, "\n")[1:] {
		key, value, ok := strings.Cut(line, " = ")
		if !ok {
			continue
		}
		if strings.HasPrefix(value, "'") {
			value = strings.TrimSuffix(value[1:], "'")
		} else if err := json.Unmarshal([]byte(value), &value); err != nil {
			return c, fmt.Errorf("%s = %s is no text", key, value)
		}
		switch key {
		case "kind":
			c.Ref.Kind = value
		case "song":
			c.Ref.Song = timeline.ID(value)
		case "id":
			c.Ref.ID = timeline.ID(value)
		case "name":
			c.Name = value
		case "in":
			c.In = value
		case "why":
			c.Why = Why(value)
		case "fields":
			c.Fields = strings.Fields(value)
		case "held":
			c.Held = Side(value)
		case "options":
			if err := json.Unmarshal([]byte(value), &c.Options); err != nil {
				return c, fmt.Errorf("its choices cannot be read: %w", err)
			}
		default:
			c.Says[Side(key)] = value
		}
	}
	if timeline.KindOf(c.Ref.Kind) == nil || len(c.Options) == 0 {
		return c, fmt.Errorf("it does not say what it is about")
	}
	if owner != "" {
		if timeline.KindOf(c.Ref.Kind).InSong && c.Ref.Song == "" {
			c.Ref.Song = owner
		}
		for i := range c.Options {
			for j := range c.Options[i].Deeds {
				if d := &c.Options[i].Deeds[j]; timeline.KindOf(d.Kind) != nil && timeline.KindOf(d.Kind).InSong && d.Song == "" {
					d.Song = owner
				}
			}
		}
	}
	return c, nil
}

// holders lists the records that may keep such tables.
func holders(s *timeline.Show) []timeline.Record {
	list := []timeline.Record{s.Head}
	for _, g := range s.Songs {
		list = append(list, &g.SongHead)
	}
	for _, v := range s.Venues {
		list = append(list, v)
	}
	for _, n := range s.Nights {
		list = append(list, n)
	}
	return list
}

// Open lists the conflicts of a show that nobody has settled yet. A table that
// cannot be read is an error that names it; the others are given all the same.
func Open(s *timeline.Show) (list []Conflict, err error) {
	for _, r := range holders(s) {
		k := timeline.KeptOf(r)
		if k == nil {
			continue
		}
		for _, p := range k.Unknown {
			if !strings.HasSuffix(p.Key, Table) {
				continue
			}
			c, bad := readPair(p.Raw, songOf(r))
			if bad != nil {
				err = fmt.Errorf("a table %s of %s: %w; put it back as it was, or take it out", Table, timeline.KindOfRecord(r).Name, bad)
				continue
			}
			list = append(list, c)
		}
	}
	return list, err
}

func songOf(r timeline.Record) timeline.ID {
	if g, ok := r.(*timeline.SongHead); ok {
		return g.ID
	}
	return ""
}

// WithOpen gives a show that keeps conflicts to be settled later.
func WithOpen(s *timeline.Show, list []Conflict) *timeline.Show {
	if len(list) == 0 {
		return s
	}
	h := *s.Head
	kept := timeline.Kept{}
	if h.Kept != nil {
		kept = *h.Kept
	}
	kept.Unknown = slices.Clone(kept.Unknown)
	for i := range list {
		kept.Unknown = append(kept.Unknown, list[i].Pair(""))
	}
	h.Kept = &kept
	d := timeline.NewDraft(s)
	d.Put("", &h)
	return d.Show()
}

// drop takes the table of a conflict out of the show, if it has one.
func drop(d *timeline.Draft, c *Conflict) error {
	for _, r := range holders(d.Show()) {
		k := timeline.KeptOf(r)
		if k == nil {
			continue
		}
		i := slices.IndexFunc(k.Unknown, func(p timeline.KeptPair) bool {
			if !strings.HasSuffix(p.Key, Table) {
				return false
			}
			x, err := readPair(p.Raw, songOf(r))
			return err == nil && x.Key() == c.Key()
		})
		if i < 0 {
			continue
		}
		rest := *k
		rest.Unknown = slices.Delete(slices.Clone(k.Unknown), i, i+1)
		n := timeline.KindOfRecord(r).Clone(r)
		timeline.SetKept(n, &rest)
		d.Put("", n)
		return nil
	}
	return nil
}

// OfLoneSong takes the song out of the conflict, where it is stored in a file of
// that song and read from there.
func (c *Conflict) OfLoneSong() {
	c.Ref.Song = ""
	for i := range c.Options {
		for j := range c.Options[i].Deeds {
			c.Options[i].Deeds[j].Song = ""
		}
	}
}

// Beside is a conflict about something that both added under one name, each with a
// record of its own: ours is held, and theirs comes in its place or beside it, with
// what lives in it.
func Beside(ours timeline.Ref, of *timeline.Show, theirs timeline.Ref, from *timeline.Show) (*Conflict, error) {
	k := timeline.KindOf(ours.Kind)
	o, t := k.Find(of, "", ours.ID), k.Find(from, "", theirs.ID)
	if o == nil || t == nil || ours.Kind != theirs.Kind {
		return nil, fmt.Errorf("%s and %s are no records of one file", ours, theirs)
	}
	var bring []Deed
	put := func(k *timeline.Kind, r timeline.Ref, rec timeline.Record) {
		d := deedOn(r)
		d.Record = fieldsOf(k, rec)
		bring = append(bring, d)
	}
	put(k, theirs, t)
	if k.Name == "song" {
		for _, in := range timeline.Kinds() {
			if in.InSong {
				for _, rec := range in.List(from, theirs.ID) {
					put(in, timeline.Ref{Kind: in.Name, Song: theirs.ID, ID: rec.RecordID()}, rec)
				}
			}
		}
	}
	gone := deedOn(ours)
	gone.Remove = true
	return &Conflict{Ref: ours, Name: k.NameOf(o), Why: Added, Held: Ours, Says: map[Side]string{Ours: said(k, o, nil), Theirs: said(k, t, nil)},
		Options: []Option{{Side: Ours}, {Side: Theirs, Deeds: append([]Deed{gone}, bring...)}, {Side: Both, Deeds: bring}}}, nil
}
