package song

import (
	"errors"
	"fmt"
	"slices"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/snap"
	"emberbeat/timeline/together"
)

// change is an edit of the show under the name that undo tells.
type change struct {
	label string
	edits []timeline.Edit
}

// putCues gives the edit that stores cues in a song.
func putCues(song timeline.ID, cues []*timeline.Cue) timeline.Edit {
	recs := make([]timeline.Record, len(cues))
	for i, c := range cues {
		recs[i] = c
	}
	return func(d *timeline.Draft) error {
		d.Put(song, recs...)
		return nil
	}
}

// cloned gives copies of cues that may be changed.
func cloned(cues []*timeline.Cue) []*timeline.Cue {
	copies := make([]*timeline.Cue, len(cues))
	for i, c := range cues {
		d := *c
		copies[i] = &d
	}
	return copies
}

// errLocked says that some of the chosen cues must not move.
func errLocked(song *timeline.Song, cues []*timeline.Cue) error {
	for _, c := range cues {
		if c.Locked {
			return &lockedError{cue: c}
		}
		if l := song.Lane(c.Lane); l != nil && l.Locked {
			return &lockedError{cue: c, lane: l}
		}
	}
	return nil
}

// lockedError says that a cue must not move, and whether it is its lane that is locked.
type lockedError struct {
	cue  *timeline.Cue
	lane *timeline.Lane // nil where the cue itself is
}

func (e *lockedError) Error() string {
	if e.lane == nil {
		return fmt.Sprintf("the cue at %s is locked: unlock it first", e.cue.At)
	}
	return fmt.Sprintf("the lane of the cue at %s is locked: unlock it first", e.cue.At)
}

// refuse says why something was not done, with the name of a lane that is locked and the key that unlocks it.
func (sp *Page) refuse(err error) {
	locked := &lockedError{}
	switch {
	case !errors.As(err, &locked):
		sp.h.Fail(err)
	case locked.lane == nil:
		sp.h.Fail(fmt.Errorf("the cue at %s is locked: unlock it with %s first", locked.cue.At, sp.h.Key("lock")))
	default:
		sp.h.Fail(sp.errLane(locked.lane))
	}
}

// errLane says that a lane is locked.
func (sp *Page) errLane(l *timeline.Lane) error {
	return fmt.Errorf("the lane %s is locked: unlock it with %s first", page.LaneName(sp.work().Show, l), sp.h.Key("lock-lane"))
}

// moveCues moves cues by a time and, by lanes, to others. exact, where it is given, is the anchor of the cue it names.
func moveCues(song *timeline.Song, cues []*timeline.Cue, by timeline.Time, lanes map[timeline.ID]timeline.ID, exact map[timeline.ID]timeline.Moment) (change, error) {
	if err := errLocked(song, cues); err != nil {
		return change{}, err
	}
	moved := cloned(cues)
	for _, c := range moved {
		if m, ok := exact[c.ID]; ok {
			c.At = m
		} else {
			c.At = together.Shifted(c.At, by, song.Beats)
		}
		if to, ok := lanes[c.Lane]; ok {
			if to != c.Lane {
				c.Target, c.Article = "", ""
			}
			c.Lane = to
		}
	}
	return change{"move " + timeline.Counted(len(cues), "cue"), []timeline.Edit{putCues(song.ID, moved)}}, nil
}

// moveByBeat moves cues by beats; for a song without any it says what else moves them.
func moveByBeat(song *timeline.Song, cues []*timeline.Cue, beats timeline.Rat) (change, error) {
	if err := errLocked(song, cues); err != nil {
		return change{}, err
	}
	if song.Beats.Empty() {
		return change{}, fmt.Errorf("the song has no beat map yet: move by frames with Alt+← and Alt+→")
	}
	moved := cloned(cues)
	for _, c := range moved {
		at, ok := c.At.In(song.Beats)
		if !ok {
			continue
		}
		to := together.Stepped(song.Beats, song.Beats.Locate(at), beats)
		if c.At.OnBeat {
			c.At = timeline.AtBar(to)
		} else {
			c.At = timeline.AtTime(song.Beats.At(to))
		}
	}
	return change{"move " + timeline.Counted(len(cues), "cue") + " by beats", []timeline.Edit{putCues(song.ID, moved)}}, nil
}

// quantise puts cues onto the grid or onto hits, whichever is chosen, and says how many stay where they are, and why.
func quantise(song *timeline.Song, cues []*timeline.Cue, x *snap.Targets) (c change, stays string, err error) {
	if err := errLocked(song, cues); err != nil {
		return change{}, "", err
	}
	moved, stays, err := snap.Put(x.Quantise(song, cues, snap.Within))
	if err != nil {
		return change{}, "", err
	}
	return change{"quantise " + timeline.Counted(len(moved), "cue"), []timeline.Edit{putCues(song.ID, moved)}}, stays, nil
}

// withoutWindows leaves out the cues that raise arms, conditions and warm-ups, as long as there are others: what arms a hit stands where it must, and
// not on the beat. Where only such are given, they are meant.
func withoutWindows(song *timeline.Song, cues []*timeline.Cue) []*timeline.Cue {
	hits := slices.DeleteFunc(slices.Clone(cues), func(c *timeline.Cue) bool {
		l := song.Lane(c.Lane)
		return l != nil && l.Window()
	})
	if len(hits) == 0 {
		return cues
	}
	return hits
}

// removeCues takes cues out; nothing else moves.
func removeCues(song *timeline.Song, cues []*timeline.Cue) (change, error) {
	if err := errLocked(song, cues); err != nil {
		return change{}, err
	}
	edit := func(d *timeline.Draft) error {
		for _, c := range cues {
			if err := d.Remove(timeline.Ref{Kind: "cue", Song: song.ID, ID: c.ID}); err != nil {
				return err
			}
		}
		return nil
	}
	return change{"delete " + timeline.Counted(len(cues), "cue"), []timeline.Edit{edit}}, nil
}

// flip sets a flag of cues: on for all unless it is on for all already.
func flip(song *timeline.Song, cues []*timeline.Cue, flag func(*timeline.Cue) *bool, on, off string) change {
	all := !slices.ContainsFunc(cues, func(c *timeline.Cue) bool { return !*flag(c) })
	flipped := cloned(cues)
	for _, c := range flipped {
		*flag(c) = !all
	}
	word := on
	if all {
		word = off
	}
	return change{word + " " + timeline.Counted(len(cues), "cue"), []timeline.Edit{putCues(song.ID, flipped)}}
}

// groupCues gives cues a common group, or none.
func groupCues(song *timeline.Song, cues []*timeline.Cue, group timeline.ID) change {
	joined := cloned(cues)
	for _, c := range joined {
		c.Group = group
	}
	word := "group "
	if group == "" {
		word = "ungroup "
	}
	return change{word + timeline.Counted(len(cues), "cue"), []timeline.Edit{putCues(song.ID, joined)}}
}
