package rule

import (
	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:     "lost-cue",
	Summary:  "a cue leads to no command",
	Reason:   "What it stands on or aims at is gone or says nothing, so that the cue is in no list and on no output. It is kept, and planned again as soon as what is missing comes back.",
	Scope:    InSong,
	Severity: Error,
	song:     checkLost,
})

func checkLost(r *songRun) {
	for i := range r.plan.Lost {
		l := &r.plan.Lost[i]
		f := Finding{Ref: cueRef(r.plan, l.Cue), Song: r.plan.Song.ID}
		if hit, ok := l.Cue.At.In(r.plan.Song.Beats); ok && !l.Reason.InVersion() {
			f.stand(r.plan, l.Cue, hit)
		}
		f.Text = "leads to no command: " + string(l.Reason)
		who := ""
		if l.Reason == timeline.LostOut {
			who = l.Name // one of several units
		} else if l.Name != "" {
			f.Text += " (" + l.Name + ")"
		}
		f.Values = []Value{word("reason", string(l.Reason)), word("missing", l.Name)}
		if who != "" {
			f.Values = f.Values[:1] // those who are out are added with their names
		}
		f.Help = lostHelp(l.Reason)
		f.Fix = disableCue(r.plan, l.Cue)
		if l.Reason.InVersion() {
			f.Fix = &Fix{Label: "leave the cue out of this version", On: cueRef(r.plan, l.Cue), Field: "without", Edits: []timeline.Edit{timeline.GoWithout(r.plan.Song.ID, false, l.Cue.ID)}}
			f.Values = append(f.Values, word("version", string(r.plan.Song.ID)))
		}
		r.add(r.songTune(), who, f)
	}
}

// lostHelp says what would lead the cue to a command again.
func lostHelp(why timeline.LostReason) string {
	switch why {
	case timeline.LostLane:
		return "put the cue on another lane, or bring its lane back"
	case timeline.LostTarget:
		return "aim the lane or the cue at a placed effect or a group"
	case timeline.LostNobody:
		return "put placed effects into the group, or aim at something else"
	case timeline.LostArticle:
		return "give the cue, its lane or the placed effect an article of the stock"
	case timeline.LostBeats:
		return "give the song a beat map, or the cue a time"
	case timeline.LostSlot:
		return "aim at a device whose type has a slot of that role"
	case timeline.LostInVersion:
		return "leave it out of this version, or make the version's cues its own and place it there"
	case timeline.LostNoMap:
		return "put the cue on a bar in the song that it is shared from, or give the version a map"
	case timeline.LostOut:
		return "aim at something else, or say why it is out: what is out with a reason is cut, and on the cut list"
	}
	return "disable the cue"
}
