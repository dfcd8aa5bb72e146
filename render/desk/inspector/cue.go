package inspector

import (
	"fmt"
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/leadbar"
	"emberbeat/timeline"
	"emberbeat/timeline/given"
)

// cues draws what there is to say of chosen cues: where they stand, what they do, what they need, and where every value comes from.
type cues struct {
	rows
	list []*timeline.Cue
	plan *timeline.SongPlan
	uses []given.Use
	was  *was // of a single cue while something is tried, else nil
}

// drawCues shows cues of the song in view. It reports false where the plan does not have them.
func (p *Inspector) drawCues(r image.Rectangle, kind *timeline.Kind, refs []timeline.Ref, recs []timeline.Record) bool {
	plan := p.h.SongPlan(refs[0].Song)
	if plan == nil {
		return false
	}
	c := &cues{rows: rows{p: p, kind: kind, refs: refs, recs: recs}, plan: plan}
	for _, rec := range recs {
		cue := plan.Song.Cue(rec.RecordID())
		if cue == nil {
			return false
		}
		c.list = append(c.list, cue)
	}
	commands := given.CommandsOf(plan, c.list...)
	for _, cue := range c.list {
		c.uses, c.from = append(c.uses, commands.UseOf(cue)), append(c.from, commands.Of(p.h.Show(), cue))
	}
	if len(c.list) == 1 {
		c.uses[0] = given.UseOf(plan, c.list[0])
		c.was = p.wasOf(refs[0].Song, refs[0].ID)
	}
	u := p.h.UI()
	found := p.foundAt(refs)
	high := rowHigh*20 + headHigh*5 + badgeHigh*len(found) + leadbar.Height
	if len(refs) > 1 {
		high += byHigh
	}
	area := u.BeginScroll("fields", r, u.Px(high))
	c.k = u.Stack(area, 4)
	u.Push(refs[0].String())
	u.PushOff(page.NeedEdit(p.h))
	c.leadBar()
	c.music()
	c.does()
	c.needs()
	if len(c.list) > 1 {
		c.changeAll()
	}
	c.findings(found)
	c.head("Group and note", "")
	for _, name := range []string{"group", "locked", "disabled", "note"} {
		c.field(name, "", nil)
	}
	u.PopOff()
	u.Pop()
	u.EndScroll()
	return true
}

// music says where the cues stand in the music.
func (c *cues) music() {
	c.head("Place in the music", "")
	beats := c.plan.Song.Beats
	if len(c.list) > 1 {
		c.field("at", c.list[0].At.Beside(beats)+" to "+c.list[len(c.list)-1].At.Beside(beats), nil)
		return
	}
	cue := c.list[0]
	c.field("at", "", func(src image.Rectangle) {
		u := c.p.h.UI()
		k := u.Stack(src, 4)
		sign, tip := "♩", "Stands on the beat and moves with it. Pressed: stands at its time"
		if !cue.At.OnBeat {
			sign, tip = "◷", "Stands at a time and stays when the beats move. Pressed: stands on the nearest beat"
		}
		off := ""
		if beats.Empty() {
			off = "the song has no beat map"
		}
		u.PushOff(off)
		if u.IconButton("anchor", k.Left(24), sign, tip, "") {
			c.swapAnchor()
		}
		u.PopOff()
		text := cue.At.Beside(beats)
		switch {
		case text != cue.At.String():
		case cue.At.OnBeat:
			text = "on the beat"
		default:
			text = "at a time"
		}
		u.Label(k.Rest(), render.TypeSmall, render.InkText, c.was.beside(cue.At.Beside(beats), text, (*was).at))
	})
	hit, known := cue.At.In(beats)
	if known && c.plan.Rate != timeline.RateUnset && c.plan.StartErr == nil {
		c.fact("Timecode", c.plan.Label(hit), c.was.beside(c.plan.Label(hit), "song + "+hit.Text(3)+" s", (*was).timecode))
	} else {
		c.fact("Timecode", "", "the song has none")
	}
	if use := c.uses[0]; use.First == nil {
		c.fact("Command", "", "it leads to no command")
	} else {
		label := c.plan.Rate.Label(use.First.Frame)
		c.fact("Command", label, c.was.beside(label, residualWords(use.First), (*was).command))
	}
}

// swapAnchor puts a cue that stands on a beat at its time, and one that stands at a time on the nearest beat.
func (c *cues) swapAnchor() {
	cue, beats := c.list[0], c.plan.Song.Beats
	at, ok := cue.At.In(beats)
	if !ok {
		c.p.h.Warn("the cue has no place in the song")
		return
	}
	to := timeline.AtTime(at)
	if !cue.At.OnBeat {
		to = timeline.AtBar(beats.Snap(at, timeline.NewRat(1, 1)))
	}
	c.p.Assign(c.kind.Field("at"), c.refs, to.String())
}

// does says what the cues aim at and what they do there.
func (c *cues) does() {
	own, all := 0, 0
	for _, v := range c.from {
		all += len(v)
		for _, g := range v {
			if g.Own {
				own++
			}
		}
	}
	right := "all inherited"
	if own > 0 {
		right = fmt.Sprintf("%d of %s own", own, timeline.Counted(all, "value"))
	}
	c.head("What it does", right)
	c.field("lane", "", nil)
	named := func(kinds ...string) func(string) string {
		return func(id string) string {
			return page.NameOf(c.p.h.Show(), kinds, c.refs[0].Song, timeline.ID(id))
		}
	}
	c.inherited("target", "", named("placed", "group"))
	for _, v := range c.from {
		if _, hits := v.of("article"); !hits { // a window on a slot plays no article
			c.inherited("open", "s", page.Short)
			return
		}
	}
	c.inherited("article", "", named("article"))
	c.inherited("open", "s", page.Short)
	c.inherited("level", "%", page.Short)
}

// needs says what the cues need of article and rig.
func (c *cues) needs() {
	var lead, spread, recovery given.Between
	var articles []*timeline.Article
	units := 0
	for _, use := range c.uses {
		if use.First == nil {
			continue
		}
		first := units == 0
		lead, spread, recovery = lead.With(use.Lead, first), spread.With(use.Spread, first), recovery.With(use.Recovery, first)
		units += use.Units
		for _, a := range use.Articles {
			if !slices.Contains(articles, a) {
				articles = append(articles, a)
			}
		}
	}
	if units == 0 {
		return
	}
	c.head("What it needs", "")
	from := func(field string) string {
		if len(articles) > 1 {
			return timeline.Counted(len(articles), "article")
		}
		return "article · " + string(articles[0].MarkOf(field))
	}
	text := millisBetween(lead)
	if spread.Most > 0 {
		text += " ± " + millis(spread.Most)
	}
	c.fact("Lead", text, from("lead"))
	recovers := ""
	if recovery.Most > 0 {
		recovers = secondsBetween(recovery)
	}
	c.fact("Recovery", recovers, from("recovery"))
	if len(c.uses) == 1 && units == 1 {
		c.fact("Wired to", c.uses[0].First.Unit.OutputsText(), "rig")
	} else {
		c.fact("Commands", fmt.Sprint(units), "a command each unit")
	}
	if len(c.uses) > 1 {
		return
	}
	use, beats := c.uses[0], c.plan.Song.Beats
	last, next := "", ""
	lastFrom, nextFrom := "first use in this song", "last use in this song"
	if l := use.Last; l != nil {
		last, lastFrom = l.Cue.At.Beside(beats), sinceLast(&use)
		lastFrom = joinedWas(lastFrom, c.was.beside(lastFrom, "", (*was).sinceLast))
	}
	if n := use.Next; n != nil {
		next, nextFrom = n.Cue.At.Beside(beats), untilNext(&use)
		nextFrom = joinedWas(nextFrom, c.was.beside(nextFrom, "", (*was).untilNext))
	}
	if last == "" {
		last = "none"
	}
	if next == "" {
		next = "none"
	}
	c.fact("Last here", last, lastFrom)
	c.fact("Next here", next, nextFrom)
}

// foundAt gives the findings about some records that nobody has accepted, by their place in the list of all.
func (p *Inspector) foundAt(refs []timeline.Ref) []int {
	list := p.h.Work().FoundAt(refs)
	return list[:min(len(list), mostFound)]
}

// mostFound is how many findings are named.
const mostFound = 12

// findings names what the rules found at the cues; each leads to where it is seen.
func (c *cues) findings(found []int) {
	if len(found) == 0 {
		return
	}
	u := c.p.h.UI()
	s := u.Scene()
	c.head("Findings here", fmt.Sprint(len(found)))
	for _, i := range found {
		f := &c.p.h.Findings()[i]
		k := u.Stack(c.k.Top(badgeHigh-4), 6)
		at := k.Left(render.BadgeSize)
		s.Badge(image.Pt(at.Min.X, (at.Min.Y+at.Max.Y-s.Px(render.BadgeSize))/2), render.SeverityOf(f.Severity))
		u.PushRow(i)
		if u.Link("finding", k.Rest(), f.Text) {
			c.p.h.GoFinding(i)
		}
		u.Tip(f.Text, "")
		u.Pop()
	}
}

// leadBar draws one cue to scale, with what comes before and after it on the same unit.
func (c *cues) leadBar() {
	if len(c.list) > 1 || c.uses[0].First == nil {
		return
	}
	use, beats := c.uses[0], c.plan.Song.Beats
	cmd := use.First
	b := leadbar.Bar{Area: c.k.Top(leadbar.Height), Look: render.LookOf(cmd.Article), Command: cmd.At, Hit: cmd.Hit, Spread: use.Spread.Most, Open: use.Open.Most, Recovery: use.Recovery.Most}
	b.Lead = "lead " + millis(cmd.Hit-cmd.At)
	if use.Recovery.Most > 0 {
		b.Recovers = "recovers " + seconds(use.Recovery.Most)
	}
	b.AtHit = "hit " + c.list[0].At.Beside(beats)
	b.AtCommand = "command " + c.plan.Rate.Label(cmd.Frame) + " " + signed(cmd.Residual())
	b.NextText, b.LastText = "no next in this song", "first in this song"
	if n := use.Next; n != nil {
		b.Next = render.Instant{At: n.Hit, On: true}
		b.NextText = "next here " + n.Cue.At.Beside(beats) + ", in " + seconds(n.Hit-cmd.Hit)
	}
	if l := use.Last; l != nil {
		b.LastText = "last here " + l.Cue.At.Beside(beats) + ", " + seconds(cmd.Hit-l.Hit) + " ago"
	}
	b.Draw(c.p.h.UI().Scene(), c.p.h.UI().Theme())
}
