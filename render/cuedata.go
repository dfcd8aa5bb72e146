package render

import (
	"cmp"
	"strings"

	"emberbeat/timeline"
)

// CueData is a cue as it is drawn.
type CueData struct {
	Cue     *timeline.Cue
	Hit     timeline.Time
	Command timeline.Time // earliest of its commands; Hit where there is none
	End     timeline.Time // when the last of its effects closes, from the hit
	Look    Look
	Level   int
	Units   int
	Label   string // note or article, where it says more than the lane does
	Window  bool   // a slot is on from Hit to End
	Role    timeline.SlotRole
	Endless bool // a window that nothing closes
	Dead    bool // leads to no command: lost, or cut tonight
}

// resolve finds what becomes of each of the song's cues; one that has no time is left empty.
func (d *SongData) resolve(lanes map[timeline.ID]int) []CueData {
	song := d.Plan.Song
	room := make([]CueData, len(song.Cues))
	cues := make(map[*timeline.Cue]*CueData, len(song.Cues))
	for i, c := range song.Cues {
		hit, ok := c.At.In(song.Beats)
		if !ok {
			continue
		}
		room[i] = CueData{Cue: c, Hit: hit, Command: hit, End: hit, Level: 100, Dead: true}
		cues[c] = &room[i]
	}
	d.commands(cues)
	d.windows(cues)
	for i := range room {
		c := &room[i]
		if c.Cue == nil {
			continue
		}
		if c.Units == 0 && !c.Window {
			d.unplayed(c, lanes)
		}
		d.name(c, lanes)
		d.earliest = min(d.earliest, c.Command)
	}
	return room
}

// commands tells the cues what the plan's commands do for them.
func (d *SongData) commands(cues map[*timeline.Cue]*CueData) {
	d.Hits = make([]timeline.Time, 0, len(cues))
	var of *timeline.Cue // the command before is mostly of the same cue
	var c *CueData
	for i := range d.Plan.Commands {
		cmd := &d.Plan.Commands[i]
		if cmd.Cue != of {
			of, c = cmd.Cue, cues[cmd.Cue]
		}
		if c == nil {
			continue
		}
		if c.Units == 0 {
			c.Hit, c.Look, c.Level, c.Dead = cmd.Hit, d.look(cmd.Article), cmd.Level, false
			d.Hits = append(d.Hits, cmd.Hit)
		}
		c.Units++
		c.Command = min(c.Command, cmd.At)
		c.End = max(c.End, cmd.Hit+cmd.Open)
	}
}

// windows does the same for arm, condition and warm-up windows.
func (d *SongData) windows(cues map[*timeline.Cue]*CueData) {
	for i := range d.Plan.Asked {
		w := &d.Plan.Asked[i]
		c := cues[w.Cue]
		if c == nil {
			continue
		}
		c.Window, c.Role, c.Dead, c.Command = true, w.Role, false, w.Up
		c.Endless = c.Endless || !w.Closes()
		c.End = max(c.End, w.Down)
		if c.Endless {
			c.End = max(d.Length(), w.Up)
		}
	}
}

// unplayed gives a cue without commands the look it would have.
func (d *SongData) unplayed(c *CueData, lanes map[timeline.ID]int) {
	article := c.Cue.Article
	if i, ok := lanes[c.Cue.Lane]; ok {
		lane := d.Plan.Song.Lanes[i]
		c.Window, c.Role = lane.Window(), lane.Role
		article = cmp.Or(article, lane.Article, d.articleAt(cmp.Or(c.Cue.Target, lane.Target)))
		c.End = c.Hit + cmp.Or(c.Cue.Open, lane.Open)
	}
	a := d.Show.Stock.Article(article)
	c.Look = d.look(a)
	if a != nil && c.End == c.Hit && !c.Window {
		c.End += a.Open
	}
}

// articleAt gives the article that stands at a target, or "".
func (d *SongData) articleAt(target timeline.ID) timeline.ID {
	units, _ := d.Plan.Units.Target(target)
	for _, u := range units {
		if u.Article != nil {
			return u.Article.ID
		}
	}
	return ""
}

// name finds what a cue's label says: its note, or its article where that is not the lane's.
func (d *SongData) name(c *CueData, lanes map[timeline.ID]int) {
	c.Label = c.Cue.Note
	i, ok := lanes[c.Cue.Lane]
	if c.Label != "" || !ok || c.Cue.Article == "" || c.Cue.Article == d.Plan.Song.Lanes[i].Article {
		return
	}
	if a := d.Show.Stock.Article(c.Cue.Article); a != nil {
		c.Label = a.Name
	}
}

// look is lookOf, found once for each article.
func (d *SongData) look(a *timeline.Article) Look {
	look, known := d.looks[a]
	if !known {
		look = lookOf(a)
		d.looks[a] = look
	}
	return look
}

// lookOf gives an article's shape, ink and, for the user's own, first letter.
func lookOf(a *timeline.Article) Look {
	if a == nil {
		return Look{Glyph: GlyphHexagon, Ink: InkCloud, Letter: "?"}
	}
	look := Look{Glyph: GlyphOf(a.Family), Ink: InkOf(a.Family.Class())}
	for _, r := range a.Name {
		look.Letter = strings.ToUpper(string(r))
		break
	}
	return look
}
