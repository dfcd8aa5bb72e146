package carry

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// TakeAll is the word for all copies.
const TakeAll = "all"

// take marks the copies that the user wants: those of a section or record, or all.
func (p *Proposal) take(words []string) error {
	for _, w := range words {
		found := false
		for i := range p.Items {
			x := &p.Items[i]
			if w != TakeAll && string(x.Ref.ID) != w && !(strings.EqualFold(x.Section, w) && w != "") {
				continue
			}
			for k := range x.Copies {
				x.Copies[k].Taken, found = true, true
			}
		}
		if !found && w != TakeAll {
			return &timeline.ValueError{Field: "take", Value: w, Want: "names nothing that is heard more than once now; " + p.takes()}
		}
	}
	for i := range p.Items {
		if x := &p.Items[i]; x.Status == Copied && !slices.ContainsFunc(x.Copies, func(c Copy) bool { return !c.Taken }) {
			x.Status = p.statusOf(x)
		}
	}
	return nil
}

// takes says what can be taken.
func (p *Proposal) takes() string {
	var names []string
	for i := range p.Items {
		if x := &p.Items[i]; len(x.Copies) > 0 && x.Section != "" && !slices.Contains(names, x.Section) {
			names = append(names, x.Section)
		}
	}
	if len(names) == 0 {
		return "nothing is"
	}
	return "write all, or one of the sections " + strings.Join(names, ", ")
}

// statusOf says how an item came to its place, its copies aside.
func (p *Proposal) statusOf(x *Item) Status {
	i := p.passageOf(x.Is.Run)
	switch {
	case i < 0:
		return Check
	case p.Passages[i].Moved:
		return Moved
	case p.Passages[i].Exact:
		return Exact
	}
	return Matched
}

// Edit gives the edit that makes the proposal of the song as it was compared: one
// that has changed since is refused. Nothing is removed that is not set aside in the
// same edit.
func (p *Proposal) Edit() timeline.Edit {
	return func(d *timeline.Draft) error {
		if !p.stands(d.Show()) {
			return fmt.Errorf("song %q has changed since its recordings were compared; compare them again", p.Song.FullTitle())
		}
		p.putHead(d)
		p.putSharers(d)
		groups := map[together]timeline.ID{}
		for i := range p.Items {
			if err := p.put(d, &p.Items[i], groups); err != nil {
				return err
			}
		}
		for _, ph := range p.phrases {
			d.Put(p.Song.ID, ph)
		}
		for _, q := range p.added {
			d.Put(p.Song.ID, q)
		}
		return nil
	}
}

// stands reports whether the song is in a show as it was compared.
func (p *Proposal) stands(s *timeline.Show) bool {
	g := s.Song(p.Song.ID)
	if g == nil || g == p.Song {
		return g != nil
	}
	for _, k := range timeline.Kinds() {
		if k.Name == "song" && !k.Equal(&g.SongHead, &p.Song.SongHead) {
			return false
		}
		if k.InSong && !slices.EqualFunc(k.List(s, g.ID), k.List(p.show, g.ID), k.Equal) {
			return false
		}
	}
	return true
}

// putHead puts the recording, the beat map and the locks. The cues stand on the new
// recording from now on; those that somebody has to look at are noted.
func (p *Proposal) putHead(d *timeline.Draft) {
	h := p.Song.SongHead
	if a := p.Audio; a.Path != "" {
		a.Heard = h.Audio.Heard
		h.Audio = a
		h.Audio.PlacedOn = a.FileHash
	}
	if p.Start != nil {
		h.Start = *p.Start
	}
	if h.Beats = p.Beats; p.Heard {
		h.Confirmed = false
	}
	if runs, ok := p.mapped(); ok {
		h.Map = runs
	}
	h.Locks, h.Audio.Look = p.Locks, nil
	for i := range p.Items {
		if x := &p.Items[i]; x.Cue() && x.Look() {
			h.Audio.Look = append(h.Audio.Look, x.Ref.ID)
		}
	}
	d.Put("", &h)
}

// together are the cues of a group at one of the places where it is heard: a group of
// their own.
type together struct {
	group   timeline.ID
	passage int
}

// passageOf gives the passage that a run belongs to.
func (p *Proposal) passageOf(run int) int {
	return slices.IndexFunc(p.Passages, func(q Passage) bool { return q.First <= run && run <= q.Last })
}

// put puts one record at its place, with the copies that are taken, or sets it aside.
func (p *Proposal) put(d *timeline.Draft, x *Item, groups map[together]timeline.ID) error {
	switch {
	case x.Ref.Kind == timeline.AsideLock && x.Status == Lost:
		d.Put(p.Song.ID, &timeline.Aside{Base: timeline.Base{ID: p.options.NewID("aside")}, Kind: timeline.AsideLock, Fields: []string{x.text},
			Stood: x.Was, Time: x.WasAt, Recording: p.Song.Audio.FileHash, Why: x.Why})
		return nil
	case x.Ref.ID == "":
		return nil // part of the song's own record
	}
	r := timeline.KindOf(x.Ref.Kind).Find(p.show, p.Song.ID, x.Ref.ID)
	if x.Status == Lost {
		d.Put(p.Song.ID, timeline.SetAside(p.options.NewID("aside"), p.Song, r, x.Was, x.Why))
		return d.Remove(x.Ref)
	}
	if x.Ref.Kind == "phrase" {
		return nil
	}
	q := placed(r, *x.Is, x.Open, r.RecordID())
	if s, ok := q.(*timeline.Section); ok {
		s.To = x.To
	}
	if !timeline.KindOf(x.Ref.Kind).Equal(r, q) {
		d.Put(p.Song.ID, q)
	}
	for _, c := range x.Copies {
		if !c.Taken {
			continue
		}
		q := placed(r, c.Place, c.Open, p.options.NewID(x.Ref.Kind))
		timeline.SetKept(q, nil)
		if cue, ok := q.(*timeline.Cue); ok && cue.Group != "" {
			key := together{cue.Group, p.passageOf(c.Run)}
			if groups[key] == "" {
				groups[key] = p.options.NewID("cue")
			}
			cue.Group = groups[key]
		}
		d.Put(p.Song.ID, q)
	}
	return nil
}

// placed gives a record at another place, under an id.
func placed(r timeline.Record, at Place, open timeline.Time, id timeline.ID) timeline.Record {
	q := timeline.KindOfRecord(r).Clone(r)
	timeline.SetID(q, id)
	switch x := q.(type) {
	case *timeline.Cue:
		x.At = at.Moment
		if open > 0 {
			x.Open = open
		}
	case *timeline.Marker:
		x.At = at.Moment
	case *timeline.Section:
		x.At = at.Moment
	}
	return q
}
