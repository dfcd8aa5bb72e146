package timeline

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// FindSong finds the song a user means: by id, by slug, by title without
// regard to case, or by its number in the plan's running order, in this order.
// A version may stand in brackets after the title, `Ember (live)`; without
// it the song that has none is meant. The error lists what was possible.
func (p *Plan) FindSong(text string) (*Song, error) {
	s := p.Show
	if g := s.Song(ID(text)); g != nil {
		return g, nil
	}
	var named, versions []*Song
	for _, g := range s.Songs {
		switch {
		case g.Slug == text:
			return g, nil
		case strings.EqualFold(g.FullTitle(), text):
			named = append(named, g)
		case strings.EqualFold(g.Title, text):
			versions = append(versions, g)
		}
	}
	if len(named) == 0 {
		named = versions
	}
	switch len(named) {
	case 0:
		return p.songNumbered(text)
	case 1:
		return named[0], nil
	}
	return nil, fmt.Errorf("song %s could be %s; write the folder's name", quoted(text), songList(named))
}

func (p *Plan) songNumbered(text string) (*Song, error) {
	if n, err := strconv.Atoi(text); err == nil {
		for _, ps := range p.Songs {
			if ps.Number == n {
				return ps.Song, nil
			}
		}
	}
	if len(p.Show.Songs) == 0 {
		return nil, fmt.Errorf("song %s: the show has no songs yet", quoted(text))
	}
	return nil, fmt.Errorf("song %s is not in the show: write a title, folder or number of %s", quoted(text), songList(p.Show.SongsByStart()))
}

// FullTitle is the title with the version in brackets.
func (s *SongHead) FullTitle() string {
	if s.Version == "" {
		return s.Title
	}
	return s.Title + " (" + s.Version + ")"
}

func songList(songs []*Song) string {
	names := make([]string, len(songs))
	for i, g := range songs {
		names[i] = fmt.Sprintf("%q (%s)", g.FullTitle(), g.Slug)
	}
	return listSome(names)
}

// listSome joins names and stops after eight.
func listSome(names []string) string {
	const most = 8
	if len(names) > most {
		return strings.Join(names[:most], ", ") + fmt.Sprintf(" and %d more", len(names)-most)
	}
	return strings.Join(names, ", ")
}

// recordHelp ends every error about the text of a record.
const recordHelp = "write kind:name, for what lives in a song kind:song/name; a name may stand in quotes"

// FindRecord finds the record a user means: `show`, `article:co2-jet`,
// `placed:Jet left`, `lane:ember/CO2 left`, `cue:ember/c81k`. Ids are matched
// first, then names and what records without one are called (see Show.Called)
// without regard to case, then names of files; a name may stand in quotes, as
// refusals write it. A cue is also found by where it stands, `cue:ember/17.1`, and
// a hand cue by its key, `handcue:7`. Without a song, kinds that live in songs are looked
// for in all of them. The error lists what was possible.
func (p *Plan) FindRecord(text string) (Ref, error) {
	kindText, name, ok := strings.Cut(text, ":")
	k := KindOf(kindText)
	switch {
	case k == nil:
		return Ref{}, fmt.Errorf("record %s: %q is no kind of record; kinds: %s; %s", quoted(text), kindText, strings.Join(kindOrder, ", "), recordHelp)
	case k.Name == "show":
		return Ref{Kind: k.Name, ID: p.Show.Head.ID}, nil
	case !ok || name == "":
		return Ref{}, fmt.Errorf("record %s names no %s; %s", quoted(text), k.Name, recordHelp)
	case k.Name == "song":
		g, err := p.FindSong(unquotedName(name))
		if err != nil {
			return Ref{}, err
		}
		return Ref{Kind: k.Name, ID: g.ID}, nil
	}
	songs, name, err := p.songsToSearch(k, unquotedName(name))
	if err != nil {
		return Ref{}, err
	}
	return k.pick(p.Show, songs, name)
}

// FindOneOf finds the record a user means by a name or id that may be of several
// kinds, or by kind:name. The error lists what was possible.
func (p *Plan) FindOneOf(text string, kinds ...string) (Ref, error) {
	if kind, _, ok := strings.Cut(text, ":"); ok && slices.Contains(kinds, kind) {
		return p.FindRecord(text)
	}
	var found []Ref
	var failed []string
	for _, kind := range kinds {
		if ref, err := p.FindRecord(kind + ":" + text); err == nil {
			found = append(found, ref)
		} else {
			failed = append(failed, err.Error())
		}
	}
	switch len(found) {
	case 0:
		return Ref{}, fmt.Errorf("%s", strings.Join(failed, "; "))
	case 1:
		return found[0], nil
	}
	names := p.Show.Names()
	return Ref{}, fmt.Errorf("%q could be %s or %s; write the kind before it", text, names.Written(found[0]), names.Written(found[1]))
}

// songsToSearch splits `song/name` for kinds that live in songs.
func (p *Plan) songsToSearch(k *Kind, name string) (songs []ID, rest string, err error) {
	if !k.InSong {
		return []ID{""}, name, nil
	}
	if song, rest, ok := strings.Cut(name, "/"); ok {
		g, err := p.FindSong(song)
		if err == nil {
			return []ID{g.ID}, rest, nil
		}
		// A position such as 17.3+1/2 has a slash as well.
		if _, isPlace := ParsePosition(name); isPlace != nil {
			return nil, "", err
		}
	}
	for _, g := range p.Show.Songs {
		songs = append(songs, g.ID)
	}
	return songs, name, nil
}

// pick finds the one record of the kind that a name means.
func (k *Kind) pick(s *Show, songs []ID, name string) (Ref, error) {
	var found []Ref
	names := s.Names()
	for _, matches := range []func(song ID, r Record) bool{
		func(_ ID, r Record) bool { return string(r.RecordID()) == name },
		func(_ ID, r Record) bool { return strings.EqualFold(k.NameOf(r), name) },
		func(song ID, r Record) bool { return strings.EqualFold(names.called(song, r), name) },
		func(_ ID, r Record) bool { return k.Field("slug") != nil && k.Field("slug").Get(r).Text == name },
		func(_ ID, r Record) bool { return standsAt(r, name) },
	} {
		for _, song := range songs {
			for _, r := range k.List(s, song) {
				if matches(song, r) {
					found = append(found, k.ref(song, r.RecordID()))
				}
			}
		}
		if len(found) > 0 {
			break
		}
	}
	switch len(found) {
	case 0:
		return Ref{}, fmt.Errorf("%s %s is not in the show: %s", k.Name, quoted(name), k.choices(names, songs, name))
	case 1:
		return found[0], nil
	}
	return Ref{}, fmt.Errorf("%s %s could be %s", k.Name, quoted(name), written(names, found))
}

// standsAt reports whether a cue stands at the place that a text names, or a
// hand cue on the key of that number.
func standsAt(r Record, text string) bool {
	if h, isHand := r.(*HandCue); isHand {
		return h.Key > 0 && strconv.Itoa(h.Key) == text
	}
	c, isCue := r.(*Cue)
	if !isCue {
		return false
	}
	at, err := ParseMoment(text)
	return err == nil && at == c.At
}

// NameOf gives what the crew calls a record of the kind, or "" where the kind
// has no name.
func (k *Kind) NameOf(r Record) string {
	for _, field := range [...]string{"name", "title"} {
		if f := k.Field(field); f != nil {
			return f.Get(r).Text
		}
	}
	return ""
}

// choices lists the records of the kind, those first that are like the name
// that was looked for in vain.
func (k *Kind) choices(names *Names, songs []ID, name string) string {
	var like, refs []Ref
	for _, song := range songs {
		for _, r := range k.List(names.show, song) {
			ref := k.ref(song, r.RecordID())
			if alike(name, string(ref.ID)) || alike(name, names.called(song, r)) {
				like = append(like, ref)
			} else {
				refs = append(refs, ref)
			}
		}
	}
	refs = append(like, refs...)
	if len(refs) == 0 {
		return "there is no " + k.Name + " yet"
	}
	return "there is " + written(names, refs)
}

// alike reports whether one of two texts holds a word of the other's, of three
// letters or more, without regard to case.
func alike(a, b string) bool {
	a, b = strings.ToLower(a), strings.ToLower(b)
	holds := func(text, words string) bool {
		return slices.ContainsFunc(strings.FieldsFunc(words, func(c rune) bool { return c == ' ' || c == '-' }), func(w string) bool {
			return len(w) >= 3 && strings.Contains(text, w)
		})
	}
	return holds(a, b) || holds(b, a)
}

// written lists records as one of them is to be written.
func written(names *Names, refs []Ref) string {
	list := make([]string, len(refs))
	for i, ref := range refs {
		list[i] = names.Written(ref)
	}
	return listSome(list)
}

// FindNight finds a night by id, slug, date or name without regard to case.
func (s *Show) FindNight(text string) (*Night, error) {
	if n := s.Night(ID(text)); n != nil {
		return n, nil
	}
	var found []*Night
	called := s.Names()
	for _, n := range s.Nights {
		if n.Slug == text || n.Date == text || strings.EqualFold(n.Name, text) || strings.EqualFold(called.called("", n), text) {
			found = append(found, n)
		}
	}
	if len(found) == 1 {
		return found[0], nil
	}
	if len(s.Nights) == 0 {
		return nil, fmt.Errorf("night %s: the show has no nights yet", quoted(text))
	}
	list, all := "is not in the show: there is ", slices.Clone(s.Nights)
	if len(found) > 1 {
		list, all = "could be ", found
	}
	names := make([]string, len(all))
	for i, n := range all {
		names[i] = fmt.Sprintf("%q (%s)", called.called("", n), n.Slug)
	}
	return nil, fmt.Errorf("night %s %s%s", quoted(text), list, listSome(names))
}
