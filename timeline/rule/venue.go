package rule

import (
	"fmt"
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

var _ = enter(Rule{
	Name:     "banned",
	Summary:  "the set plays what the venue bans",
	Reason:   "The venue names families or articles that must not be used there. One finding for each article that is still planned for tonight.",
	Scope:    WholeSet,
	Severity: Error,
	set:      checkBanned,
})

var _ = enter(Rule{
	Name:    "roof",
	Summary: "an effect reaches higher than the venue's trim height allows",
	Reason: "The highest point that an effect reaches along its axis, with tolerance, and a margin must not exceed the trim height: for what stands upright position z + height x (1 + tolerance). A shot rises to " +
		"its apex; a line rocket reaches as high as the higher end of its line and half its corridor. Cold jets, paper and fog are looked at by low-roof. Without a trim height nothing is compared. The label, the permit and the authority come first.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "height", Unit: "m", Field: "article height", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "how high the effect reaches above its position; 0 = not given"},
		{Name: "trim", Unit: "m", Field: "venue trim", Mark: timeline.Measured, Source: "the venue", Help: "lowest point of roof and rig above the stage floor; 0 = not given"},
		{Name: "tolerance", Unit: "", Field: "venue tolerance", Mark: timeline.Judgement, Source: "our judgement: 0.2", Help: "part of the height that is added to it"},
		{Name: "margin", Unit: "m", Field: "venue margin", Mark: timeline.Judgement, Source: "our judgement: 1", Help: "kept free below the trim height"},
		inRecord("article corridor", "m", "width of a line rocket's corridor"),
	},
	set: func(r *setRun) { r.checkRoof(func(c timeline.Class) bool { return !mild(c) }) },
})

var _ = enter(Rule{
	Name:     "low-roof",
	Summary:  "a cold jet, paper or fog reaches higher than the venue's trim height allows",
	Reason:   "As roof, for what burns nothing: it meets the roof or what hangs there, comes back down sooner, and sets off detectors. Where a venue does not want that, make it an error.",
	Scope:    WholeSet,
	Severity: Note,
	Settings: []Setting{
		inRecord("article height", "m", "how high it reaches above its position"),
		inRecord("venue trim", "m", "lowest point of roof and rig above the stage floor"),
		inRecord("venue tolerance", "", "part of the height that is added to it"),
		inRecord("venue margin", "m", "kept free below the trim height"),
	},
	set: func(r *setRun) { r.checkRoof(mild) },
})

// mild reports whether effects of a class burn nothing under a roof.
func mild(c timeline.Class) bool {
	return c == timeline.Cold || c == timeline.Paper || c == timeline.Cloud
}

// eachArticle gives each article that the set plays, with all its uses, in the
// order of units.
func (r *setRun) eachArticle(do func(*timeline.Article, []*setUse)) {
	if r.articles == nil {
		r.articles = r.groupByArticle()
	}
	for _, g := range r.articles {
		do(g.article, g.uses)
	}
}

// articleUses is what the set does with one article.
type articleUses struct {
	article *timeline.Article
	uses    []*setUse
}

func (r *setRun) groupByArticle() []articleUses {
	groups := []articleUses{}
	place := map[*timeline.Article]int{}
	last, at := (*timeline.Article)(nil), 0 // neighbours mostly play the same
	for _, list := range r.merged {
		for i := range list {
			a := list[i].article
			if a != last || len(groups) == 0 {
				known := false
				if at, known = place[a]; !known {
					at = len(groups)
					place[a] = at
					groups = append(groups, articleUses{article: a})
				}
				last = a
			}
			groups[at].uses = append(groups[at].uses, &list[i])
		}
	}
	return groups
}

func checkBanned(r *setRun) {
	v := r.plan.Venue
	if v == nil || len(v.Banned) == 0 {
		return
	}
	r.eachArticle(func(a *timeline.Article, uses []*setUse) {
		word := ""
		switch {
		case slices.Contains(v.Banned, string(a.ID)):
			word = string(a.ID)
		case slices.Contains(v.Banned, string(a.Family)):
			word = string(a.Family)
		default:
			return
		}
		r.banned(a, uses, word)
	})
}

func (r *setRun) banned(a *timeline.Article, uses []*setUse, banned string) {
	first, total, presses := r.earliest(uses), 0, 0
	for _, u := range uses {
		total, presses = total+u.cues, presses+u.presses
	}
	f := r.firstUse(rigRef("article", a.ID), first)
	f.Others = append(f.Others, rigRef("venue", r.plan.Venue.ID))
	what := banned
	if banned == string(a.ID) {
		what = r.name(a)
	}
	f.Text = fmt.Sprintf("%s is planned with %s, and %s bans %s", r.name(a), often(total, presses), r.name(r.plan.Venue), what)
	f.Values = append([]Value{word("banned", banned)}, withPresses(presses, count("commands", total))...)
	f.Grounds = []Ground{ofRecord(rigRef("venue", r.plan.Venue.ID), "banned", banned, "")}
	f.Help = "cut it for the night, or swap it for another article"
	if n := r.plan.Night; n != nil {
		cut := timeline.Cut{Selector: timeline.Selector{What: "article", ID: string(a.ID)}, Reason: "banned at " + r.name(r.plan.Venue)}
		items := []string{}
		for _, c := range n.Cuts {
			items = append(items, c.String())
		}
		f.Fix = fixList("cut "+r.name(a)+" tonight", rigRef("night", n.ID), "cuts", append(items, cut.String()))
	}
	r.add(r.tune(first.song, first.unit, a), first.song, "", f)
}

// checkRoof looks at what reaches the roof, of some classes.
func (r *setRun) checkRoof(of func(timeline.Class) bool) {
	v := r.plan.Venue
	if v == nil || v.Trim == 0 {
		return
	}
	for _, list := range r.merged {
		for i := range list {
			use := &list[i]
			if !of(use.article.Family.Class()) {
				continue
			}
			if top, needs, ok := r.spaces.top(use.unit, use.article); ok && (figure.Row{Required: needs, Planned: v.Trim}).State() == figure.Short {
				r.tooHigh(use, v, top)
			}
		}
	}
}

// above compares two heights to the tenth of a millimetre, so that sums of
// decimal fractions compare as they would on paper.
func above(a, b float64) bool { return a-b > 0.00005 }

func (r *setRun) tooHigh(use *setUse, v *timeline.Venue, top float64) {
	z := 0.0
	if use.unit.Position != nil {
		z = use.unit.Position.Z
	}
	f := r.firstUse(rigRef("placed", use.unit.Placed.ID), use)
	f.Others = append(f.Others, rigRef("article", use.article.ID), rigRef("venue", v.ID))
	f.Text = fmt.Sprintf("%s: %s reaches %s with tolerance, and needs %s below a trim height of %s", use.unit.Name, r.name(use.article), r.up(figure.RoundedUp(top)), r.metres(v.Margin), r.metres(v.Trim))
	if row := use.unit; row.End == nil && whichWay(row, use.article) != "" {
		f.Text += "; it " + pointing(row, use.article)
	}
	f.Values = []Value{measure("position", z, "m"), measure("height", use.article.Height, "m"), measure("tolerance", v.Tolerance, ""),
		measure("margin", v.Margin, "m"), measure("trim", v.Trim, "m")}
	venue := rigRef("venue", v.ID)
	f.Grounds = []Ground{ofArticle(use.article, "height", r.metres(use.article.Height)), ofRecord(venue, "trim", r.metres(v.Trim), timeline.Measured),
		ofRecord(venue, "tolerance", share(v.Tolerance), timeline.Judgement), ofRecord(venue, "margin", r.metres(v.Margin), timeline.Judgement)}
	f.Help = fmt.Sprintf("use an article of %s height or less there, place it lower, or cut it for the night", r.down(max(0, (v.Trim-v.Margin-z)/(1+v.Tolerance))))
	if use.unit.End != nil {
		f.Help = fmt.Sprintf("let its line begin and end at %s or lower, or cut it for the night", r.down(max(0, v.Trim-v.Margin-use.article.Corridor/2)))
		f.Grounds[0] = ofArticle(use.article, "corridor", r.metres(use.article.Corridor))
	}
	r.add(r.tune(use.song, use.unit, use.article), use.song, "", f)
}
