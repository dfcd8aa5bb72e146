package intake

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// position reads when a row happens, as the column that was mapped says it.
func (r *rowReader) position(when string) (timeline.Position, error) {
	if r.decimal { // no position has a comma of its own
		when = strings.Replace(when, ",", ".", 1)
	}
	want := func(k timeline.PositionKind, form string) (timeline.Position, error) {
		p, err := timeline.ParsePosition(when)
		if err == nil && p.Kind != k {
			err = fmt.Errorf("%q is no %s", when, form)
		}
		return p, err
	}
	switch {
	case r.has(BarColumn):
		return want(timeline.PositionBar, "bar such as 17.3 or 17.3+1/2")
	case r.has(CodeColumn):
		return want(timeline.PositionTimecode, "timecode such as 01:00:42:12")
	case r.has(SecondsColumn):
		t, err := r.seconds(when)
		return timeline.Position{Kind: timeline.PositionTime, Time: t.RoundTo(timeline.EntryStep)}, err
	}
	return timeline.ParsePosition(when)
}

func (r *rowReader) has(field string) bool {
	_, ok := r.at[field]
	return ok
}

// seconds reads a time; `before 0.4500` is how the cue list writes one before
// the audio, so that no cell begins with a minus.
func (r *rowReader) seconds(s string) (timeline.Time, error) {
	if r.decimal {
		s = strings.Replace(s, ",", ".", 1)
	}
	s = strings.TrimSuffix(strings.TrimSpace(s), "s")
	if rest, before := strings.CutPrefix(s, "before "); before {
		t, err := timeline.ParseTime(strings.TrimSpace(rest))
		return -t, err
	}
	return timeline.ParseTime(strings.TrimSpace(s))
}

func (r *rowReader) span(row Row, field string) (timeline.Time, error) {
	s := r.cell(row, field)
	if s == "" {
		return 0, nil
	}
	t, err := r.seconds(s)
	if err == nil && t < 0 {
		err = fmt.Errorf("%s %q is below 0 s", field, s)
	}
	return t, err
}

func (r *rowReader) percent(row Row) (int, error) {
	s := strings.TrimSpace(strings.TrimSuffix(r.cell(row, LevelColumn), "%"))
	if s == "" {
		return 0, nil
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > 100 {
		return 0, fmt.Errorf("level %q must be a whole percentage from 1 to 100", r.cell(row, LevelColumn))
	}
	return n, nil
}

// song finds the song of a row: as its column says, as chosen for all rows, or
// the one in whose timecode the row stands.
func (r *rowReader) song(row Row, pos timeline.Position) (*timeline.Song, error) {
	if name := r.cell(row, SongColumn); name != "" {
		return r.plan.FindSong(name)
	}
	if r.o.Song != nil {
		return r.o.Song, nil
	}
	if pos.Kind != timeline.PositionTimecode {
		return nil, fmt.Errorf("names no song; map the song column, or choose a song for all rows")
	}
	return r.songAt(pos.TC)
}

// songAt finds the song whose audio, with its pre-roll, runs at a timecode.
func (r *rowReader) songAt(tc timeline.Timecode) (*timeline.Song, error) {
	s := r.plan.Show
	frame, err := s.Head.Rate.Frame(tc)
	if err != nil {
		return nil, err
	}
	songs := s.SongsByStart()
	i := slices.IndexFunc(songs, func(g *timeline.Song) bool {
		start, err := s.Head.Rate.Frame(g.Start)
		at := s.Head.Rate.At(frame - start)
		return err == nil && at >= -s.PreRollOf(&g.SongHead) && at <= g.Duration()
	})
	if i < 0 {
		return nil, fmt.Errorf("no song runs at timecode %s", tc)
	}
	return songs[i], nil
}

// hit gives the hit of a command that is to come at a position.
func (r *rowReader) hit(song *timeline.Song, pl timeline.Placing, pos timeline.Position) (timeline.Position, error) {
	at, err := r.plan.Show.MomentAt(&song.SongHead, pos)
	if err != nil {
		return pos, err
	}
	t, ok := at.In(song.Beats)
	if !ok {
		return pos, fmt.Errorf("song %q has no beats, so that bar %s has no time", song.FullTitle(), pos)
	}
	lead, err := r.lead(song, pl)
	return timeline.Position{Kind: timeline.PositionTime, Time: (t + lead).RoundTo(timeline.EntryStep)}, err
}

// lead is the longest lead of what a placing aims at.
func (r *rowReader) lead(song *timeline.Song, pl timeline.Placing) (lead timeline.Time, err error) {
	target, article := timeline.ID(""), timeline.ID("")
	for _, l := range song.Lanes {
		if string(l.ID) == pl.Lane || strings.EqualFold(l.Name, pl.Lane) {
			target, article = l.Target, l.Article
		}
	}
	if pl.Target != "" {
		if target, err = r.find(pl.Target, "placed", "group"); err != nil {
			return 0, err
		}
	}
	if pl.Article != "" {
		if article, err = r.find(pl.Article, "article"); err != nil {
			return 0, err
		}
	}
	units, _ := r.plan.Units.Target(target)
	for _, u := range units {
		a := u.Article
		if article != "" {
			a = r.plan.Show.Stock.Article(article)
		}
		if a != nil {
			lead = max(lead, a.Lead+u.Latency())
		}
	}
	if len(units) == 0 {
		return 0, fmt.Errorf("lane %q leads to no effect, so that no lead can be added to the time of the command", pl.Lane)
	}
	return lead, nil
}

// find gives the id of a record of the first kind that has one of the name.
func (r *rowReader) find(name string, kinds ...string) (id timeline.ID, err error) {
	for _, k := range kinds {
		ref, oneErr := r.plan.FindRecord(k + ":" + name)
		if oneErr == nil {
			return ref.ID, nil
		}
		err = oneErr
	}
	return "", err
}
