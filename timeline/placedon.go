package timeline

import (
	"cmp"
	"fmt"
	"slices"
)

// Elsewhere reports whether a song's cues were placed against another recording
// than the one it names now, and nobody has said since that they stand right.
func (s *Song) Elsewhere() bool {
	a := &s.Audio
	return len(s.Cues) > 0 && a.Path != "" && a.PlacedOn != "" && a.PlacedOn != a.FileHash
}

// stoodOn gives the recording that cues were placed against, as far as it is known.
func (a *Audio) stoodOn() string { return cmp.Or(a.PlacedOn, a.FileHash) }

// Strayed gives the song whose cues a version plays where these have been placed
// against another recording since it was said where they are in the version; else
// nil.
func (s *Show) Strayed(g *Song) *Song {
	base := s.LentBy(s.Song(g.ID))
	if base == nil || g.From == "" || base.Audio.stoodOn() == "" || base.Audio.stoodOn() == g.From {
		return nil
	}
	return base
}

// Doubted gives the cues of a song that were carried to its recording with doubt,
// and that nobody has looked at since.
func (s *Song) Doubted() []*Cue {
	var list []*Cue
	for _, id := range s.Audio.Look {
		if c := s.Cue(id); c != nil {
			list = append(list, c)
		}
	}
	return list
}

// ConfirmCues says that the cues of a song stand right on the recording it names
// now, whatever they were placed against.
func ConfirmCues(song ID) Edit {
	return func(d *Draft) error {
		g := d.show.Song(song)
		switch {
		case g == nil:
			return fmt.Errorf("song:%s: there is no such record", song)
		case len(d.show.Programmed(g).Cues) == 0:
			return fmt.Errorf("song %s has no cues yet; the first one stands on the recording of its day", quoted(g.FullTitle()))
		case g.Audio.FileHash == "":
			return fmt.Errorf("song %s names no recording by its hash; link it to one first", quoted(g.FullTitle()))
		}
		h := g.SongHead
		h.Audio.PlacedOn, h.Audio.Look = h.Audio.FileHash, nil
		if base := d.show.LentBy(g); base != nil {
			h.From = base.Audio.stoodOn()
		}
		d.Put("", &h)
		return nil
	}
}

// keepPlacedOn notes the recording that a song's first cues are placed against.
// Where cues of an older show have no such note, a change of the recording notes
// the one that was there before.
func (d *Draft) keepPlacedOn() {
	for id, g := range d.songs {
		if d.show.Song(id) != g {
			continue
		}
		was, a := d.base.Song(id), &g.Audio
		if g.Shares {
			if base := d.show.LentBy(g); base != nil && (was == nil || !was.Shares || !slices.Equal(was.Map, g.Map) || was.VersionOf != g.VersionOf) {
				a.PlacedOn, g.From = a.FileHash, base.Audio.stoodOn()
			}
			continue
		}
		g.From = ""
		switch {
		case len(g.Cues) == 0:
			a.PlacedOn = ""
		case a.PlacedOn != "":
		case was == nil || len(was.Cues) == 0:
			a.PlacedOn = a.FileHash
		case was.Audio.PlacedOn == "" && was.Audio.FileHash != a.FileHash:
			a.PlacedOn = was.Audio.FileHash
		}
	}
}
