package calling

import (
	"slices"

	"emberbeat/timeline"
)

// Marks is what was marked by hand in one song, in the order in which it was. The
// zero Marks has none.
type Marks struct {
	Holds []Hold

	hand []timeline.ID // cues marked missed one by one, latest last
	back []timeline.ID // taken back, of those and of what fell into a hold
}

// Hold is a time in which the show was held.
type Hold struct {
	From, To timeline.Time // To is how far the song has gone while it goes on
	On       bool          // it goes on
}

// Held reports whether a hold goes on.
func (k *Marks) Held() bool { return len(k.Holds) > 0 && k.Holds[len(k.Holds)-1].On }

// Hold begins a hold at a time, or ends the one that goes on, and reports which.
func (k *Marks) Hold(at timeline.Time) (begun bool) {
	if k.Held() {
		k.Seen(at)
		k.Holds[len(k.Holds)-1].On = false
		return false
	}
	k.Holds = append(k.Holds, Hold{From: at, To: at, On: true})
	return true
}

// Seen notes how far the song has gone while it is held.
func (k *Marks) Seen(at timeline.Time) {
	if k.Held() {
		h := &k.Holds[len(k.Holds)-1]
		h.To = max(h.To, at)
	}
}

// Missed reports whether a cue is marked missed: by hand, or because its command
// fell into a hold. A cue is never fired late.
func (k *Marks) Missed(c *Cue) bool {
	if slices.Contains(k.back, c.ID) {
		return false
	}
	return slices.Contains(k.hand, c.ID) || slices.ContainsFunc(k.Holds, func(h Hold) bool {
		return c.Command >= h.From && (c.Command < h.To || h.On && c.Command == h.To)
	})
}

// Miss marks a cue missed.
func (k *Marks) Miss(c *Cue) {
	k.back = slices.DeleteFunc(k.back, func(id timeline.ID) bool { return id == c.ID })
	k.hand = append(slices.DeleteFunc(k.hand, func(id timeline.ID) bool { return id == c.ID }), c.ID)
}

// Take takes back that a cue was missed.
func (k *Marks) Take(c *Cue) {
	k.hand = slices.DeleteFunc(k.hand, func(id timeline.ID) bool { return id == c.ID })
	k.back = append(k.back, c.ID)
}

// ToMiss gives the cue that is marked missed at a time: the last one whose command
// is over and that is not marked yet; nil where there is none.
func (b *Board) ToMiss(at timeline.Time, k *Marks) *Cue {
	for i := len(b.Cues) - 1; i >= 0; i-- {
		if c := &b.Cues[i]; c.Command <= at && !k.Missed(c) {
			return c
		}
	}
	return nil
}

// ToTake gives the cue whose mark is taken back: the one marked last by hand, else
// the last one that fell into a hold; nil where none is marked.
func (b *Board) ToTake(k *Marks) *Cue {
	if n := len(k.hand); n > 0 {
		if i := slices.IndexFunc(b.Cues, func(c Cue) bool { return c.ID == k.hand[n-1] }); i >= 0 {
			return &b.Cues[i]
		}
	}
	for i := len(b.Cues) - 1; i >= 0; i-- {
		if c := &b.Cues[i]; k.Missed(c) {
			return c
		}
	}
	return nil
}

// Fell lists the cues that a hold from one time to another has made miss.
func (b *Board) Fell(h Hold) (list []*Cue) {
	for i := range b.Cues {
		if c := &b.Cues[i]; c.Command >= h.From && c.Command < h.To {
			list = append(list, c)
		}
	}
	return list
}
