package timeline

import (
	"cmp"
	"errors"
	"slices"
	"strings"
)

// CueChoice chooses cues by where they stand and what they do, in a user's words;
// what is empty chooses all. Names may be ids, and are told apart without regard
// to case. Of several words all must fit.
type CueChoice struct {
	Song     ID
	Bars     *Bars
	Section  string
	Lane     string
	Family   string
	Article  string // of the stock, where nothing is swapped
	Effect   string // placed effect
	Position string
	Note     string // a part of the note
}

// ChooseCues gives the cues of all songs that a choice means, song by song in the
// order of the show, each song's by id. Windows of arms, conditions and warm-ups
// are chosen only where their lane is named, so that what is done to hits is not
// done to them. A choice of nothing, and one that no cue fits, is an error.
func (p *Plan) ChooseCues(w CueChoice) ([]Ref, error) {
	if w == (CueChoice{}) {
		return nil, errors.New("nothing is chosen, so that every cue of the show would be meant; choose a song, lane, family or others")
	}
	var list []Ref
	for _, g := range p.Show.SongsByStart() {
		if g.Shares || w.Song != "" && g.ID != w.Song {
			continue
		}
		c := &cueChooser{CueChoice: w, plan: p, song: g, alone: p.Show.tourOf(g)}
		for _, cue := range g.Cues {
			if c.means(cue) {
				list = append(list, Ref{Kind: "cue", Song: g.ID, ID: cue.ID})
			}
		}
	}
	if len(list) == 0 {
		return nil, errors.New("no cue fits all that is chosen; emberbeat list SHOW cues shows those there are")
	}
	return list, nil
}

// cueChooser looks at the cues of one song.
type cueChooser struct {
	CueChoice
	plan  *Plan
	song  *Song
	alone *SongPlan
}

func (c *cueChooser) means(cue *Cue) bool {
	lane := c.song.Lane(cue.Lane)
	if lane == nil {
		return false
	}
	if c.Lane == "" && lane.Window() || c.Lane != "" && !c.named(c.Lane, lane) {
		return false
	}
	if c.Note != "" && !strings.Contains(strings.ToLower(cue.Note), strings.ToLower(c.Note)) {
		return false
	}
	return c.stands(cue) && c.does(cue, lane)
}

// named reports whether a user's word means a record.
func (c *cueChooser) named(word string, r Record) bool {
	song := ID("")
	if kindOfRecord(r).InSong {
		song = c.song.ID
	}
	return string(r.RecordID()) == word || strings.EqualFold(kindOfRecord(r).NameOf(r), word) || strings.EqualFold(c.plan.Show.CalledIn(song, r), word)
}

// stands reports whether a cue is in the chosen bars and section.
func (c *cueChooser) stands(cue *Cue) bool {
	if c.Bars == nil && c.Section == "" {
		return true
	}
	at, ok := cue.At.In(c.song.Beats)
	if !ok {
		return false
	}
	if b := c.song.Beats; c.Bars != nil && (b.Empty() || at < b.BarStart(c.Bars.First) || at >= b.BarStart(c.Bars.Last+1)) {
		return false
	}
	return c.Section == "" || slices.ContainsFunc(c.song.Sections, func(s *Section) bool {
		from, ok := s.At.In(c.song.Beats)
		return ok && c.named(c.Section, s) && at >= from && at < c.alone.sectionEnd(s, from)
	})
}

// does reports whether a cue plays what is chosen on any of its units.
func (c *cueChooser) does(cue *Cue, lane *Lane) bool {
	if c.Family == "" && c.Article == "" && c.Effect == "" && c.Position == "" {
		return true
	}
	units, _ := c.alone.Units.Target(cmp.Or(cue.Target, lane.Target))
	return slices.ContainsFunc(units, func(u *Unit) bool {
		a := c.plan.Show.Stock.Article(cmp.Or(cue.Article, lane.Article, u.Placed.Article))
		return (c.Family == "" || a != nil && string(a.Family) == c.Family) && (c.Article == "" || a != nil && c.named(c.Article, a)) &&
			(c.Effect == "" || c.named(c.Effect, u.Placed)) && (c.Position == "" || u.Position != nil && c.named(c.Position, u.Position))
	})
}
