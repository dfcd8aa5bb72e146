package timeline

import (
	"fmt"
	"slices"
)

// TonightsVersion has a night play another version of a song, in the song's place
// in the running order.
type TonightsVersion struct {
	Version ID // the song that is played
	For     ID // the song that the running order names
	Reason  string
}

const tonightsVersionWords = "song-id for=song-id reason="

// String writes the item form: `ember-short for=ember reason="curfew"`.
func (v TonightsVersion) String() string {
	var w itemWriter
	w.head(string(v.Version))
	w.pair("for", string(v.For))
	w.pair("reason", v.Reason)
	return w.String()
}

// ParseTonightsVersion reads the item form of a version that a night plays.
func ParseTonightsVersion(s string) (TonightsVersion, error) {
	r := readItem(s)
	v := TonightsVersion{Version: take2(r, r.head("the id of a song"), parseID)}
	v.For, v.Reason = take(r, "for", parseID), r.value("reason")
	if v.For == "" && r.err == nil {
		r.err = fmt.Errorf("says not in whose place; write for=song-id")
	}
	return v, r.done(tonightsVersionWords)
}

// version gives the song that a night plays where its running order names one.
func (n *Night) version(song ID) ID {
	if n != nil {
		for _, v := range n.Versions {
			if v.For == song {
				return v.Version
			}
		}
	}
	return song
}

// VersionTonight has a night play another version of a song; the one that the
// running order names ends that. The running order, and what a version plays, stay
// as they are, so that nothing is lost by going back.
func VersionTonight(night ID, v TonightsVersion) Edit {
	return EditNight(night, func(s *Show, n *Night) error {
		for _, id := range []ID{v.For, v.Version} {
			if s.Song(id) == nil {
				return &ValueError{Kind: "night", Field: "versions", Value: string(id), Want: "names no song of this show"}
			}
		}
		if err := s.checkVersion("night", "versions", v.For, v.Version); err != nil {
			return err
		}
		if set := s.SetOf(n); set != nil && set.entry(v.For) < 0 { // meant is the song that is played now
			for _, x := range n.Versions {
				if x.Version == v.For {
					v.For = x.For
				}
			}
		}
		same := func(x TonightsVersion) bool { return x.For == v.For }
		if v.Version == v.For {
			n.Versions = slices.DeleteFunc(n.Versions, same)
			return nil
		}
		n.Versions = replace(n.Versions, v, same)
		return nil
	})
}

// VersionInSet has a running order play another version of a song: in the first
// of its places, with what stands there, and with the refills that follow it.
func VersionInSet(id, song, version ID) Edit {
	return EditSet(id, func(s *Show, set *Set) error {
		k := set.entry(song)
		if k < 0 {
			return wrongEntry(s, song, "is not in the set; bring it in first")
		}
		if err := s.checkVersion("set", "entries", song, version); err != nil {
			return err
		}
		set.Entries[k].Song = version
		if set.entry(song) < 0 {
			for i := range set.Refills {
				if set.Refills[i].After == song {
					set.Refills[i].After = version
				}
			}
		}
		return nil
	})
}

// checkVersion refuses a song that is no version of another one.
func (s *Show) checkVersion(kind, field string, of, version ID) error {
	g := s.Song(version)
	if g == nil {
		return &ValueError{Kind: kind, Field: field, Value: string(version), Want: "names no song of this show"}
	}
	if s.SameSong(of, version) {
		return nil
	}
	want := fmt.Sprintf("is no version of %s", s.Named("song", of))
	if all := s.Versions(of); len(all) > 1 {
		want += ", which has " + songList(all)
	} else {
		want += ", which has no other; arrange new makes one"
	}
	return &ValueError{Kind: kind, Field: field, Value: g.FullTitle(), Want: want}
}

// place finds where a plan plays a song: the song itself, else where the running
// order names it and another version is played, else any version of it; -1 where
// it plays none. What is said of a song elsewhere, a key of the operator's plan or
// a refill, is so said of the version that is played.
func (p *Plan) place(song ID) int {
	for _, is := range []func(PlanSong) bool{
		func(ps PlanSong) bool { return ps.Song.ID == song },
		func(ps PlanSong) bool { return ps.Entry.Song == song },
		func(ps PlanSong) bool { return p.Show.SameSong(song, ps.Song.ID) },
	} {
		if i := slices.IndexFunc(p.Songs, is); i >= 0 {
			return i
		}
	}
	return -1
}

// venueFor gives a venue with what is said there of a song said of every version
// that is played as well: a ban or a performer does not end with another mix. Times
// in a song are those of one recording; for the others it is the whole song.
func (s *Show) venueFor(v *Venue, songs []PlanSong) *Venue {
	if v == nil {
		return nil
	}
	c := *v
	c.Performers, c.Clear = s.marksFor(v.Performers, songs), s.marksFor(v.Clear, songs)
	c.Windows = slices.Clone(v.Windows)
	for _, q := range v.Windows {
		for _, g := range s.otherVersions(q.Song, songs) {
			q.Song = g
			c.Windows = append(c.Windows, q)
		}
	}
	if len(c.Performers)+len(c.Clear)+len(c.Windows) == len(v.Performers)+len(v.Clear)+len(v.Windows) {
		return v
	}
	return &c
}

func (s *Show) marksFor(list []PlanMark, songs []PlanSong) []PlanMark {
	all := slices.Clone(list)
	for _, m := range list {
		for _, g := range s.otherVersions(m.Song, songs) {
			if !slices.ContainsFunc(list, func(o PlanMark) bool { return o.Song == g && o.Name == m.Name }) {
				m.Song, m.From, m.To = g, 0, 0
				all = append(all, m)
			}
		}
	}
	return all
}

// otherVersions lists the played songs that are other versions of one.
func (s *Show) otherVersions(song ID, songs []PlanSong) []ID {
	var list []ID
	for _, ps := range songs {
		if g := ps.Song; song != "" && g.ID != song && !slices.Contains(list, g.ID) && (g.VersionOf != "" || s.Song(song) != nil && s.Song(song).VersionOf != "") && s.SameSong(song, g.ID) {
			list = append(list, g.ID)
		}
	}
	return list
}
