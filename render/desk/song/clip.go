package song

import (
	"cmp"
	"fmt"
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/together"
)

// clip is what was copied: cues with their lanes, in the song they came from.
type clip struct {
	song  *timeline.Song
	cues  []*timeline.Cue // by time
	first timeline.Time
	last  timeline.Time
	to    map[timeline.ID]timeline.ID // lanes that were chosen for some of its own in the song it goes to
}

// newClip takes up cues of a song.
func newClip(song *timeline.Song, cues []*timeline.Cue) *clip {
	c := &clip{song: song, cues: slices.Clone(cues)}
	at := func(q *timeline.Cue) timeline.Time { t, _ := q.At.In(song.Beats); return t }
	slices.SortStableFunc(c.cues, func(a, b *timeline.Cue) int { return cmp.Compare(at(a), at(b)) })
	if len(cues) > 0 {
		c.first, c.last = at(c.cues[0]), at(c.cues[len(c.cues)-1])
	}
	return c
}

// newIDs hands out ids for new records of a song.
type newIDs func(kind string, song timeline.ID) timeline.ID

// paste puts a clip into a song with its first cue at a time. In bars it keeps the distances in beats, else those in time. It gives the
// ids of the new cues.
func (c *clip) paste(song *timeline.Song, at timeline.Time, ids newIDs) (change, []timeline.ID, error) {
	lanes, added, err := c.lanes(song, ids)
	if err != nil {
		return change{}, nil, err
	}
	var (
		cues   []*timeline.Cue
		new    []timeline.ID
		groups = map[timeline.ID]timeline.ID{}
	)
	for _, from := range c.cues {
		q := *from
		q.ID, q.Kept, q.Locked = ids("cue", song.ID), nil, false
		if q.Lane = lanes[from.Lane]; c.to[from.Lane] != "" { // which aims at something else
			q.Target, q.Article = "", ""
		}
		q.At = c.moved(from, song, at)
		if from.Group != "" {
			if groups[from.Group] == "" {
				groups[from.Group] = ids("cue", song.ID)
			}
			q.Group = groups[from.Group]
		}
		cues, new = append(cues, &q), append(new, q.ID)
	}
	edits := []timeline.Edit{putLanes(song.ID, added), putCues(song.ID, cues)}
	return change{"paste " + timeline.Counted(len(cues), "cue"), edits}, new, nil
}

// moved gives where a cue of the clip goes when its first goes to a time.
func (c *clip) moved(q *timeline.Cue, song *timeline.Song, at timeline.Time) timeline.Moment {
	t, _ := q.At.In(c.song.Beats)
	if !q.At.OnBeat || song.Beats.Empty() || c.song.Beats.Empty() {
		return timeline.AtTime(at + t - c.first)
	}
	by := beatsBetween(c.song.Beats, c.song.Beats.Locate(c.first), q.At.Bar)
	return timeline.AtBar(together.Stepped(song.Beats, song.Beats.Locate(at), by))
}

// doubled gives the cues of the clip that would come to stand, with the first of them at a time, on a lane of a song where one stands at that very
// place already.
func (c *clip) doubled(song *timeline.Song, at timeline.Time) map[timeline.ID]bool {
	type place struct {
		lane timeline.ID
		at   timeline.Time
	}
	there := map[place]bool{}
	for _, q := range song.Cues {
		if t, ok := q.At.In(song.Beats); ok {
			there[place{q.Lane, t.RoundTo(timeline.EntryStep)}] = true
		}
	}
	double := map[timeline.ID]bool{}
	for _, q := range c.cues {
		from := c.song.Lane(q.Lane)
		if from == nil {
			continue
		}
		to := c.lane(song, from)
		if t, ok := c.moved(q, song, at).In(song.Beats); ok && to != nil && there[place{to.ID, t.RoundTo(timeline.EntryStep)}] {
			double[q.ID] = true
		}
	}
	return double
}

// beatsBetween counts the beats from one place to a later one.
func beatsBetween(beats *timeline.BeatMap, from, to timeline.BarBeat) timeline.Rat {
	n := to.Beat.Add(from.Beat.Neg())
	for bar := from.Bar; bar < to.Bar; bar++ {
		n = n.Add(timeline.NewRat(int64(beats.MetreAt(bar).Num), 1))
	}
	return n
}

// lane gives the lane of a song that cues of one of the clip's go to: the one that was chosen, else one like it; nil for none.
func (c *clip) lane(song *timeline.Song, from *timeline.Lane) *timeline.Lane {
	if to := song.Lane(c.to[from.ID]); to != nil {
		return to
	}
	return song.LaneLike(from)
}

// lanes finds for each lane of the clip the one in a song: the same, one with the same aim, or a new copy.
func (c *clip) lanes(song *timeline.Song, ids newIDs) (map[timeline.ID]timeline.ID, []*timeline.Lane, error) {
	found := map[timeline.ID]timeline.ID{}
	var added []*timeline.Lane
	for _, q := range c.cues {
		if found[q.Lane] != "" {
			continue
		}
		from := c.song.Lane(q.Lane)
		if from == nil {
			return nil, nil, fmt.Errorf("the cue at %s stands on a lane that is gone: give it a lane first", q.At)
		}
		if to := c.lane(song, from); to != nil {
			found[q.Lane] = to.ID
			continue
		}
		l := *from
		l.ID, l.Kept, l.Locked = ids("lane", song.ID), nil, false
		found[q.Lane] = l.ID
		added = append(added, &l)
	}
	return found, added, nil
}

func putLanes(song timeline.ID, lanes []*timeline.Lane) timeline.Edit {
	return func(d *timeline.Draft) error {
		for _, l := range lanes {
			d.Put(song, l)
		}
		return nil
	}
}

// after gives where a duplicate of the clip goes: right after it, by whole bars where the song has beats.
func (c *clip) after() timeline.Time {
	beats := c.song.Beats
	if beats.Empty() {
		return c.last + max(c.last-c.first, timeline.Second)
	}
	from, to := beats.Locate(c.first), beats.Locate(c.last)
	return beats.At(timeline.BarBeat{Bar: from.Bar + to.Bar - from.Bar + 1, Beat: from.Beat})
}
