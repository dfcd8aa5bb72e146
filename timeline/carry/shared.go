package carry

import (
	"cmp"
	"slices"

	"emberbeat/timeline"
)

// Versions that share the cues of a song play them where a map says, from that song's
// recording to their own. When either recording becomes another one, the map goes
// through the one that was found.

// through gives the map of two that follow each other.
func through(first, then []timeline.TimeRun) []timeline.TimeRun {
	var list []timeline.TimeRun
	for _, b := range then {
		for _, a := range first {
			lo, hi := max(a.New, b.Old), min(a.NewEnd, b.OldEnd)
			if lo >= hi {
				continue
			}
			r := timeline.TimeRun{Old: a.Back(lo), OldEnd: a.Back(hi), New: b.Forward(lo), NewEnd: b.Forward(hi), Exact: a.Exact && b.Exact, Sure: min(a.Sure, b.Sure)}
			if r.Old < r.OldEnd && r.New < r.NewEnd {
				list = append(list, r)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b timeline.TimeRun) int { return cmp.Compare(a.New, b.New) })
	return list
}

// back gives the way from the new recording to the old one. Where the old is heard more
// than once in the new, the place that kept its order leads back.
func (p *Proposal) back() []timeline.TimeRun {
	var list []timeline.TimeRun
	for _, moved := range []bool{false, true} {
		for _, q := range p.Passages {
			if q.Moved != moved {
				continue
			}
			for _, r := range p.Map.Runs[q.First : q.Last+1] {
				b := timeline.TimeRun{Old: r.New, OldEnd: r.NewEnd, New: r.Old, NewEnd: r.OldEnd, Exact: r.Exact, Sure: r.Sure}
				rest := []timeline.TimeRun{b}
				for _, x := range list {
					var next []timeline.TimeRun
					for _, y := range rest {
						next = append(next, without(y, x.New, x.NewEnd)...)
					}
					rest = next
				}
				list = append(list, rest...)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b timeline.TimeRun) int { return cmp.Compare(a.New, b.New) })
	return list
}

// ways gives the map of a version that shares with a song, none where it goes by bars.
func ways(base, version *timeline.SongHead) []timeline.TimeRun {
	if len(version.Map) > 0 {
		return version.Map
	}
	if a, b := base.Audio.FileHash, version.Audio.FileHash; a == "" || a != b {
		return nil
	}
	d := base.Duration()
	return []timeline.TimeRun{{OldEnd: d, NewEnd: d, Exact: true, Sure: 1000}}
}

// sharers lists the versions that play the song's cues.
func (p *Proposal) sharers(s *timeline.Show) []*timeline.Song {
	return slices.DeleteFunc(slices.Clone(s.Songs), func(v *timeline.Song) bool { return !v.Shares || v.VersionOf != p.Song.ID || v.ID == p.Song.ID })
}

// putSharers gives versions that play the song's cues their map from its new recording.
// One that goes by bars alone is left, and is told by the rules.
func (p *Proposal) putSharers(d *timeline.Draft) {
	back := p.back()
	for _, v := range p.sharers(d.Show()) {
		way := ways(&p.Song.SongHead, &v.SongHead)
		runs := through(back, way)
		if p.Audio.Path == "" || len(way) == 0 || slices.Equal(runs, v.Map) {
			continue
		}
		h := v.SongHead
		h.Map = runs
		d.Put("", &h)
	}
}

// mapped gives the map of a song that plays another one's cues, from that one's
// recording to its new one; ok is false for all other songs.
func (p *Proposal) mapped() (runs []timeline.TimeRun, ok bool) {
	base := p.show.Song(p.Song.VersionOf)
	if !p.Song.Shares || base == nil {
		return nil, false
	}
	runs = through(ways(&base.SongHead, &p.Song.SongHead), p.Map.Runs)
	return runs, len(runs) > 0
}

// noteSharers tells what becomes of versions.
func (c *carrier) noteSharers(p *Proposal) {
	if base := c.show.Song(c.song.VersionOf); c.song.Shares && base != nil {
		if _, ok := p.mapped(); ok {
			c.note("it plays the cues of %q, which go to their places in the new recording by its map", base.FullTitle())
		} else {
			c.note("it plays the cues of %q bar by bar, and nothing says where they are in its recording", base.FullTitle())
		}
	}
	lost := p.Counts().Lost
	for _, v := range p.sharers(c.show) {
		switch {
		case len(ways(&c.song.SongHead, &v.SongHead)) == 0:
			c.note("%q plays its cues bar by bar: look there as well", v.FullTitle())
		case lost > 0:
			c.note("%q plays its cues as well, and will not play what is set aside; give it cues of its own before, if it should", v.FullTitle())
		}
	}
}
