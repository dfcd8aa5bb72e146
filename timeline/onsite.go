package timeline

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
)

// OnSite is everything that stands on site for a plan, spares and what no cue
// commands included: the one count that load plan, totals, permit pack, order
// list, return sheet and rules read. Alternatives are all there. What is out of
// the night's rig is not.
type OnSite struct {
	Loads     []Load          // by placed effect, then article id
	Articles  []ArticleOnSite // by article id
	Divisions []DivisionNEC   // of the pieces, by hazard division
	Commands  int             // of the whole plan
	Pieces    int
	Spares    int     // of Pieces
	Unused    int     // of Pieces: no cue commands them, no key is meant for them, and they are no spares
	Presses   int     // of keys of the operator's plan, unit by unit, at most
	NEC       float64 // g, of all pieces
}

// Load is one article at one placed effect. A placed effect that is asked for
// another article than stands there has a load of each: both are on site.
type Load struct {
	Unit     *Unit
	Article  *Article // nil when the show has lost it
	Stands   bool     // it is what was placed there, after the night's swaps
	Pieces   int      // to load: 1 of what is used up, else 0
	Commands int      // of the plan, however many outputs carry each
	Song     int      // index into Plan.Songs of the first command
	First    *Command // nil when nothing commands it
	Hand     *HandKey // first key of the operator's plan that is meant for it, or nil
	Presses  int      // of all such keys, at most
}

// ArticleOnSite adds up an article's loads.
type ArticleOnSite struct {
	Article  *Article
	Standing int // placed effects where it stands, after the night's swaps
	Units    int // and where it is asked for as well
	Pieces   int // 0 of what is not used up
	Spares   int // of Units: on site, not programmed
	Unused   int // of Units: no cue commands them, and they are no spares
	Commands int
	NEC      float64 // g, of all pieces
}

// Needed is how many of the article it takes: one where it stands, and one more
// of what is used up where it is asked for and something else stands.
func (a *ArticleOnSite) Needed() int { return max(a.Standing, a.Pieces) }

// DivisionNEC is the net explosive content of one hazard division.
type DivisionNEC struct {
	Division string // "" = not given
	Pieces   int
	NEC      float64 // g
}

// UsedUp reports whether the article is gone once it was fired, so that it is
// counted in pieces: it can be commanded once, or holds explosive.
func (a *Article) UsedUp() bool { return a.SingleUse || a.NEC > 0 }

// Unused reports whether the load waits for a command that never comes, no key
// is meant for it, and it is no declared spare.
func (l *Load) Unused() bool { return l.First == nil && l.Hand == nil && !l.Unit.Placed.Spare }

// NEC is the load's net explosive content in grams.
func (l *Load) NEC() float64 {
	if l.Pieces == 0 {
		return 0
	}
	return grams(micrograms(l.Article.NEC) * int64(l.Pieces))
}

// Play is one article played on one unit in a song.
type Play struct {
	Unit     *Unit
	Article  *Article
	First    int32 // index into SongPlan.Commands of its first command
	Commands int
}

// Plays lists what the song plays, by unit, then first command.
func (p *SongPlan) Plays() []Play {
	plays := make([]Play, 0, len(p.Uses))
	for i := range p.Uses {
		start := len(plays)
		for _, k := range p.Uses[i].Commands {
			a := p.Commands[k].Article
			same := slices.IndexFunc(plays[start:], func(x Play) bool { return x.Article == a })
			if same >= 0 {
				plays[start+same].Commands++
				continue
			}
			plays = append(plays, Play{p.Uses[i].Unit, a, k, 1})
		}
	}
	return plays
}

// OnSite counts what stands on site for the plan.
func (p *Plan) OnSite() *OnSite {
	return p.OnSiteOf(func(i int) []Play { return p.Songs[i].Plays() })
}

// OnSiteOf is OnSite for somebody who keeps what each song plays, by its index.
func (p *Plan) OnSiteOf(plays func(song int) []Play) *OnSite {
	c := newSiteCount(p)
	for _, u := range p.Units.All {
		if !u.Out {
			c.load(u, u.Article)
		}
	}
	for i := range p.Songs {
		for _, x := range plays(i) {
			c.command(i, &p.Songs[i].Commands[x.First], x.Commands)
		}
	}
	for i := range p.Keys {
		c.key(&p.Keys[i])
	}
	return c.sum()
}

// OnSiteFor counts what is commanded in a part of the plan: by those commands
// that shows reports true for. What nothing commands, and what keys of the
// operator's plan are meant for, is not counted there.
func (p *Plan) OnSiteFor(shows func(song *PlanSong, c *Command) bool) *OnSite {
	c := newSiteCount(p)
	for i := range p.Songs {
		for k := range p.Songs[i].Commands {
			if cmd := &p.Songs[i].Commands[k]; shows(&p.Songs[i], cmd) {
				c.command(i, cmd, 1)
			}
		}
	}
	return c.sum()
}

// siteCount gathers the loads of each unit.
type siteCount struct {
	at   [][]*Load // by Unit.Index
	room []Load    // for the next loads
}

func newSiteCount(p *Plan) *siteCount {
	c := &siteCount{at: make([][]*Load, len(p.Units.All)), room: make([]Load, 0, len(p.Units.All))}
	one := make([]*Load, len(p.Units.All)) // most units have one load
	for i := range c.at {
		c.at[i] = one[i : i : i+1]
	}
	return c
}

func (c *siteCount) command(song int, first *Command, n int) {
	l := c.load(first.Unit, first.Article)
	if l.Commands += n; l.First == nil {
		l.Song, l.First = song, first
	}
}

// key counts what a key of the operator's plan is meant for.
func (c *siteCount) key(k *HandKey) {
	for _, u := range k.Uses {
		l := c.load(u.Unit, u.Article)
		if l.Presses += k.Cue.Presses; l.Hand == nil {
			l.Hand = k
		}
	}
}

// load finds or adds the load of an article at a unit.
func (c *siteCount) load(u *Unit, a *Article) *Load {
	for _, l := range c.at[u.Index] {
		if l.Article == a {
			return l
		}
	}
	if len(c.room) == cap(c.room) {
		c.room = make([]Load, 0, 64)
	}
	c.room = append(c.room, Load{Unit: u, Article: a, Stands: a == u.Article})
	l := &c.room[len(c.room)-1]
	if a != nil && a.UsedUp() {
		l.Pieces = 1
	}
	c.at[u.Index] = append(c.at[u.Index], l)
	return l
}

func (c *siteCount) sum() *OnSite {
	s := &OnSite{Loads: make([]Load, 0, len(c.at))}
	articles, divisions := map[ID]*ArticleOnSite{}, map[string]*DivisionNEC{}
	micro := map[any]int64{} // NEC in whole micrograms, so that the order of adding does not matter
	for _, list := range c.at {
		if len(list) > 1 {
			slices.SortFunc(list, func(a, b *Load) int { return strings.Compare(a.articleID(), b.articleID()) })
		}
		for _, l := range list {
			s.Loads = append(s.Loads, *l)
			s.Commands += l.Commands
			s.Presses += l.Presses
			if l.Article == nil {
				continue
			}
			a := entry(articles, l.Article.ID)
			a.Article = l.Article
			a.add(l)
			if l.Pieces == 0 {
				continue
			}
			d := entry(divisions, l.Article.Division)
			d.Pieces += l.Pieces
			nec := micrograms(l.Article.NEC) * int64(l.Pieces)
			micro[a], micro[d], micro[s] = micro[a]+nec, micro[d]+nec, micro[s]+nec
			s.Pieces += l.Pieces
			s.Spares += pieces(l, l.Unit.Placed.Spare)
			s.Unused += pieces(l, l.Unused())
		}
	}
	for _, a := range articles {
		a.NEC = grams(micro[a])
		s.Articles = append(s.Articles, *a)
	}
	for name, d := range divisions {
		s.Divisions = append(s.Divisions, DivisionNEC{name, d.Pieces, grams(micro[d])})
	}
	s.NEC = grams(micro[s])
	slices.SortFunc(s.Articles, func(a, b ArticleOnSite) int { return cmp.Compare(a.Article.ID, b.Article.ID) })
	slices.SortFunc(s.Divisions, func(a, b DivisionNEC) int { return cmp.Compare(a.Division, b.Division) })
	return s
}

func (a *ArticleOnSite) add(l *Load) {
	a.Units++
	if l.Stands {
		a.Standing++
	}
	a.Pieces += l.Pieces
	a.Commands += l.Commands
	switch {
	case l.Unit.Placed.Spare:
		a.Spares++
	case l.Unused():
		a.Unused++
	}
}

func (l *Load) articleID() string {
	if l.Article == nil {
		return ""
	}
	return string(l.Article.ID)
}

// pieces gives a load's pieces where they count, else 0.
func pieces(l *Load, counts bool) int {
	if counts {
		return l.Pieces
	}
	return 0
}

// entry finds or makes the entry of a key.
func entry[K comparable, V any](m map[K]*V, key K) *V {
	if m[key] == nil {
		m[key] = new(V)
	}
	return m[key]
}

func micrograms(g float64) int64 { return int64(math.Round(g * 1e6)) }

// grams gives the number that a count of micrograms is written as.
func grams(micro int64) float64 {
	g, _ := strconv.ParseFloat(strconv.FormatFloat(float64(micro)/1e6, 'f', 6, 64), 64) // a number that was just written
	return g
}
