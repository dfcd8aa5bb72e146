package given

import (
	"cmp"
	"slices"
	"strconv"

	"emberbeat/timeline"
)

// Value is a value that holds for a record, and where it comes from.
type Value struct {
	Field   string // of the record
	Text    string // as fields write it; "" = nothing gives one, or the units have several
	Several int    // how many values the units have, where they have several: from Low to High
	Low     string
	High    string
	Own     bool         // the record gives it itself
	From    timeline.Ref // what gives it; without an id where several of the kind do, and for a swap of the night
	Instead string       // what would hold without the own value, or what was asked for where the night swaps; "" for nothing, or several
	Mark    timeline.Mark
}

// asks is what a record says itself and what stands above it.
type asks struct {
	target, article, overTarget, overArticle timeline.ID
	open, overOpen                           timeline.Time
	level                                    int
	window                                   bool
	lane                                     timeline.Ref // what stands above a cue
	articles                                 []*timeline.Article
	units                                    []*timeline.Unit
}

// Of gives where target, article, open time and level of a cue come from; of one on a lane of windows, target and open time. The commands of the plan
// say what holds; for a cue that leads to none it is what it would have.
func Of(s *timeline.Show, p *timeline.SongPlan, c *timeline.Cue) []Value {
	return CommandsOf(p, c).Of(s, c)
}

// Of is the function Of for one of the cues. Cues that are alike share the list, which is not to be changed.
func (m *Commands) Of(s *timeline.Show, c *timeline.Cue) []Value {
	key := alike{lane: c.Lane, target: c.Target, article: c.Article, open: c.Open, level: c.Level}
	for i, cmd := range m.of[c] {
		if i > 0 && cmd.Article != key.plays {
			return valuesOf(s, m.plan, c, m.of[c])
		}
		key.plays = cmd.Article
	}
	if s != m.show {
		m.show, m.known = s, map[alike][]Value{}
	}
	list, known := m.known[key]
	if !known {
		list = valuesOf(s, m.plan, c, m.of[c])
		m.known[key] = list
	}
	return list
}

func valuesOf(s *timeline.Show, p *timeline.SongPlan, c *timeline.Cue, commands []*timeline.Command) []Value {
	lane := p.Song.Lane(c.Lane)
	if lane == nil {
		lane = &timeline.Lane{}
	}
	a := asks{target: c.Target, article: c.Article, open: c.Open, level: c.Level, overTarget: lane.Target, overArticle: lane.Article, overOpen: lane.Open,
		window: lane.Window(), lane: timeline.Ref{Kind: "lane", Song: p.Song.ID, ID: lane.ID}}
	a.find(s, p, commands)
	list := append(make([]Value, 0, 4), a.name("target", a.target, a.overTarget))
	if !a.window {
		list = append(list, a.whichArticle())
	}
	list = append(list, a.howLong())
	if !a.window {
		list = append(list, a.howMuch())
	}
	return list
}

// OfLane is Of for what the cues of a lane have where they say nothing: target, article and open time.
func OfLane(s *timeline.Show, p *timeline.SongPlan, l *timeline.Lane) []Value {
	a := asks{target: l.Target, article: l.Article, open: l.Open, window: l.Window()}
	a.find(s, p, nil)
	list := []Value{a.name("target", a.target, "")}
	if !a.window {
		list = append(list, a.whichArticle())
	}
	return append(list, a.howLong())
}

// find gives the units and the articles that a record plays: those of its commands, else those that it would ask for.
func (a *asks) find(s *timeline.Show, p *timeline.SongPlan, commands []*timeline.Command) {
	if p.Units != nil {
		a.units, _ = p.Units.Target(cmp.Or(a.target, a.overTarget))
	}
	add := func(x *timeline.Article) {
		if x != nil && !slices.Contains(a.articles, x) {
			a.articles = append(a.articles, x)
		}
	}
	for _, cmd := range commands {
		add(cmd.Article)
	}
	if len(a.articles) > 0 {
		return
	}
	if asked := cmp.Or(a.article, a.overArticle); asked != "" {
		add(s.Stock.Article(asked))
		return
	}
	for _, u := range a.units {
		add(u.Article)
	}
}

// name is a value of which the lane says what holds where the record says nothing.
func (a *asks) name(field string, own, above timeline.ID) Value {
	v := Value{Field: field, Text: string(cmp.Or(own, above))}
	if own != "" {
		v.Own, v.Instead = true, string(above)
	} else if above != "" {
		v.From = a.lane
	}
	return v
}

func (a *asks) whichArticle() Value {
	v := a.name("article", a.article, a.overArticle)
	asked := v.Text
	ids := make([]string, len(a.articles))
	for i, x := range a.articles {
		ids[i] = string(x.ID)
	}
	if slices.Sort(ids); len(ids) > 0 {
		v.spread(ids)
	}
	rig := a.rig()
	switch {
	case asked != "" && len(ids) > 0 && !slices.Contains(ids, asked): // the night plays another
		v.From, v.Own, v.Instead = timeline.Ref{Kind: "night"}, false, asked
	case v.Own && v.Instead == "":
		v.Instead = rig
	case asked == "" && len(a.units) == 1:
		v.From = timeline.Ref{Kind: "placed", ID: a.units[0].Placed.ID}
	case asked == "" && len(a.units) > 1:
		v.From = timeline.Ref{Kind: "placed"}
	}
	return v
}

// rig gives the article that stands at all units, "" where they have several.
func (a *asks) rig() string {
	id := ""
	for i, u := range a.units {
		if u.Placed == nil || i > 0 && string(u.Placed.Article) != id {
			return ""
		}
		id = string(u.Placed.Article)
	}
	return id
}

func (a *asks) howLong() Value {
	v := Value{Field: "open", Own: a.open != 0}
	under := Value{Field: "open"}
	if a.overOpen != 0 {
		under.Text, under.From = a.overOpen.String(), a.lane
	} else if !a.window {
		under.of(a.articles, func(x *timeline.Article) (int64, string) {
			if x.Open == 0 {
				return 0, ""
			}
			return int64(x.Open), x.Open.String()
		})
	}
	if !v.Own {
		return under
	}
	v.Text, v.Instead = a.open.String(), under.Text
	return v
}

func (a *asks) howMuch() Value {
	v := Value{Field: "level"}
	v.of(a.articles, func(x *timeline.Article) (int64, string) {
		n := cmp.Or(x.Level, 100)
		return int64(n), strconv.Itoa(n)
	})
	if a.level != 0 {
		return Value{Field: "level", Text: strconv.Itoa(a.level), Own: true, Instead: v.Text}
	}
	return v
}

// spread sets a value that units have, or how many and between which; texts are in order.
func (v *Value) spread(texts []string) {
	all := slices.Compact(slices.Clone(texts))
	if len(all) == 1 {
		v.Text = all[0]
		return
	}
	v.Text, v.Several, v.Low, v.High = "", len(all), all[0], all[len(all)-1]
}

// of sets a figure of articles; those that do not give it do not count.
func (v *Value) of(articles []*timeline.Article, figure func(*timeline.Article) (order int64, text string)) {
	type one struct {
		order int64
		text  string
	}
	var list []one
	for _, a := range articles {
		if order, text := figure(a); text != "" {
			list = append(list, one{order, text})
		}
	}
	if len(list) == 0 {
		return
	}
	slices.SortFunc(list, func(a, b one) int { return cmp.Compare(a.order, b.order) })
	texts := make([]string, len(list))
	for i := range list {
		texts[i] = list[i].text
	}
	v.spread(texts)
	v.From = timeline.Ref{Kind: "article"}
	if len(articles) == 1 {
		v.From.ID, v.Mark = articles[0].ID, articles[0].MarkOf(v.Field)
	}
}
