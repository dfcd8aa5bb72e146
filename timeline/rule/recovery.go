package rule

import (
	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "recovery",
	Summary: "a unit is commanded again before it has closed and recovered",
	Reason: "A unit is busy from its command until open time and recovery are over; a command in that time comes out weak or not at all. " +
		"The exact times are compared and those after rounding of commands to frames, which may bring two commands nearer: each closes its open time after its frame; within a song and from each song to those after it, " +
		"with the changeovers of the running order. Of alternatives one is played, so the shortest way from song to song counts.",
	Scope:    Neighbours,
	Severity: Error,
	Settings: []Setting{
		{Name: "recovery", Unit: "s", Field: "article recovery", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "how long the effect needs after closing"},
		{Name: "extra", Default: "0", Unit: "s", Mark: timeline.Judgement, Source: "none: a margin of your own", Help: "added to every recovery"},
	},
	song: recoveryInSong,
	set:  recoveryInSet,
})

// recoveryExtra is the place of the setting extra.
var recoveryExtra = setting("extra", "recovery")

// early is how much too early a command comes, exactly and after rounding;
// above zero it is a finding.
type early struct{ exact, rounded timeline.Time }

func (e early) fails() bool { return e.exact > 0 || e.rounded > 0 }

// recoveryInSong compares each command of a unit with the one before it that
// frees the unit last.
func recoveryInSong(r *songRun) {
	for i := range r.plan.Uses {
		list := r.plan.Uses[i].Commands
		if len(list) < 2 {
			continue
		}
		lastExact, lastRounded := &r.plan.Commands[list[0]], &r.plan.Commands[list[0]]
		for _, k := range list[1:] {
			c := &r.plan.Commands[k]
			e := early{lastExact.Free() - c.At, lastRounded.FreeRounded() - c.Rounded}
			if t := r.tune(c); !c.Article.SingleUse {
				extra := t.of(recoveryExtra).time
				e.exact, e.rounded = e.exact+extra, e.rounded+extra
				if e.fails() {
					before := lastExact
					if e.exact <= 0 {
						before = lastRounded
					}
					r.tooEarly(t, before, c, e)
				}
			}
			if c.Free() > lastExact.Free() {
				lastExact = c
			}
			if c.FreeRounded() > lastRounded.FreeRounded() {
				lastRounded = c
			}
		}
	}
}

func (r *songRun) tooEarly(t *tuning, before, c *timeline.Command, e early) {
	f := about(r.plan, c.Cue, c.Hit)
	f.Others = []timeline.Ref{cueRef(r.plan, before.Cue)}
	fillEarly(&f, t, before, c, c.At-before.At, e)
	f.Grounds = r.rule.recoveryGrounds(t, before)
	f.Spans = []Span{
		{Name: "open", From: before.At, To: before.End()},
		{Name: "recovering", From: before.End(), To: before.Free() + t.of(recoveryExtra).time},
		{Name: "next command", From: c.At, To: c.At},
	}
	f.Fix = r.later(c, e)
	r.add(t, c.Unit.Name, f)
}

// recoveryGrounds says where open time, recovery and margin stand.
func (r *Rule) recoveryGrounds(t *tuning, before *timeline.Command) []Ground {
	return r.with(recoveryExtra, t, ofArticle(before.Article, "recovery", span(before.Article.Recovery)))
}

// fillEarly writes text, values and help of a recovery finding; apart is the
// exact time between the two commands.
func fillEarly(f *Finding, t *tuning, before, c *timeline.Command, apart timeline.Time, e early) {
	needs := before.Open + before.Article.Recovery + t.of(recoveryExtra).time
	f.Text = "commanded " + span(apart) + " after its last command; open " + span(before.Open) + " and recovery " +
		span(before.Article.Recovery+t.of(recoveryExtra).time) + " need " + span(needs)
	if e.exact <= 0 {
		f.Text += "; the exact times fit, rounding to frames leaves it " + span(e.rounded) + " short"
	}
	f.Values = []Value{seconds("apart", apart), seconds("needed", needs), seconds("short", e.exact), seconds("short rounded", e.rounded)}
	f.Help = "move this cue " + span(max(e.exact, e.rounded)) + " later or the one before earlier"
	if short := max(e.exact, e.rounded); before.Open > short {
		f.Help += ", or open the one before for " + span(before.Open-short) + " at most"
	}
}

// later moves a cue to the first time at which its unit is free, exactly and
// rounded: a cue that stands on a beat to a quarter of a beat, any other to an
// entry step.
func (r *songRun) later(c *timeline.Command, e early) *Fix {
	free, freeRounded := c.At+e.exact, c.Rounded+e.rounded
	fits := func(by timeline.Time) bool {
		at := c.At + by
		return at >= free && r.plan.TimeOf(r.plan.FrameAt(at)) >= freeRounded
	}
	// From half a frame after both, the nearest frame is late enough as well.
	enough := max(e.exact, e.rounded+c.Rounded-c.At+r.plan.Rate.FrameTicks()/2+1)
	at := timeline.AtTime(roundUp(c.Hit + enough))
	if first := roundUp(c.Hit + max(e.exact, timeline.EntryStep)); fits(first - c.Hit) {
		at = timeline.AtTime(first)
	}
	if beats := r.plan.Song.Beats; c.Cue.At.OnBeat {
		if bar, ok := beatAfter(beats, c.Hit+max(e.exact, timeline.EntryStep), func(t timeline.Time) bool { return fits(t - c.Hit) }); ok {
			at = timeline.AtBar(bar)
		}
	}
	return fixField("move the cue to "+at.String(), cueRef(r.plan, c.Cue), "at", at.String())
}

// beatAfter gives the first quarter of a beat at or after a time that fits.
func beatAfter(m *timeline.BeatMap, t timeline.Time, fits func(timeline.Time) bool) (timeline.BarBeat, bool) {
	quarter := timeline.NewRat(1, 4)
	bar := m.Snap(t, quarter)
	for range 16 {
		if at := m.At(bar); at >= t && fits(at) {
			return bar, bar.Check() == nil
		}
		bar.Beat = bar.Beat.Add(quarter)
		if bar.Beat.Cmp(timeline.NewRat(int64(m.MetreAt(bar.Bar).Num), 1)) >= 0 {
			bar = timeline.BarBeat{Bar: bar.Bar + 1}
		}
	}
	return bar, false
}
