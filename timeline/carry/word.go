package carry

import (
	"errors"
	"fmt"
	"slices"

	"emberbeat/timeline"
)

// Word is what a user says of the place that was proposed for a cue.
type Word string

// The words.
const (
	Fine  Word = "fine"  // it stands right there
	Other Word = "other" // it stands at the next best place
	Out   Word = "out"   // it is left out, and set aside
)

// ByUser is how a place was found that a user has taken.
const ByUser By = "user"

// Say takes the user's word on a cue; "" takes it back. What was said before counts
// no more.
func (p *Proposal) Say(cue timeline.ID, w Word) error {
	i := slices.IndexFunc(p.Items, func(x Item) bool { return x.Cue() && x.Ref.ID == cue })
	if i < 0 {
		return fmt.Errorf("the song has no cue %q", cue)
	}
	first := p.Items[i].asProposed()
	x := first
	switch w {
	case "":
	case Fine:
		if first.Is == nil {
			return errors.New("it has no place in the new recording that could be right; take the other place, or leave it out")
		}
	case Other:
		if first.Next == nil {
			return errors.New("there is no other place at which it could stand")
		}
		at := *first.Next
		at.By = ByUser
		x.Is, x.Next, x.Open, x.Copies = &at, first.Is, 0, nil
		x.Status, x.Why = Moved, "the other place was taken"
	case Out:
		x.Is, x.Open, x.Copies = nil, 0, nil
		x.Status, x.Why = Lost, "it was left out"
	default:
		return fmt.Errorf("%q is no word on a cue", w)
	}
	if w != "" {
		x.Said, x.proposed = w, &first
	}
	p.Items[i] = x
	return nil
}

// asProposed gives the item as it was before anybody said anything.
func (i *Item) asProposed() Item {
	if i.proposed != nil {
		return *i.proposed
	}
	return *i
}

// Look reports whether somebody has to look at the item still.
func (i *Item) Look() bool { return i.Status.Looked() && i.Said == "" }

// KeepWords takes over what was said of cues in a proposal before this one, and which
// copies were taken, as far as they have the same places in both.
func (p *Proposal) KeepWords(before *Proposal) {
	for i := range before.Items {
		old := &before.Items[i]
		taken := slices.ContainsFunc(old.Copies, func(c Copy) bool { return c.Taken })
		if old.Said == "" && !taken || old.Ref.ID == "" {
			continue
		}
		k := slices.IndexFunc(p.Items, func(x Item) bool { return x.Ref == old.Ref })
		if k < 0 {
			continue
		}
		was := old.asProposed()
		x := &p.Items[k]
		if taken && slices.EqualFunc(x.Copies, old.Copies, func(a, b Copy) bool { return a.At == b.At }) {
			_ = p.take([]string{string(old.Ref.ID)}) // it has copies
		}
		if old.Said != "" && samePlace(x.Is, was.Is) && samePlace(x.Next, was.Next) {
			_ = p.Say(old.Ref.ID, old.Said) // which could be said there can be said here
		}
	}
}

func samePlace(a, b *Place) bool {
	return a == nil && b == nil || a != nil && b != nil && a.At == b.At && a.Moment == b.Moment
}

// OnlySure leaves out every cue that somebody would have to look at.
func (p *Proposal) OnlySure() {
	for i := range p.Items {
		if x := &p.Items[i]; x.Cue() && x.Look() {
			_ = p.Say(x.Ref.ID, Out) // any cue can be left out
		}
	}
}

// Take marks further places at which the music is heard as wanted: those of a
// section or a record, or all.
func (p *Proposal) Take(words ...string) error { return p.take(words) }
