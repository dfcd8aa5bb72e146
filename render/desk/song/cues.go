package song

import (
	"cmp"
	"fmt"
	"slices"

	"emberbeat/timeline"
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
			return fmt.Errorf("the cue at %s is locked: unlock it with Ctrl+L first", c.At)
		}
		if l := song.Lane(c.Lane); l != nil && l.Locked {
			return fmt.Errorf("the lane %s is locked: unlock it with Shift+L first", cmp.Or(l.Name, "of the cue at "+c.At.String()))
		}
	}
	return nil
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

// quantise puts cues on the nearest step of the grid, and makes them stand on beats.
func quantise(song *timeline.Song, cues []*timeline.Cue, step timeline.Rat) (change, error) {
	if err := errLocked(song, cues); err != nil {
		return change{}, err
	}
	if song.Beats.Empty() {
		return change{}, fmt.Errorf("the song has no beat map: there is no grid to put cues on")
	}
	moved := cloned(cues)
	for _, c := range moved {
		if at, ok := c.At.In(song.Beats); ok {
			c.At = timeline.AtBar(song.Beats.Snap(at, step))
		}
	}
	return change{"quantise " + timeline.Counted(len(cues), "cue"), []timeline.Edit{putCues(song.ID, moved)}}, nil
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
