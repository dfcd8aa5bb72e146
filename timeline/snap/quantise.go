package snap

import (
	"fmt"

	"emberbeat/timeline"
)

// Move is what putting a cue onto its place comes to.
type Move struct {
	Cue   *timeline.Cue // as it was
	Is    *timeline.Cue // as it will be; the very same where it stays
	By    timeline.Time
	Onto  string // what it is put onto, "" where it stays
	Stays string // why, "" where it is put
}

// Quantise says where cues of a song go when each is put onto the nearest step of the grid, or onto a hit within a distance. A cue stays where
// no hit is near, and where another one of its lane and target stands at the place or goes there: the one that is nearest goes.
func (x *Targets) Quantise(song *timeline.Song, cues []*timeline.Cue, within timeline.Time) []Move {
	type seat struct {
		lane, target timeline.ID
		at           timeline.Time
	}
	taken, chosen := map[seat]bool{}, map[timeline.ID]bool{}
	for _, c := range cues {
		chosen[c.ID] = true
	}
	for _, c := range song.Cues {
		if at, ok := c.At.In(x.beats); ok && !chosen[c.ID] {
			taken[seat{c.Lane, c.Target, at.RoundTo(timeline.EntryStep)}] = true
		}
	}
	list := make([]Move, len(cues))
	wins := map[seat]int{}
	for i, c := range cues {
		m := &list[i]
		*m = Move{Cue: c, Is: c}
		at, ok := c.At.In(x.beats)
		if !ok {
			m.Stays = "its place is not known without beats"
			continue
		}
		to, ok := x.Put(at, within)
		switch {
		case !ok && !x.grid && len(x.hits) == 0:
			m.Stays = "there is no grid to put it on, and no hit is heard"
			continue
		case !ok:
			m.Stays = fmt.Sprintf("no hit is heard within %.4g ms of it", 1000*within.Seconds())
			continue
		}
		d := *c
		d.At = to.Moment(x.beats, true)
		m.Is, m.By, m.Onto = &d, to.At-at, to.Name
		s := seat{c.Lane, c.Target, to.At.RoundTo(timeline.EntryStep)}
		switch k, both := wins[s]; {
		case taken[s]:
			m.stay("another cue stands there")
		case both && apart(list[k].By, 0) <= apart(m.By, 0):
			m.stay("another cue goes there")
		default:
			if both {
				list[k].stay("another cue goes there")
			}
			wins[s] = i
		}
	}
	return list
}

// stay leaves a cue where it is.
func (m *Move) stay(why string) { m.Is, m.By, m.Onto, m.Stays = m.Cue, 0, "", why }

// Put gives the cues that moves change, and says how many stay, and why. The error says that none goes anywhere.
func Put(moves []Move) (moved []*timeline.Cue, stays string, err error) {
	n, why := 0, ""
	for i := range moves {
		switch m := &moves[i]; {
		case m.Stays == "":
			moved = append(moved, m.Is)
		case n == 0:
			n, why = 1, m.Stays
		default:
			if n++; m.Stays != why {
				why = "no hit is near, or another cue stands there"
			}
		}
	}
	switch {
	case len(moves) == 0:
		return nil, "", fmt.Errorf("there are no cues to be put anywhere")
	case len(moved) == 0:
		return nil, "", fmt.Errorf("no cue goes anywhere: %s", why)
	case n > 0:
		stays = fmt.Sprintf("%s stays: %s", timeline.Counted(n, "cue"), why)
		if n > 1 {
			stays = fmt.Sprintf("%s stay: %s", timeline.Counted(n, "cue"), why)
		}
	}
	return moved, stays, nil
}
