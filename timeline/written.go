package timeline

import (
	"strings"

	"emberbeat/timeline/field"
)

// Written gives a record as somebody writes it to mean it (see Plan.FindRecord):
// its kind and what it is called, of what lives in a song after the song's folder:
// `placed:"Jet left"`, `cue:ember/"at 17.1"`. What is not there keeps its id, as
// does a record whose name is the id of another one.
func (n *Names) Written(r Ref) string {
	before, name := n.address(r)
	if name == "" {
		return before
	}
	return before + quotedName(name)
}

// address gives what Written writes before the name, and the name; "" where there
// is none.
func (n *Names) address(r Ref) (before, name string) {
	k := KindOf(r.Kind)
	switch {
	case k == nil:
		return r.String(), ""
	case k.Name == "show":
		return "show", ""
	}
	rec := k.Find(n.show, r.Song, r.ID)
	if rec == nil {
		return r.String(), ""
	}
	if song, ok := rec.(*SongHead); ok {
		return "song:" + song.Slug, ""
	}
	name = n.called(r.Song, rec)
	if other := k.Find(n.show, r.Song, ID(name)); other != nil && other.RecordID() != r.ID {
		name = string(r.ID)
	}
	if g := n.show.Song(r.Song); g != nil && k.InSong {
		return k.Name + ":" + g.Slug + "/", name
	}
	return k.Name + ":", name
}

// quotedName puts a name that is more than one plain word in quotes.
func quotedName(name string) string {
	plain := func(c rune) bool {
		return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || strings.ContainsRune("-_.+", c)
	}
	if name != "" && strings.IndexFunc(name, func(c rune) bool { return !plain(c) }) < 0 {
		return name
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(name) + `"`
}

// unquotedName takes the quotes off a name that stands in them, by itself or
// after the song it lives in; any other text stays as it is.
func unquotedName(text string) string {
	i := strings.IndexByte(text, '"')
	if i < 0 || i > 0 && text[i-1] != '/' {
		return text
	}
	if name, next, err := field.ScanQuoted(text, i); err == nil && next == len(text) {
		return text[:i] + name
	}
	return text
}

// itemNames are the words of list items that name records by id: the key of each,
// and the kinds of which it names one.
var itemNames = map[string][]string{
	"article": {"article"}, "articles": {"article"}, "placed": {"placed"}, "bank": {"bank"}, "device": {"device"}, "unit": {"bank", "device"}, "wire": {"wire"},
	"lane": {"lane"}, "cue": {"cue"}, "song": {"song"}, "supply": {"supply"}, "after": {"song"}, "for": {"song"},
}

// Said gives the value of a field as it is read: records that it names, alone or
// in the items of a list, are called by their names. song is where the record of
// the field lives, "" for all others; of a song's own list of cues it is that song.
func (n *Names) Said(f *Field, song ID, v Value) string {
	if f.Type != ListField {
		switch {
		case v.Text == "":
			return ""
		case f.Name == "group" && len(f.Ref) == 0: // of cues that a phrase made
			return n.meant(song, ID(v.Text), "phrase")
		case len(f.Ref) == 0:
			return v.Text
		}
		return n.meant(song, ID(v.Text), f.Ref...)
	}
	items := make([]string, len(v.Items))
	for i, item := range v.Items {
		items[i] = n.SaidItem(f, song, item)
	}
	return field.Join(items)
}

// SaidItem is Said of one item of a list.
func (n *Names) SaidItem(f *Field, song ID, item string) string {
	switch {
	case f.Name == "look" || f.Name == "without":
		from := []ID{song}
		if g := n.show.Song(song); g != nil && f.Name == "without" {
			from = append(from, g.VersionOf)
		}
		for _, s := range from {
			if r := KindOf("cue").Find(n.show, s, ID(item)); r != nil {
				return n.called(s, r)
			}
		}
		return item
	case f.Name == "banned":
		return n.meant("", ID(item), "article")
	case f.Name == "scope":
		if key, id, ok := strings.Cut(item, "="); ok && len(itemNames[key]) > 0 {
			return key + "=" + quoteWord(n.meant("", ID(id), itemNames[key]...))
		}
		return item
	}
	words, err := ParseWords(item)
	if err != nil || len(words) == 0 || plainLists[f.Name] {
		return item
	}
	if len(words) == 1 && !words[0].Pair && len(f.Ref) > 0 {
		return n.meant(song, ID(words[0].Key), f.Ref...)
	}
	for i := range words {
		w := &words[i]
		switch {
		case i == 0 && !w.Pair && len(f.Ref) > 0:
			w.Key = n.meant(song, ID(w.Key), f.Ref...)
		case i == 0 && !w.Pair && f.Name == "outcomes":
			if at, err := parseOutputRef(w.Key); err == nil {
				w.Key = n.output(at)
			}
		case !w.Pair:
		case w.Key == "record":
			before, name := n.address(ParseRef(w.Value))
			w.Value = before + name
		case w.Key == "to" && f.Name == "swaps":
			w.Value = n.meant("", ID(w.Value), "article")
		case len(itemNames[w.Key]) > 0:
			ids := strings.Split(w.Value, ",")
			for k, id := range ids {
				ids[k] = n.meant("", ID(id), itemNames[w.Key]...)
			}
			w.Value = strings.Join(ids, ",")
		}
	}
	return words.String()
}

// plainLists are fields whose items are words of a person, in which nothing is
// named by id.
var plainLists = map[string]bool{"conditions": true, "quiet": true, "times": true, "emergency": true, "misfire": true, "hold": true, "flame-proof": true, "left-out": true}

// meant gives what a record of one of some kinds is called, which may live in the
// song or, where that is not given, in any; what is there in none keeps its id.
func (n *Names) meant(song, id ID, kinds ...string) string {
	for _, kind := range kinds {
		k := KindOf(kind)
		songs := []ID{song}
		if k.InSong && song == "" {
			songs = songs[:0]
			for _, g := range n.show.Songs {
				songs = append(songs, g.ID)
			}
		}
		for _, in := range songs {
			if r := k.Find(n.show, in, id); r != nil {
				return n.called(in, r)
			}
		}
	}
	return string(id)
}

// itemSaid is SaidItem of an item of a night's list.
func (s *Show) itemSaid(list, item string) string {
	return s.Names().SaidItem(KindOf("night").Field(list), "", item)
}
