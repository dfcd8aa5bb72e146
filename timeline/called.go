package timeline

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
)

// Called gives what the crew calls a record, as it stands in a sentence, on a
// sheet and in the window: its name; without one what it is, where it is and a
// number ("Jet 2 at Lip left", "IGN 1:7", "key 7"). Of several records of a kind
// that have the same name each says where it stands, or which one it is: "Jet
// (Lip left)", "Jet (2)". An id is never part of it, but of a setting, which is
// called after its rule. What lives in a song is named for somebody who knows
// which one; see CalledIn.
func (s *Show) Called(r Record) string { return s.CalledIn("", r) }

// CalledIn is Called of what lives in a song: apart from others in that song.
func (s *Show) CalledIn(song ID, r Record) string { return s.Names().called(song, r) }

// CalledBy gives what the crew calls the record of an id, which is of the first
// of several kinds that has it; what is in none of them keeps its id.
func (s *Show) CalledBy(id ID, kinds ...string) string { return s.Names().by(id, kinds...) }

// CalledOutput names an output of a bank or a head of a device shortly, as users
// write it as well: "IGN 1:7".
func (s *Show) CalledOutput(at OutputRef) string { return s.Names().output(at) }

// Called is Show.Called for a plan, which knows what is in its rig and stock.
func (p *Plan) Called(r Record) string {
	if part := kindOfRecord(r).Part; part == stockPart || part == rigPart {
		return p.Units.Called(r)
	}
	return p.Show.Called(r)
}

// Called gives what the crew calls a record of rig or stock, see Show.Called.
func (u *Units) Called(r Record) string { return u.names.called("", r) }

// Called gives what the crew calls a record of rig or stock, see Show.Called.
func (u *Unit) Called(r Record) string {
	if u.names == nil { // of no plan
		return kindOfRecord(r).NameOf(r)
	}
	return u.names.called("", r)
}

// Names is how the records of one show are called, as far as it was asked: kind by
// kind, since one name depends on all of its kind. Whoever names many records of a
// show asks one Names for all of them: Show.Called works a kind out each time. One
// goroutine at a time may ask it.
type Names struct {
	show *Show
	kept map[namesKey]map[ID]string
	full bool // all of rig and stock is kept, and nothing is kept any more: several may ask at once
}

type namesKey struct {
	kind *Kind
	song ID
}

// Names gives the names of a show's records, of which none is worked out yet.
func (s *Show) Names() *Names { return &Names{show: s, kept: map[namesKey]map[ID]string{}} }

// Called is Show.CalledIn.
func (n *Names) Called(song ID, r Record) string { return n.called(song, r) }

// namesOfRig gives the names of a show's rig and stock.
func namesOfRig(s *Show) *Names {
	n := s.Names()
	for _, k := range Kinds() {
		if k.Part == stockPart || k.Part == rigPart {
			n.of(k, "")
		}
	}
	n.full = true
	return n
}

func (n *Names) called(song ID, r Record) string {
	k := kindOfRecord(r)
	if name, ok := n.of(k, song)[r.base().ID]; ok {
		return name
	}
	if name := n.given(r); name != "" { // not in the show
		return name
	}
	what, where, _ := n.describe(r)
	return what + where
}

func (n *Names) by(id ID, kinds ...string) string {
	for _, kind := range kinds {
		k := KindOf(kind)
		if r := k.Find(n.show, "", id); !k.InSong && r != nil {
			return n.called("", r)
		}
	}
	return string(id)
}

func (n *Names) output(at OutputRef) string {
	return fmt.Sprintf("%s:%d", n.by(at.Driver, "bank", "device"), at.Output)
}

// of gives what all records of a kind are called, of what lives in a song those
// of one.
func (n *Names) of(k *Kind, song ID) map[ID]string {
	if !k.InSong {
		song = ""
	}
	if all, ok := n.kept[namesKey{k, song}]; ok {
		return all
	}
	if n.full {
		n = n.show.Names()
	}
	all := n.allCalled(k, song)
	n.kept[namesKey{k, song}] = all
	return all
}

// allCalled names all records of a kind.
func (n *Names) allCalled(k *Kind, song ID) map[ID]string {
	list := k.List(n.show, song)
	all, taken := make(map[ID]string, len(list)), make(map[string]bool, len(list))
	same := map[string][]Record{}
	for _, r := range list {
		if name := n.given(r); name != "" {
			key := strings.ToLower(name)
			all[r.base().ID], taken[key], same[key] = name, true, append(same[key], r)
		}
	}
	for _, r := range list {
		if key := strings.ToLower(n.given(r)); len(same[key]) > 1 {
			n.apart(song, same[key], all, taken)
			delete(same, key)
		}
	}
	for _, r := range list {
		if _, named := all[r.base().ID]; !named {
			what, where, numbered := n.describe(r)
			all[r.base().ID] = free(what, where, numbered, taken)
		}
	}
	return all
}

// apart tells records of one name apart: by where they stand where that is
// another place for each of them, else by a number.
func (n *Names) apart(song ID, same []Record, all map[ID]string, taken map[string]bool) {
	where := map[string]bool{"": true}
	for _, r := range same {
		where[strings.ToLower(n.whereOf(song, r))] = true
	}
	for _, r := range same {
		id := r.base().ID
		if at := n.whereOf(song, r); len(where) > len(same) {
			all[id] = free(all[id]+" ("+at, ")", false, taken)
		} else {
			all[id] = free(all[id]+" (", ")", true, taken)
		}
	}
}

// free puts a number between two parts of a name where one is asked for, or
// where others have the name, and takes it.
func free(what, rest string, numbered bool, taken map[string]bool) string {
	name := what + rest
	for n := 1; numbered || taken[strings.ToLower(name)]; n++ {
		gap := " "
		if strings.HasSuffix(what, "(") {
			gap = ""
		}
		name, numbered = fmt.Sprintf("%s%s%d%s", what, gap, n, rest), false
	}
	taken[strings.ToLower(name)] = true
	return name
}

// whereOf gives what tells a record apart from others of its name, or "".
func (n *Names) whereOf(song ID, r Record) string {
	at := func(position ID) string {
		if p := n.show.Rig.Position(position); p != nil {
			return n.called("", p)
		}
		return ""
	}
	switch r := r.(type) {
	case *Placed:
		return at(r.Position)
	case *Bank:
		return at(r.Position)
	case *Device:
		return at(r.Position)
	case *Wire:
		return "to " + n.by(r.Placed, "placed")
	case *Person:
		return string(r.Role)
	case *SongHead:
		return r.Slug
	case *Night:
		return cmp.Or(r.Date, r.Slug)
	case *Venue:
		return cmp.Or(r.Place, r.Slug)
	case *Lane:
		return n.by(r.Target, "group", "placed")
	case *Section:
		return r.At.String()
	case *Marker:
		return r.At.String()
	case *Phrase:
		return r.At.String()
	case *Cue:
		if l := findRecord(n.lanes(song), r.Lane); l != nil {
			return n.called(song, l)
		}
	}
	return ""
}

func (n *Names) lanes(song ID) []*Lane {
	if g := n.show.Song(song); g != nil {
		return g.Lanes
	}
	return nil
}

// given gives the name that a record has been given, or that its place says
// without more; "" where nothing does. A song is named with its version.
func (n *Names) given(r Record) string {
	if song, ok := r.(*SongHead); ok {
		return song.FullTitle()
	}
	if name := kindOfRecord(r).NameOf(r); name != "" {
		return name
	}
	switch r := r.(type) {
	case *Wire:
		return n.output(OutputRef{r.Driver, r.Output})
	case *HandCue:
		if r.Key > 0 {
			return "key " + strconv.Itoa(r.Key)
		}
		if len(r.Targets) > 0 {
			return "hand cue for " + n.by(r.Targets[0], "group", "placed")
		}
	case *Night:
		return cmp.Or(r.Date, r.Slug)
	case *Venue:
		return cmp.Or(r.Place, r.Slug)
	case *Cue:
		return "at " + r.At.String()
	case *Section:
		return "section at " + r.At.String()
	case *Marker:
		return "marker at " + r.At.String()
	case *Phrase:
		return fmt.Sprintf("phrase of %s at %s", n.by(r.Group, "group", "placed"), r.At)
	case *Aside:
		return r.Title()
	case *Lane:
		switch target := n.by(r.Target, "group", "placed"); {
		case target == "":
			return ""
		case r.Window():
			return fmt.Sprintf("%s of %s", r.Role, target)
		default:
			return target
		}
	}
	return ""
}

// describe says what a record is that nothing names, and where; numbered where
// that alone would as well mean its type.
func (n *Names) describe(r Record) (what, where string, numbered bool) {
	called := func(r Record, lost bool, other string) string {
		if lost {
			return other
		}
		return n.called("", r)
	}
	switch r := r.(type) {
	case *Placed:
		if p := n.show.Rig.Position(r.Position); p != nil {
			where = " at " + n.called("", p)
		}
		a := n.show.Stock.Article(r.Article)
		return called(a, a == nil, "placed effect"), where, true
	case *Bank:
		t := n.show.Stock.BankType(r.Type)
		return called(t, t == nil, "bank"), "", true
	case *Device:
		t := n.show.Stock.DeviceType(r.Type)
		return called(t, t == nil, "device"), "", true
	case *Article:
		return cmp.Or(string(r.Family), "article"), "", true
	case *DeviceType:
		return "device type", "", true
	case *BankType:
		return strings.TrimSpace(string(r.Kind) + " bank type"), "", true
	case *Supply:
		return strings.TrimSpace(r.Medium + " supply"), "", true
	case *Person:
		return cmp.Or(string(r.Role), "person"), "", true
	case *HandCue:
		return "hand cue", "", true
	case *Setting:
		return string(r.ID), "", false
	case *RuleSet:
		return "rule set", "", true
	case *Head:
		return "the show", "", false
	}
	return kindOfRecord(r).Name, "", true
}
