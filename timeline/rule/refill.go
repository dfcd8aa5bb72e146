package rule

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "refill-window",
	Summary: "a supply is drawn from before its refill is done",
	Reason: "The refill starts at the end of its song and takes the minutes planned for it. The next command, or key of the operator's plan, that draws from the supply must come after that, " +
		"in the shortest order that alternatives allow. Without minutes nothing is compared: see refill-not-given.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "minutes", Unit: "min", Field: "set refills, or night refills", Mark: timeline.CommonPractice, Source: "timed by the crew", Help: "how long the refill takes"},
	},
	set: checkRefillWindow,
})

var _ = enter(Rule{
	Name:    "refill-gap",
	Summary: "a refill takes longer than the gap it is planned in",
	Reason: "Whoever refills stands at the supply while the next song plays. That may be meant, where the supply lies out of reach of all that plays (see refill-reach); somebody must have " +
		"looked at it.",
	Scope:    WholeSet,
	Severity: Warning,
	Settings: []Setting{
		{Name: "minutes", Unit: "min", Field: "set refills, or night refills", Mark: timeline.CommonPractice, Source: "timed by the crew", Help: "how long the refill takes"},
		{Name: "gap", Unit: "s", Field: "set entries", Mark: timeline.CommonPractice, Source: "the set", Help: "between the song before the refill and the next"},
	},
	set: checkRefillGap,
})

var _ = enter(Rule{
	Name:    "refill-reach",
	Summary: "an effect plays too near to a supply while somebody refills it",
	Reason: "While the refill lasts, or for the whole gap where its minutes are not given, nothing may be commanded whose unit stands within a distance of the supply, or whose clear zone, " +
		"fallout radius, label distance or what rule set, permit and officer ask for reaches it. An effect counts with its lead spread and as long as something falls or floats. " +
		"Measured on the plan. Without the supply's position nothing is compared: see refill-not-given.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "minutes", Unit: "min", Field: "set refills, or night refills", Mark: timeline.CommonPractice, Source: "timed by the crew", Help: "how long the refill takes"},
		{Name: "distance", Default: "3", Unit: "m", Mark: timeline.Judgement, Source: "our judgement", Help: "around the supply nothing plays meanwhile, whatever its article asks"},
	},
	set: checkRefillReach,
})

var refillDistance = setting("distance", "refill-reach")

var _ = enter(Rule{
	Name:     "refill-lost",
	Summary:  "a planned refill does not surely happen",
	Reason:   "Its supply is gone, its song is not played tonight, or that song is an alternative and may not be. Levels are computed without it.",
	Scope:    WholeSet,
	Severity: Error,
	set:      checkRefillLost,
})

var _ = enter(Rule{
	Name:     "refill-not-given",
	NoData:   true,
	Summary:  "a planned refill leaves open what its checks need",
	Reason:   "Without minutes the window is not compared, without the supply's position its neighbours are not, and a refill that nobody is named for is done by nobody.",
	Scope:    WholeSet,
	Severity: Note,
	set:      checkRefillGiven,
})

// refillAt is a refill in its gap.
type refillAt struct {
	*timeline.PlannedRefill
	gap timeline.Time // to the next song's audio in the shortest order; never after the last song
}

// eachRefill goes through the refills that are placed in the set.
func (r *setRun) eachRefill(do func(refillAt)) {
	for i := range r.plan.Refills {
		f := &r.plan.Refills[i]
		if f.Of == nil || f.Song < 0 {
			continue
		}
		at := refillAt{f, never}
		for j := f.Song + 1; j < len(r.plan.Songs); j++ {
			at.gap = min(at.gap, r.after(f, j))
		}
		do(at)
	}
}

// after is the shortest time from the start of a refill to that of song j.
func (r *setRun) after(f *timeline.PlannedRefill, j int) timeline.Time {
	return r.order.between(f.Song, j) - r.song(f.Song).Duration
}

// ofRefill starts a finding about a refill.
func (r *setRun) ofRefill(f *timeline.PlannedRefill) Finding {
	x := Finding{Ref: rigRef("supply", f.Supply), Others: []timeline.Ref{f.From}}
	if f.Song >= 0 {
		x.Song, x.Number = r.song(f.Song).Song.ID, r.song(f.Song).Number
	}
	return x
}

func (r *setRun) addRefill(f *timeline.PlannedRefill, x Finding) {
	r.add(r.tune(f.Song, nil, nil), f.Song, "", x)
}

func minutes(t timeline.Time) string { return trimZeros((t / 60).Text(2)) + " min" }

// refillName names a refill in a sentence.
func (r *setRun) refillName(f *timeline.PlannedRefill) string {
	return "the refill of " + r.plan.Show.CalledBy(f.Supply, "supply")
}

// nextDraw is what draws from a supply first after a refill.
type nextDraw struct {
	in      timeline.Time // from the start of the refill
	song    int
	command *timeline.Command
	key     *timeline.HandKey
}

// drawnNext finds what draws from a refill's supply first after it starts.
func (r *setRun) drawnNext(f *timeline.PlannedRefill) nextDraw {
	next := nextDraw{in: never}
	supply := slices.Index(r.feeds.Supplies, f.Of)
	for j := f.Song + 1; j < len(r.plan.Songs); j++ {
		starts := r.after(f, j)
		if r.results[j].sum.drawn[supply] == 0 {
			continue
		}
		for i := range r.song(j).Commands {
			if c := &r.song(j).Commands[i]; r.feeds.Feed(supply, c) && c.Draw() > 0 {
				if starts+c.At < next.in {
					next = nextDraw{starts + c.At, j, c, nil}
				}
				break // commands are sorted by time
			}
		}
	}
	for i := range r.plan.Keys {
		k := &r.plan.Keys[i]
		if k.Song <= f.Song || !slices.ContainsFunc(k.Uses, func(u timeline.HandUse) bool { return r.keyDraws(f.Of, &u) }) {
			continue
		}
		for _, s := range k.Spans {
			if at := r.after(f, k.Song) + s.From; at < next.in {
				next = nextDraw{at, k.Song, nil, k}
			}
		}
	}
	return next
}

func (r *setRun) keyDraws(s *timeline.Supply, u *timeline.HandUse) bool {
	return slices.Contains(s.Feeds, u.Unit.Placed.ID) && s.Holds(u.Article) && u.Draw() > 0
}

func checkRefillWindow(r *setRun) {
	r.eachRefill(func(f refillAt) {
		next := r.drawnNext(f.PlannedRefill)
		if f.Minutes == 0 || next.in >= f.Needs() {
			return
		}
		x := r.ofRefill(f.PlannedRefill)
		by := ""
		if next.command != nil {
			ps := r.song(next.song)
			by = "the command at " + ps.Rate.Label(next.command.Frame) + " in song " + songName(ps)
			x.Others = append(x.Others, cueRef(ps.SongPlan, next.command.Cue))
		} else {
			by = next.key.Cue.Label() + " in song " + songName(r.song(next.song))
			x.Others = append(x.Others, keyRef(next.key))
		}
		x.Text = fmt.Sprintf("%s takes %s, and %s draws from it %s after the song", r.refillName(f.PlannedRefill), minutes(f.Needs()), by, span(next.in))
		x.Values = []Value{seconds("needs", f.Needs()), seconds("has", next.in)}
		x.Grounds = []Ground{ofRecord(f.From, "refills", f.Refill.String(), "")}
		x.Help = fmt.Sprintf("plan it in a longer gap, make this one %s longer, or change cylinders faster", minutes(f.Needs()-next.in))
		r.addRefill(f.PlannedRefill, x)
	})
}

func checkRefillGap(r *setRun) {
	r.eachRefill(func(f refillAt) {
		if f.Needs() <= f.gap {
			return
		}
		x := r.ofRefill(f.PlannedRefill)
		x.Text = fmt.Sprintf("%s takes %s and the gap lasts %s: somebody is at the supply for %s of the next song", r.refillName(f.PlannedRefill), minutes(f.Needs()), span(f.gap), span(f.Needs()-f.gap))
		x.Values = []Value{seconds("needs", f.Needs()), seconds("gap", f.gap)}
		x.Grounds = []Ground{ofRecord(f.From, "refills", f.Refill.String(), "")}
		x.Help = "plan it in a longer gap, or make this one longer; else agree with the crew that it goes on into the song"
		r.addRefill(f.PlannedRefill, x)
	})
}

func checkRefillLost(r *setRun) {
	for i := range r.plan.Refills {
		f := &r.plan.Refills[i]
		if f.Counts {
			continue
		}
		x := r.ofRefill(f)
		why := "its song may not be played: it is an alternative"
		switch {
		case f.Of == nil:
			why = "the supply is gone"
		case f.Song < 0:
			why = fmt.Sprintf("its song (%s) is not played", f.After)
			if g := r.plan.Show.Song(f.After); g != nil {
				why = fmt.Sprintf("its song %q is not played", g.FullTitle())
			}
		}
		x.Text = r.refillName(f) + " does not surely happen: " + why
		x.Values = []Value{word("after", string(f.After)), word("why", why)}
		x.Help = "plan it after a song that is surely played"
		r.addRefill(f, x)
	}
}

func checkRefillGiven(r *setRun) {
	r.eachRefill(func(f refillAt) {
		var missing []string
		if f.Minutes == 0 {
			missing = append(missing, "minutes (refill-window, refill-gap)")
		}
		if strings.TrimSpace(f.By) == "" {
			missing = append(missing, "who does it")
		}
		if r.plan.Show.Rig.Position(f.Of.At) == nil {
			missing = append(missing, "the supply's position (refill-reach)")
		}
		if len(missing) == 0 {
			return
		}
		x := r.ofRefill(f.PlannedRefill)
		x.Text = r.refillName(f.PlannedRefill) + skippedFor + strings.Join(missing, ", ")
		x.Values = []Value{word("missing", strings.Join(missing, ", "))}
		x.Help = "write minutes= and by= with the refill, and give the supply a position"
		r.addRefill(f.PlannedRefill, x)
	})
}

// reachHit is what plays near a supply while it is refilled.
type reachHit struct {
	unit    *timeline.Unit
	article *timeline.Article
	away    float64
	needs   float64
	by      string
	song    int
	command *timeline.Command
	key     *timeline.HandKey
}

// checkRefillReach looks at each refill for the time it lasts.
func checkRefillReach(r *setRun) {
	needs := map[*timeline.Article]asked{}
	r.eachRefill(func(f refillAt) {
		pos := r.plan.Show.Rig.Position(f.Of.At)
		lasts := f.Needs()
		if lasts == 0 {
			lasts = f.gap
		}
		if pos == nil || lasts == never {
			return
		}
		check := &reachCheck{setRun: r, refill: f.PlannedRefill, at: pointOf(pos), lasts: lasts, needs: needs}
		for j := f.Song; j < len(r.plan.Songs); j++ {
			check.song(j)
		}
		check.keys()
		check.tell()
	})
}

// reachCheck is one refill and what plays around it.
type reachCheck struct {
	*setRun
	refill *timeline.PlannedRefill
	at     timeline.Point
	lasts  timeline.Time
	needs  map[*timeline.Article]asked
	hits   []reachHit
}

// song finds what plays in a song while the refill lasts; in the song before
// it what still falls or floats.
func (c *reachCheck) song(j int) {
	start := -c.setRun.song(j).Duration
	if j > c.refill.Song {
		if start = c.after(c.refill, j); start-c.setRun.song(j).PreRoll-timeline.Minute > c.lasts {
			return
		}
	}
	for i := range c.setRun.song(j).Commands {
		cmd := &c.setRun.song(j).Commands[i]
		if from, to := cmd.Zone(); start+to <= 0 || start+from >= c.lasts {
			continue
		}
		c.near(reachHit{unit: cmd.Unit, article: cmd.Article, song: j, command: cmd})
	}
}

// keys finds the keys that may be pressed meanwhile.
func (c *reachCheck) keys() {
	for i := range c.plan.Keys {
		k := &c.plan.Keys[i]
		meets := k.Song < 0
		if k.Song > c.refill.Song {
			start := c.after(c.refill, k.Song)
			meets = slices.ContainsFunc(k.Spans, func(s timeline.HandSpan) bool { return start+s.From < c.lasts && start+s.To > 0 })
		}
		if !meets {
			continue
		}
		for _, u := range k.Uses {
			c.near(reachHit{unit: u.Unit, article: u.Article, song: k.Song, key: k})
		}
	}
}

// near keeps a hit whose unit stands too near, once for each unit and article.
func (c *reachCheck) near(h reachHit) {
	if h.unit.Position == nil || slices.ContainsFunc(c.hits, func(o reachHit) bool { return o.unit == h.unit && o.article == h.article }) {
		return
	}
	need, ok := c.needs[h.article]
	if !ok {
		need = c.largest(h.article)
		c.needs[h.article] = need
	}
	h.needs, h.by = need.metres, need.by
	if own := c.tune(h.song, h.unit, h.article).of(refillDistance).plain; own > h.needs {
		h.needs, h.by = own, "the distance of this rule"
	}
	p := pointOf(h.unit.Position)
	if h.away = math.Hypot(p.X-c.at.X, p.Y-c.at.Y); above(h.needs, h.away) {
		c.hits = append(c.hits, h)
	}
}

// largest is the largest distance that anything asks for an article, whomever
// it protects.
func (c *reachCheck) largest(a *timeline.Article) (most asked) {
	for _, to := range []timeline.DistanceTo{timeline.ToAudience, timeline.ToPerformers} {
		if list := c.askedOf(a, to); len(list) > 0 && list[0].metres > most.metres {
			most = list[0]
		}
	}
	return most
}

func (c *reachCheck) tell() {
	if len(c.hits) == 0 {
		return
	}
	x := c.ofRefill(c.refill)
	first := c.hits[0]
	var names []string
	for _, h := range c.hits {
		names = addOnce(names, h.unit.Name)
		x.Values = append(x.Values, measure("away "+string(h.unit.Placed.ID), roundTo(h.away, 3), "m"), measure("needs "+string(h.unit.Placed.ID), h.needs, "m"))
		x.Others = addOnce(x.Others, rigRef("placed", h.unit.Placed.ID))
		if h.key != nil {
			x.Others = addOnce(x.Others, keyRef(h.key))
		}
	}
	what := ""
	if first.command != nil {
		ps := c.setRun.song(first.song)
		what = fmt.Sprintf("%s in song %s", ps.Rate.Label(first.command.Frame), songName(ps))
		x.Others = append(x.Others, cueRef(ps.SongPlan, first.command.Cue))
	} else {
		what = first.key.Cue.Label()
	}
	x.Text = fmt.Sprintf("%s: %s may play while it lasts, first %s (%s): %s away, and %s asks for %s", c.refillName(c.refill), some(names), first.unit.Name, what, c.down(first.away), first.by, c.up(first.needs))
	x.Grounds = []Ground{ofRecord(c.refill.From, "refills", c.refill.Refill.String(), ""), c.rule.fromSetting(refillDistance, c.tune(first.song, first.unit, first.article))}
	x.Help = "plan it where these are quiet, move the supply, or cut them until it is done" + deferral
	c.addRefill(c.refill, x)
}
