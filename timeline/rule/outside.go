package rule

import "emberbeat/timeline"

var _ = enter(Rule{
	Name:     "outside-song",
	Summary:  "a cue hits before its song's pre-roll or after its end",
	Reason:   "There is no timecode outside [start - pre-roll, start + length]: what stands there is never commanded. It is usually left over from another recording.",
	Scope:    InSong,
	Severity: Error,
	Settings: []Setting{
		{Name: "pre-roll", Unit: "s", Field: "song pre-roll, or show pre-roll", Mark: timeline.CommonPractice, Source: "common practice, no source", Help: "timecode runs this long before the audio"},
		{Name: "length", Unit: "s", Field: "song length", Mark: timeline.Measured, Source: "the recording", Help: "timecode ends with it"},
	},
	song: checkOutside,
})

var _ = enter(Rule{
	Name:    "closes-late",
	Summary: "an output closes after the end of its song",
	Reason: "An output that is held open by timecode is closed by timecode as well. Where its closing lies past the song's end, it stays open until " +
		"somebody closes it by hand. Igniters close by themselves and are not looked at. Exact and frame-rounded times are compared.",
	Scope:    InSong,
	Severity: Warning,
	Settings: []Setting{
		{Name: "length", Unit: "s", Field: "song length", Mark: timeline.Measured, Source: "the recording", Help: "timecode ends with it"},
	},
	song: checkClosesLate,
})

func checkOutside(r *songRun) {
	for i := range r.plan.Commands {
		c := &r.plan.Commands[i]
		r.outside(r.tune(c), c.Unit.Name, c.Cue, c.Hit)
	}
	for i := range r.plan.Asked {
		w := &r.plan.Asked[i]
		r.outside(r.songTune(), r.name(w.Device), w.Cue, w.Up)
	}
}

func (r *songRun) outside(t *tuning, who string, cue *timeline.Cue, hit timeline.Time) {
	p := r.plan
	var text string
	switch {
	case hit < -p.PreRoll:
		text = "hits " + span(-p.PreRoll-hit) + " before the song's timecode starts"
	case p.Duration > 0 && hit > p.Duration:
		text = "hits " + span(hit-p.Duration) + " after the end of the song"
	default:
		return
	}
	f := about(p, cue, hit)
	f.Text = text
	f.Values = []Value{seconds("hit", hit), seconds("from", -p.PreRoll), seconds("to", p.Duration)}
	f.Spans = []Span{{"song", -p.PreRoll, p.Duration}, {"hit", hit, hit}}
	f.Help = "move the cue into the song, or disable it"
	f.Fix = disableCue(p, cue)
	r.add(t, who, f)
}

func checkClosesLate(r *songRun) {
	p := r.plan
	if p.Duration == 0 {
		return
	}
	for i := range p.Commands {
		c := &p.Commands[i]
		over := max(c.End(), c.EndRounded()) - p.Duration
		if c.Article.Control == timeline.IgniterControl || c.Hit > p.Duration || over <= 0 {
			continue
		}
		f := about(p, c.Cue, c.Hit)
		f.Text = "closes " + span(over) + " after the end of the song"
		f.Values = []Value{seconds("closes", c.End()), seconds("song end", p.Duration)}
		f.Spans = []Span{{"song", 0, p.Duration}, {"open", c.At, c.End()}}
		f.Help = "open it for " + span(max(0, c.Open-over)) + " at most, or move it earlier"
		if open := roundDown(c.Open - over); open > 0 {
			f.Fix = setOpen(p, c.Cue, open)
		}
		r.add(r.tune(c), c.Unit.Name, f)
	}
}

// setOpen gives the fix that sets a cue's own open time.
func setOpen(p *timeline.SongPlan, cue *timeline.Cue, open timeline.Time) *Fix {
	return fixField("give the cue an open time of "+open.String()+" s", cueRef(p, cue), "open", open.String())
}
