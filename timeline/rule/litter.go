package rule

import (
	"fmt"
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
	"emberbeat/timeline/reach"
)

var _ = enter(Rule{
	Name:    paperName,
	Summary: "a flame, sparks or a shot burn where paper hangs in the air",
	Reason: "Paper is in the air from its hit to the end of its hang time, spread included, anywhere between its barrel and the foot of its tip, as wide as it bursts and as far as the air carries it meanwhile. It meets a hot effect whose shadow on the plan, " +
		"as wide as its widest, it touches, and that does not burn wholly above it. A hang time that is not given is taken as its height over sink. Where a venue gives a wind limit and no volume it counts as outdoors, and paper goes where the wind goes: see paper-outdoors.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "hang", Unit: "s", Field: "article hang", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "how long paper hangs; 0 = not given"},
		{Name: "air", Default: "0.3", Unit: "m/s", Mark: timeline.Judgement, Source: "our judgement, indoors", Help: "how fast the air carries paper"},
		{Name: "sink", Default: "0.5", Unit: "m/s", Mark: timeline.Judgement, Source: "our judgement", Help: "how fast paper sinks, where no hang time is given"},
		{Name: "anywhere", Default: "12", Unit: "m", Mark: timeline.Judgement, Source: "our judgement, about the width of a stage", Help: "drift from which paper is said to go anywhere"},
		inRecord("article height", "m", "how high an effect reaches"),
	},
	set: func(r *setRun) { r.checkLitter(paperName) },
})

var _ = enter(Rule{
	Name:     paperLaterName,
	Summary:  "a flame or sparks burn later where paper has come down",
	Reason:   "As paper-over-hot: what has come down lies on the head that burns next, and streamers hang until they are taken down. Nothing here knows whether somebody cleans up in between.",
	Scope:    WholeSet,
	Severity: Warning,
	Settings: []Setting{
		inRecord("article height", "m", "how high an effect reaches"),
		inRecord("article hang", "s", "how long paper is in the air"),
	},
	set: func(r *setRun) { r.checkLitter(paperLaterName) },
})

var _ = enter(Rule{
	Name:     paperOutdoorsName,
	Summary:  "outdoors paper may come down anywhere",
	Reason:   "In the wind up to which the venue and the article allow it, paper is carried further than the stage is wide while it hangs: no figure says what it will not meet.",
	Scope:    WholeSet,
	Severity: Note,
	set:      func(r *setRun) { r.checkLitter(paperOutdoorsName) },
})

// The rules about paper, by name: they share their numbers.
const (
	paperName         = "paper-over-hot"
	paperLaterName    = "paper-on-hot"
	paperOutdoorsName = "paper-outdoors"
)

var (
	paperAir  = setting("air", paperName)
	paperSink = setting("sink", paperName)
	paperFar  = setting("anywhere", paperName)
)

// drift is where the paper of a use may be.
type drift struct {
	use   *setUse
	paper figure.Paper
	hang  timeline.Time
	far   float64 // m that the air carries it
}

func (r *setRun) checkLitter(name string) {
	t := r.env.settings[indexOf(paperName)].at(nil, nil, nil)
	var all []drift
	var hot []*setUse
	for _, list := range r.merged {
		for i := range list {
			use := &list[i]
			if use.unit.Position == nil {
				continue
			}
			switch use.article.Family.Class() {
			case timeline.Paper:
				if d, ok := r.driftOf(use, t); ok {
					all = append(all, d)
				}
			case timeline.Hot, timeline.Spark, timeline.Shot:
				hot = append(hot, use)
			}
		}
	}
	for i := range all {
		switch d := &all[i]; {
		case name == paperOutdoorsName:
			if d.far > t.of(paperFar).plain {
				r.paperAnywhere(d)
			}
		case d.far <= t.of(paperFar).plain:
			r.meets(d, hot, name == paperLaterName, t)
		}
	}
}

// driftOf gives where paper may be; false where its height is not known.
func (r *setRun) driftOf(use *setUse, t *tuning) (drift, bool) {
	x := r.spaces.of(use.unit, use.article, timeline.ToAudience)
	if x.Envelope == nil {
		return drift{}, false
	}
	a, air := use.article, t.of(paperAir).plain
	if v := r.plan.Venue; v != nil && v.Volume == 0 && v.Wind > 0 {
		air = v.Wind
		if a.Wind > 0 {
			air = min(air, a.Wind)
		}
	}
	hang := floats(x.Shape, t)
	burst := a.Fallout
	if burst == 0 {
		burst = x.Envelope.Widest()
	}
	far := air * hang.Seconds()
	return drift{use, figure.PaperOf(x.Envelope, burst, air, hang.Seconds(), 0), hang, far}, true
}

// floats gives how long what has been shot along an envelope is in the air: as
// its article says, else as long as it takes to sink from the top.
func floats(x *reach.Shape, t *tuning) timeline.Time {
	if x.Article.Hang > 0 {
		return x.Article.Hang
	}
	return timeline.Time((max(0, x.At.Z) + x.Envelope.Length) / max(t.of(paperSink).plain, 0.01) * float64(timeline.Second))
}

func (r *setRun) paperAnywhere(d *drift) {
	f := r.firstUse(rigRef("article", d.use.article.ID), d.use)
	f.Text = fmt.Sprintf("%s may drift %s outdoors while it hangs: it goes anywhere, over flames, exits and lines as well", r.name(d.use.article), r.up(figure.RoundedUp(d.far)))
	f.Values = []Value{measure("drift", roundTo(d.far, 1), "m")}
	f.Help = "look at the wind before it is fired, and give the article a wind limit"
	r.add(r.settings.at(nil, d.use.unit, d.use.article), d.use.song, d.use.unit.Name, f)
}

// meets reports the hot effects of the set that the paper of a use meets.
func (r *setRun) meets(d *drift, hot []*setUse, later bool, t *tuning) {
	for _, h := range hot {
		shadow, ok := r.shadowOf(h)
		if !ok || d.paper.Apart(shadow) > 0 || shadow.Bottom > d.paper.Top {
			continue
		}
		papers, hots := r.commandsOf(d.use), r.commandsOf(h)
		p, q, overlaps := firstMeeting(papers, hots, d.hang, later)
		if q == nil || overlaps == later || later && h.article.Family.Class() == timeline.Shot {
			continue
		}
		ps := r.song(q.song)
		f := about(ps.SongPlan, q.c.Cue, q.c.Hit)
		f.Others = []timeline.Ref{rigRef("placed", d.use.unit.Placed.ID), rigRef("article", d.use.article.ID), cueRef(r.song(p.song).SongPlan, p.c.Cue)}
		if later {
			f.Text = fmt.Sprintf("%s burns where %s has come down before", r.name(h.article), r.name(d.use.article))
			f.Help = "clean up in between, play it first, or place one of them elsewhere"
		} else {
			f.Text = fmt.Sprintf("%s burns where %s hangs in the air: for %s after its hit, up to %s from its barrel", r.name(h.article), r.name(d.use.article), span(d.hang), r.up(figure.RoundedUp(d.paper.Radius)))
			f.Help = "let it fall first, play it later, or place one of them elsewhere"
			f.Spans = []Span{{"burns", q.c.At, q.c.End()}}
		}
		f.Help += deferral
		f.Values = []Value{seconds("hang", d.hang), measure("radius", roundTo(d.paper.Radius, 1), "m"), word("paper", string(d.use.unit.Placed.ID))}
		f.Grounds = []Ground{ofArticle(d.use.article, "hang", span(d.use.article.Hang)), ofArticle(d.use.article, "height", r.metres(d.use.article.Height)), ruleOf(paperName).fromSetting(paperAir, t)}
		r.add(r.tune(q.song, h.unit, h.article), q.song, h.unit.Name, f)
	}
}

// shadowOf gives a hot effect seen from above.
func (r *setRun) shadowOf(h *setUse) (figure.HotShadow, bool) {
	x := r.spaces.of(h.unit, h.article, timeline.ToAudience)
	at := x.At.Plan()
	s := figure.HotShadow{From: at, To: at, Bottom: x.At.Z}
	if e := x.Envelope; e != nil {
		s.To, s.Radius, s.Bottom = e.Tip().Plan(), e.Widest(), e.Bottom()
	}
	if x.Track != nil && x.Envelope == nil {
		s.To = x.Track.To
	}
	if beside := x.Beside(); figure.Known(beside) {
		s.Radius = max(s.Radius, beside)
	}
	return s, x.Envelope != nil || x.Track != nil || s.Radius > 0
}

// played is a command of a song.
type played struct {
	song int
	c    *timeline.Command
}

// commandsOf lists the commands of a use, in the order they are played.
func (r *setRun) commandsOf(u *setUse) (list []played) {
	if u.song < 0 {
		return nil
	}
	for j := u.song; j < len(r.plan.Songs); j++ {
		ps := r.song(j)
		if !slices.ContainsFunc(r.results[j].sum.plays, func(p timeline.Play) bool { return p.Unit == u.unit && p.Article == u.article }) {
			continue
		}
		for i := range ps.Commands {
			if c := &ps.Commands[i]; c.Unit == u.unit && c.Article == u.article {
				list = append(list, played{j, c})
			}
		}
	}
	return list
}

// firstMeeting gives the first hot command that burns while paper is in the air,
// with the paper; where later is asked for, and none does, the first that burns
// after paper has come down.
func firstMeeting(papers, hots []played, hang timeline.Time, later bool) (p, h *played, overlaps bool) {
	for i := range hots {
		q := &hots[i]
		from, to := q.c.Hit-q.c.Article.Spread, q.c.Hit+q.c.Open+q.c.Article.Spread
		for k := range papers {
			x := &papers[k]
			switch {
			case x.song > q.song:
			case x.song < q.song:
				if h == nil {
					p, h = x, q
				}
			case from < x.c.Hit+x.c.Open+hang+x.c.Article.Spread && to > x.c.Hit-x.c.Article.Spread:
				return x, q, true
			case from >= x.c.Hit+x.c.Open+hang+x.c.Article.Spread && h == nil:
				p, h = x, q
			}
		}
	}
	return p, h, false
}
