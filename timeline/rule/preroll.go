package rule

import "emberbeat/timeline"

var _ = enter(Rule{
	Name:    "pre-roll",
	Summary: "a command comes before the timecode of its song can be followed",
	Reason: "Timecode starts one pre-roll before the audio, and playback needs the lock time to follow it. A command (hit minus lead) before " +
		"song start - pre-roll + lock is never given. Exact and frame-rounded times are compared.",
	Scope:    InSong,
	Severity: Error,
	Settings: []Setting{
		{Name: "pre-roll", Unit: "s", Field: "song pre-roll, or show pre-roll", Mark: timeline.CommonPractice, Source: "common practice, no source", Help: "timecode runs this long before the audio"},
		{Name: "lock", Unit: "s", Field: "show lock", Mark: timeline.CommonPractice, Source: "common practice, no source: 1 s", Help: "playback needs this long to follow timecode"},
	},
	song: checkPreRoll,
})

func checkPreRoll(r *songRun) {
	limit := r.key.lock - r.plan.PreRoll
	half := r.plan.Rate.FrameTicks()
	for i := range r.plan.Commands {
		c := &r.plan.Commands[i]
		if c.At >= limit+half {
			break
		}
		if short := max(limit-c.At, limit-c.Rounded); short > 0 {
			f := about(r.plan, c.Cue, c.Hit)
			r.beforeLock(&f, c.At, c.Rounded, short)
			r.add(r.tune(c), c.Unit.Name, f)
		}
	}
	for i := range r.plan.Windows {
		w := &r.plan.Windows[i]
		if short := max(limit-w.Up, limit-w.UpRounded); short > 0 {
			f := about(r.plan, w.Cue, w.Up)
			r.beforeLock(&f, w.Up, w.UpRounded, short)
			r.add(r.songTune(), r.name(w.Device), f)
		}
	}
}

// beforeLock fills in a finding about something that happens at a time, short
// of the limit by so much.
func (r *songRun) beforeLock(f *Finding, at, rounded, short timeline.Time) {
	f.Text = "must be commanded " + sinceStart(at) + ", and timecode can be followed from " + sinceStart(r.key.lock-r.plan.PreRoll)
	if at >= r.key.lock-r.plan.PreRoll {
		f.Text += "; the exact time fits, its frame is " + span(short) + " too early"
	}
	f.Grounds = r.preRollGrounds()
	needs := roundUp(r.plan.PreRoll + short)
	f.Values = []Value{seconds("command", at), seconds("command rounded", rounded), seconds("pre-roll", r.plan.PreRoll), seconds("lock", r.key.lock)}
	f.Spans = []Span{
		{Name: "pre-roll", From: -r.plan.PreRoll, To: 0},
		{Name: "locking", From: -r.plan.PreRoll, To: r.key.lock - r.plan.PreRoll},
		{Name: "command", From: at, To: at},
	}
	f.Help = "give the song a pre-roll of " + span(needs) + " or more, or move the cue " + span(short) + " later"
	f.Fix = fixField("set the song's pre-roll to "+needs.String()+" s", songRef(r.plan), "pre-roll", needs.String())
}

// preRollGrounds says where pre-roll and lock stand.
func (r *songRun) preRollGrounds() []Ground {
	from := rigRef("show", r.key.show)
	lock := ofRecord(from, "lock", span(r.key.lock), timeline.CommonPractice)
	if r.plan.Song.PreRoll != 0 {
		from = songRef(r.plan)
	}
	return []Ground{ofRecord(from, "pre-roll", span(r.plan.PreRoll), timeline.CommonPractice), lock}
}

// sinceStart says when something happens, counted from the start of the audio.
func sinceStart(t timeline.Time) string {
	switch {
	case t < 0:
		return span(-t) + " before the audio starts"
	case t == 0:
		return "the start of the audio"
	}
	return span(t) + " into the audio"
}
