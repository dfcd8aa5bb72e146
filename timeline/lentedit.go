package timeline

import (
	"fmt"
	"slices"
)

// Sharing is how a version's own records stand to those of the song that it is to
// share with.
type Sharing struct {
	Same    []Ref    // own records that say what the shared ones will: they go
	Own     []Ref    // own records that differ, or have no shared one: they stay
	Without []ID     // shared cues that the version has not: it goes without them
	Astray  []Astray // shared cues that have no place in it
	Again   int      // places at which shared cues are heard once more, and play only where the version says so
	Unsure  int      // cues that a stretch of the map places that nobody is sure of
}

// SharingOf says what sharing its cues would come to for a version. Nothing is
// lost: what differs stays the version's own. The error says why it cannot share.
func (s *Show) SharingOf(song ID, twice bool) (*Sharing, error) {
	g := s.Song(song)
	if g == nil {
		return nil, fmt.Errorf("song:%s: there is no such record", song)
	}
	if g.VersionOf == "" || s.Song(g.VersionOf) == nil {
		return nil, fmt.Errorf("song %s is no version of another song, so there are no cues to share; say of which first: emberbeat edit SHOW song:%s version-of=SONG", quoted(g.FullTitle()), song)
	}
	bare := &Song{SongHead: g.SongHead}
	bare.Shares, bare.Twice, bare.Without = true, twice, nil
	base := s.LentBy(bare)
	if base == nil {
		return nil, fmt.Errorf("song %s and %s are versions of each other; say which is the first of them", quoted(g.FullTitle()), quoted(s.Song(g.VersionOf).FullTitle()))
	}
	base = s.Programmed(base)
	of := lend(base, bare)
	x := &Sharing{Astray: of.Astray}
	for _, q := range of.Cues {
		if own := g.Cue(q.ID); own == nil && q.again == "" && len(g.Cues) > 0 {
			x.Without = append(x.Without, q.ID)
		}
	}
	for _, kind := range []string{"lane", "phrase", "cue", "section", "marker"} {
		var same, own []Ref
		k := KindOf(kind)
		for _, r := range k.List(s, song) {
			if ref := (Ref{kind, song, r.RecordID()}); of.plays(k, g, r) {
				same = append(same, ref)
			} else {
				own = append(own, ref)
			}
		}
		if kind == "section" && len(own)+len(of.Sections)-len(same) > 0 || kind == "marker" && len(own)+len(of.Markers)-len(same) > 0 {
			same, own = nil, append(same, own...) // own ones stand for all shared ones
		}
		x.Same, x.Own = append(x.Same, same...), append(x.Own, own...)
	}
	x.count(base, g)
	return x, nil
}

// plays reports whether a shared song plays a record just as a version's own.
func (g *Song) plays(k *Kind, own *Song, r Record) bool {
	var list []Record
	switch r.(type) {
	case *Lane:
		list = records(g.Lanes)
	case *Phrase:
		list = records(g.Phrases)
	case *Section:
		list = records(g.Sections)
	case *Marker:
		list = records(g.Markers)
	case *Cue:
		list = records(g.Cues)
	}
	return slices.ContainsFunc(list, func(x Record) bool { return k.alike(x, r, own) })
}

// alike compares records by their fields; a place that is told in another way is
// the same, and a second playing has an id of its own.
func (k *Kind) alike(shared, own Record, of *Song) bool {
	if q, ok := shared.(*Cue); shared.RecordID() != own.RecordID() && (!ok || q.again == "") || !equalKept(own.base().Kept, nil) {
		return false
	}
	for i := range k.Fields {
		f := &k.Fields[i]
		a, b := f.Get(shared), f.Get(own)
		if a.Equal(b) {
			continue
		}
		x, err1 := ParseMoment(a.Text)
		y, err2 := ParseMoment(b.Text)
		if f.Name != "at" && f.Name != "to" || err1 != nil || err2 != nil {
			return false
		}
		s, ok1 := x.In(of.Beats)
		t, ok2 := y.In(of.Beats)
		if !ok1 || !ok2 || s.RoundTo(EntryStep) != t.RoundTo(EntryStep) {
			return false
		}
	}
	return true
}

// count counts places that nobody is sure of, and those that are heard again.
func (x *Sharing) count(base, g *Song) {
	if len(g.Map) == 0 {
		return
	}
	way := g.TimeMap(&base.SongHead)
	for _, q := range base.Cues {
		at, ok := q.At.In(base.Beats)
		if !ok {
			continue
		}
		places := way.Places(at)
		x.Again += max(0, len(places)-1)
		if len(places) > 0 && way.Runs[places[0].Run].Sure < LeastSure {
			x.Unsure++
		}
	}
}

// ShareCues has a version play the cues of the song that it is a version of, at
// their places in its own recording. Own records that say the same go, all others
// stay its own, and what it had not it goes without: it plays what it played. A
// version without cues of its own gets all that have a place in it. Twice says
// whether what is heard twice in it plays twice.
func ShareCues(song ID, twice bool) Edit {
	return func(d *Draft) error {
		x, err := d.show.SharingOf(song, twice)
		if err != nil {
			return err
		}
		g := d.show.Song(song)
		if g.Shares && g.Twice == twice {
			return fmt.Errorf("song %s shares the cues of %s already", quoted(g.FullTitle()), quoted(d.show.Song(g.VersionOf).FullTitle()))
		}
		h := g.SongHead
		if !g.Shares {
			h.Without = x.Without
		}
		h.Shares, h.Twice = true, twice
		d.Put("", &h)
		if g.Shares {
			return nil
		}
		for _, r := range x.Same {
			if err := d.Remove(r); err != nil {
				return err
			}
		}
		return nil
	}
}

// SeparateCues gives a version that shares its cues copies of its own of all that
// it plays; from then on a change of the one song is none of the other's. What has
// no place in it is not copied.
func SeparateCues(song ID) Edit {
	return func(d *Draft) error {
		g := d.show.Song(song)
		if g == nil {
			return fmt.Errorf("song:%s: there is no such record", song)
		}
		if d.show.LentBy(g) == nil {
			return fmt.Errorf("song %s shares no cues: they are its own", quoted(g.FullTitle()))
		}
		of := d.show.Programmed(g)
		h := g.SongHead
		h.Shares, h.Without = false, nil
		d.Put("", &h)
		own := func(list []Record, clear func(Record)) {
			for _, r := range list {
				k := kindOfRecord(r)
				if ref := of.RefOf(k.Name, r.RecordID()); ref.Song == song && ref.ID == r.RecordID() {
					continue
				}
				c := k.Clone(r)
				c.base().Kept = nil
				clear(c)
				d.Put(song, c)
			}
		}
		nothing := func(Record) {}
		own(records(of.Lanes), nothing)
		own(records(of.Phrases), nothing)
		own(records(of.Sections), nothing)
		own(records(of.Markers), nothing)
		own(records(of.Cues), func(r Record) { r.(*Cue).again = "" })
		return nil
	}
}

// GoWithout has a version that shares its cues leave some of them out, or play
// them again.
func GoWithout(song ID, again bool, cues ...ID) Edit {
	return func(d *Draft) error {
		g := d.show.Song(song)
		if g == nil {
			return fmt.Errorf("song:%s: there is no such record", song)
		}
		base := d.show.LentBy(g)
		if base == nil {
			return fmt.Errorf("song %s shares no cues: they are its own", quoted(g.FullTitle()))
		}
		base = d.show.Programmed(base)
		h := g.SongHead
		h.Without = slices.Clone(h.Without)
		for _, id := range cues {
			i := slices.Index(h.Without, id)
			switch {
			case again && i >= 0:
				h.Without = slices.Delete(h.Without, i, i+1)
			case again:
				return fmt.Errorf("song %s does not go without its cue %s", quoted(g.FullTitle()), d.show.Names().meant(base.ID, id, "cue"))
			case base.Cue(id) == nil:
				return fmt.Errorf("song %s has no cue %s that %s could go without", quoted(base.FullTitle()), id, quoted(g.FullTitle()))
			case i < 0:
				h.Without = append(h.Without, id)
			}
		}
		d.Put("", &h)
		return nil
	}
}

// MapVersion says where the recording of the song that a version shares with is in
// its own; no run is bar for bar.
func MapVersion(song ID, runs ...TimeRun) Edit {
	return func(d *Draft) error {
		g := d.show.Song(song)
		if g == nil {
			return fmt.Errorf("song:%s: there is no such record", song)
		}
		base := d.show.Song(g.VersionOf)
		if base == nil {
			return fmt.Errorf("song %s is no version of another song, so there is nothing to map", quoted(g.FullTitle()))
		}
		h := g.SongHead
		h.Map = slices.Clone(runs)
		if err := h.TimeMap(&base.SongHead).Check(); err != nil {
			return fmt.Errorf("map of %s: %w", quoted(g.FullTitle()), err)
		}
		d.Put("", &h)
		return nil
	}
}

// NewVersion is a version of a song that is made.
type NewVersion struct {
	ID    ID
	Of    ID
	Name  string
	Start Timecode // of its own
}

// AddVersion adds a version of a song: with its title, recording, length, beats
// and metre, and sharing its cues, until it is given others. No running order plays
// it yet.
func AddVersion(v NewVersion) Edit {
	return func(d *Draft) error {
		of := d.show.Song(v.Of)
		switch {
		case of == nil:
			return fmt.Errorf("song:%s: there is no such record", v.Of)
		case d.show.Song(v.ID) != nil:
			return fmt.Errorf("song:%s is there already; choose another id", v.ID)
		case CleanText(v.Name) == "":
			return &ValueError{Kind: "song", Field: "version", Value: v.Name, Want: "says nothing; write what makes it another version, such as festival edit"}
		}
		for _, g := range d.show.Versions(v.Of) {
			if g.Version == v.Name {
				return &ValueError{Kind: "song", Field: "version", Value: v.Name, Want: "is there already: " + d.show.NamedRef(Ref{Kind: "song", ID: g.ID})}
			}
		}
		h := of.SongHead
		h.Base = Base{ID: v.ID}
		h.Version, h.VersionOf, h.Shares = v.Name, of.ID, true
		h.Map, h.Twice, h.Without, h.Note = nil, false, nil, ""
		h.Audio.PlacedOn, h.From, h.Start = "", "", v.Start
		h.Slug = d.show.FreeSlug(KindOf("song"), h.FullTitle())
		d.Put("", &h)
		return nil
	}
}
