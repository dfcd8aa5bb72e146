package timeline

import "fmt"

// PutPhrase gives the edit that runs a phrase: it stores its settings and makes
// its cues anew, in the place of those it made before. newID hands in ids of
// cues that the song does not have. A phrase that would break the recovery, the
// open time or the single use of an article in its song changes nothing; its
// error says what would be valid.
func PutPhrase(song ID, p *Phrase, newID func() ID) Edit {
	return func(d *Draft) error {
		r, err := newPhraseRun(d, song, p)
		if err != nil {
			return err
		}
		places, err := r.song.Beats.Repeat(p.At, p.Every, p.Until)
		if err != nil {
			return err
		}
		trial, err := r.try(p.Every)
		if err != nil {
			return err
		}
		if err := r.check(trial, places); err != nil {
			return err
		}
		return r.store(d, places, newID)
	}
}

// phraseRun is one phrase being worked out on a draft.
type phraseRun struct {
	base    *Show // without the cues the phrase made before
	song    *Song
	lane    *Lane
	phrase  *Phrase
	members []ID
	whole   bool // the members are all of the group
	gone    []Ref
}

func newPhraseRun(d *Draft, songID ID, p *Phrase) (*phraseRun, error) {
	song := d.show.Song(songID)
	if song == nil {
		return nil, fmt.Errorf("the show has no song %q", songID)
	}
	r := &phraseRun{song: song, phrase: p, lane: song.Lane(p.Lane)}
	switch {
	case r.lane == nil:
		return nil, &ValueError{Kind: "phrase", Field: "lane", Value: string(p.Lane), Want: "names no lane of this song"}
	case r.lane.Locked:
		return nil, &ValueError{Kind: "phrase", Field: "lane", Value: r.lane.Name, Want: "is locked; unlock it or choose another lane"}
	case r.lane.Window():
		return nil, &ValueError{Kind: "phrase", Field: "lane", Value: r.lane.Name, Want: fmt.Sprintf("holds %s windows; a phrase needs a lane of hits", r.lane.Role)}
	}
	if err := r.findMembers(d.show); err != nil {
		return nil, err
	}
	return r, r.clear(d.show)
}

// findMembers gives the placed effects in the phrase's order.
func (r *phraseRun) findMembers(s *Show) (err error) {
	rig := s.Rig
	all := []ID{r.phrase.Group}
	if g := rig.Group(r.phrase.Group); g != nil {
		all = g.Members
	} else if rig.PlacedEffect(r.phrase.Group) == nil {
		return &ValueError{Kind: "phrase", Field: "target", Value: string(r.phrase.Group), Want: "names no group or placed of this show"}
	}
	if r.members, err = rig.Arrange(all, r.phrase.Order); err != nil {
		return err
	}
	if len(r.members) == 0 {
		return &ValueError{Kind: "phrase", Field: "target", Value: s.CalledBy(r.phrase.Group, "group", "placed"), Want: "has no members in the order " + string(r.phrase.Order)}
	}
	r.whole = len(r.members) == len(all)
	return nil
}

// clear takes away the cues of an earlier run.
func (r *phraseRun) clear(s *Show) error {
	for _, c := range r.song.Cues {
		if c.Group != r.phrase.ID {
			continue
		}
		if c.Locked {
			return &ValueError{Kind: "cue", Field: "locked", Value: "true", Want: fmt.Sprintf("keeps the cue at %s where it is; unlock it to run its phrase again", c.At)}
		}
		r.gone = append(r.gone, Ref{"cue", r.song.ID, c.ID})
	}
	d := NewDraft(s)
	for _, ref := range r.gone {
		if err := d.Remove(ref); err != nil {
			return err
		}
	}
	r.base = d.Show()
	return nil
}

// cues gives the cues of the phrase at its places, named by newID.
func (r *phraseRun) cues(places []Moment, newID func() ID) []*Cue {
	var cues []*Cue
	for k, step := range r.phrase.steps(len(r.members), len(places)) {
		for _, target := range r.targets(step) {
			cues = append(cues, &Cue{Base: Base{ID: newID()}, Lane: r.lane.ID, Target: unless(r.lane.Target, target), At: places[k],
				Open: r.open(places), Level: r.phrase.Level, Group: r.phrase.ID})
		}
	}
	return cues
}

// targets gives what the cues of one step aim at: the group itself where all
// of it is meant.
func (r *phraseRun) targets(step []int) []ID {
	if r.whole && len(step) == len(r.members) && len(step) > 1 {
		return []ID{r.phrase.Group}
	}
	var ids []ID
	for _, i := range step {
		ids = append(ids, r.members[i])
	}
	return ids
}

// open is the open time of the cues: of a sustained phrase from its first place
// to its last.
func (r *phraseRun) open(places []Moment) Time {
	if r.phrase.Shape != Sustained {
		return r.phrase.Open.RoundTo(EntryStep)
	}
	from, _ := places[0].In(r.song.Beats)
	to, _ := r.phrase.Until.In(r.song.Beats)
	return (to - from).RoundTo(EntryStep)
}

// try compiles the song with the phrase at a division, under names no cue of a
// file can have.
func (r *phraseRun) try(every Stride) (*SongPlan, error) {
	places, err := r.song.Beats.Repeat(r.phrase.At, every, r.phrase.Until)
	if err != nil {
		return nil, err
	}
	n := 0
	d := NewDraft(r.base)
	d.Put(r.song.ID, records(r.cues(places, func() ID { n++; return ID(fmt.Sprintf("~%d", n)) }))...)
	return NewCompiler().CompileSong(d.Show(), r.song.ID, nil).Songs[0].SongPlan, nil
}

// check returns an error where the phrase cannot be played.
func (r *phraseRun) check(plan *SongPlan, places []Moment) error {
	for i := range plan.Commands {
		c := &plan.Commands[i]
		if c.Cue.Group != r.phrase.ID {
			continue
		}
		if a := c.Article; a.OpenMax > 0 && c.Open > a.OpenMax || c.Open < a.OpenMin {
			return &ValueError{Kind: "phrase", Field: "open", Value: c.Open.String(), Want: fmt.Sprintf("does not fit %s (%s): it can be open from %s s%s", c.Unit.Name, c.Unit.Called(a), a.OpenMin, upTo(a.OpenMax))}
		}
	}
	if err := r.checkSingleUse(plan, places); err != nil {
		return err
	}
	first, next := r.clash(plan)
	if first == nil {
		return nil
	}
	needs := first.Open + first.Article.Recovery
	return &TooFastError{Phrase: r.phrase, Unit: next.Unit.Placed.Name, First: first.Cue.At, Next: next.Cue.At, Apart: next.At - first.At, Needs: needs, Fastest: r.fastest()}
}

func upTo(t Time) string {
	if t == 0 {
		return " on"
	}
	return " to " + t.String() + " s"
}

// clash gives the first two commands of a unit, at least one of the phrase, of
// which the later comes before the unit is free, exactly or after rounding.
func (r *phraseRun) clash(plan *SongPlan) (first, next *Command) {
	for i := range plan.Uses {
		var exact, rounded *Command
		for _, k := range plan.Uses[i].Commands {
			c := &plan.Commands[k]
			for _, held := range []struct {
				by   *Command
				late bool
			}{{exact, exact != nil && exact.Free() > c.At}, {rounded, rounded != nil && rounded.FreeRounded() > c.Rounded}} {
				if held.late && (held.by.Cue.Group == r.phrase.ID || c.Cue.Group == r.phrase.ID) && (first == nil || c.At < next.At) {
					first, next = held.by, c
				}
			}
			if exact == nil || c.Free() > exact.Free() {
				exact = c
			}
			if rounded == nil || c.FreeRounded() > rounded.FreeRounded() {
				rounded = c
			}
		}
	}
	return first, next
}

// checkSingleUse refuses a second command of what can be used once.
func (r *phraseRun) checkSingleUse(plan *SongPlan, places []Moment) error {
	for i := range plan.Uses {
		list := plan.Uses[i].Commands
		for n := 1; n < len(list); n++ {
			before, c := &plan.Commands[list[n-1]], &plan.Commands[list[n]]
			if !c.Article.SingleUse || c.Cue.Group != r.phrase.ID && before.Cue.Group != r.phrase.ID {
				continue
			}
			want := fmt.Sprintf("commands %s (%s) a second time, for %s after %s, and it can be used once", c.Unit.Name, c.Unit.Called(c.Article), c.Cue.At, before.Cue.At)
			if last := r.lastUnused(places); last != nil {
				want += "; end at " + last.String()
			}
			return &ValueError{Kind: "phrase", Field: "to", Value: r.phrase.Until.String(), Want: want}
		}
	}
	return nil
}

// lastUnused gives the last place up to which no member comes twice.
func (r *phraseRun) lastUnused(places []Moment) *Moment {
	used := map[int]bool{}
	for k, step := range r.phrase.steps(len(r.members), len(places)) {
		for _, i := range step {
			if used[i] {
				return &places[k-1]
			}
			used[i] = true
		}
	}
	return nil
}

// store puts settings and cues into the draft.
func (r *phraseRun) store(d *Draft, places []Moment, newID func() ID) error {
	for _, ref := range r.gone {
		if err := d.Remove(ref); err != nil {
			return err
		}
	}
	c := *r.phrase
	d.Put(r.song.ID, &c)
	d.Put(r.song.ID, records(r.cues(places, newID))...)
	return nil
}
