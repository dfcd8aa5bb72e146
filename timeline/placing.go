package timeline

import (
	"fmt"
	"strings"
)

// Placing says which cues to put on a lane of a song.
type Placing struct {
	Song    ID
	Lane    string     // id or name; made if missing and Target is given
	Target  string     // id or name of a placed effect or group; "" = the lane's
	At      []Position // where the hits are
	Every   *Stride    // nil = only there; else from each place on
	Until   *Position  // up to and including; needed with Every
	Article string     // id or name; "" = the lane's
	Open    Time       // 0 = the lane's, then the article's
	Level   int        // percent; 0 = the article's
	Note    string

	// Onto gives where a hit goes that is to stand at a place, such as onto what is heard there; nil leaves all where they are.
	Onto func(*Song, Moment) (Moment, error)
}

// Place gives the edit that makes the cues of a placing. newID hands in ids
// that no record of the kind has in the song. Times are rounded to EntryStep;
// nothing is snapped but by Onto. A place where the lane already has a cue on the same
// target is an error, so that nothing is placed twice by accident.
func (p *Plan) Place(pl Placing, newID func(kind string, song ID) ID) Edit {
	return func(d *Draft) error {
		song := d.show.Song(pl.Song)
		if song == nil {
			return fmt.Errorf("the show has no song %q", pl.Song)
		}
		target, article, err := p.placed(d, pl)
		if err != nil {
			return err
		}
		moments, err := p.moments(&song.SongHead, pl)
		for i := 0; i < len(moments) && err == nil && pl.Onto != nil; i++ {
			moments[i], err = pl.Onto(song, moments[i])
		}
		if err != nil {
			return err
		}
		lane, err := laneFor(d, song, pl, target, article, newID)
		if err != nil {
			return err
		}
		model := Cue{Lane: lane.ID, Target: unless(lane.Target, target), Article: unless(lane.Article, article),
			Open: pl.Open.RoundTo(EntryStep), Level: pl.Level, Note: pl.Note}
		return putCues(d, song, lane, model, moments, newID)
	}
}

// unless gives id unless it is what is meant anyway.
func unless(usual, id ID) ID {
	if id == usual {
		return ""
	}
	return id
}

// placed finds the target and article that a placing names.
func (p *Plan) placed(d *Draft, pl Placing) (target, article ID, err error) {
	lane := KindOf("lane")
	for _, f := range []struct {
		field, text string
		to          *ID
	}{{"target", pl.Target, &target}, {"article", pl.Article, &article}} {
		field := lane.Field(f.field)
		*f.to = ID(p.refText(d, field, "", f.text))
		if *f.to != "" && !d.exists(field.Ref, "", *f.to) {
			return "", "", fmt.Errorf("%s %s is not in the show: %s", f.field, quoted(f.text), p.refChoices(field, f.text))
		}
	}
	return target, article, nil
}

// refChoices lists what a reference field could name, what is like the text
// first.
func (p *Plan) refChoices(f *Field, text string) string {
	var lists []string
	for _, name := range f.Ref {
		lists = append(lists, KindOf(name).choices(p.Show.Names(), []ID{""}, text))
	}
	return strings.Join(lists, "; ")
}

func (p *Plan) moments(song *SongHead, pl Placing) ([]Moment, error) {
	var all []Moment
	for _, at := range pl.At {
		first, err := p.Show.MomentAt(song, at)
		if err != nil {
			return nil, err
		}
		if pl.Every == nil {
			all = append(all, first)
			continue
		}
		if pl.Until == nil {
			return nil, fmt.Errorf("repeating every %s needs an end", *pl.Every)
		}
		until, err := p.Show.MomentAt(song, *pl.Until)
		if err != nil {
			return nil, err
		}
		repeated, err := song.Beats.Repeat(first, *pl.Every, until)
		if err != nil {
			return nil, err
		}
		all = append(all, repeated...)
	}
	return all, nil
}

// laneFor finds the lane of a placing, or makes it.
func laneFor(d *Draft, song *Song, pl Placing, target, article ID, newID func(string, ID) ID) (*Lane, error) {
	if l := song.Lane(ID(pl.Lane)); l != nil {
		return l, nil
	}
	var named []*Lane
	called := d.show.Names()
	for _, l := range song.Lanes {
		if strings.EqualFold(called.called(song.ID, l), pl.Lane) {
			return l, nil // which no other is called
		}
		if strings.EqualFold(l.Name, pl.Lane) {
			named = append(named, l)
		}
	}
	switch {
	case len(named) == 1:
		return named[0], nil
	case len(named) > 1:
		return nil, fmt.Errorf("%d lanes of %q are called %s; write which (%s)", len(named), song.FullTitle(), quoted(pl.Lane), laneNames(d.show, song))
	case target == "":
		return nil, fmt.Errorf("song %q has no lane %s (%s); name a target to make it", song.Title, quoted(pl.Lane), laneNames(d.show, song))
	}
	l := &Lane{Base: Base{ID: newID("lane", song.ID)}, Name: pl.Lane, Target: target, Role: EffectSlot, Article: article}
	d.Put(song.ID, l)
	return l, nil
}

func laneNames(s *Show, song *Song) string {
	names, called := make([]string, len(song.Lanes)), s.Names()
	for i, l := range song.Lanes {
		names[i] = fmt.Sprintf("%q", called.called(song.ID, l))
	}
	if len(names) == 0 {
		return "it has none yet"
	}
	return "it has " + listSome(names)
}

func putCues(d *Draft, song *Song, lane *Lane, model Cue, moments []Moment, newID func(string, ID) ID) error {
	wanted := make(map[Moment]bool, len(moments))
	for _, at := range moments {
		if wanted[at] {
			return fmt.Errorf("lane %q is to have two cues at %s; nothing was placed", d.show.CalledIn(song.ID, lane), at)
		}
		wanted[at] = true
	}
	for _, c := range song.Cues {
		if c.Lane == lane.ID && c.Target == model.Target && wanted[c.At] {
			return fmt.Errorf("lane %q already has a cue at %s; nothing was placed", d.show.CalledIn(song.ID, lane), c.At)
		}
	}
	cues := make([]Record, len(moments))
	for i, at := range moments {
		c := model
		c.ID, c.At = newID("cue", song.ID), at
		cues[i] = &c
	}
	d.Put(song.ID, cues...)
	return nil
}
