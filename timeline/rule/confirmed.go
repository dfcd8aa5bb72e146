package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "unconfirmed-beats",
	Summary: "cues of flame or pyrotechnics stand on beats that nobody has confirmed",
	Reason: "A beat map that was heard by the program or came in from a file is a suggestion. Every cue on a bar moves with it, and half a beat beside the music is where nobody expects a " +
		"flame. Cues at times do not depend on it and are not counted; nor are those of CO2, paper and fog. One warning for each song.",
	Scope:    InSong,
	Severity: Warning,
	Settings: []Setting{
		{Name: "confirmed", Field: "song confirmed", Mark: timeline.CommonPractice, Source: "common practice, no source", Help: "the beat map has been looked at and found right"},
	},
	song: checkConfirmed,
})

// hurts reports whether a family burns or explodes.
func hurts(f timeline.Family) bool {
	switch f.Class() {
	case timeline.Hot, timeline.Spark, timeline.Shot:
		return true
	}
	return false
}

func checkConfirmed(r *songRun) {
	if r.plan.Song.Confirmed || r.plan.Song.Beats.Empty() {
		return
	}
	cues, first := map[*timeline.Cue]bool{}, (*timeline.Command)(nil)
	for i := range r.plan.Commands {
		c := &r.plan.Commands[i]
		if !c.Cue.At.OnBeat || !hurts(c.Article.Family) || r.tune(c).off {
			continue
		}
		if cues[c.Cue] = true; first == nil {
			first = c
		}
	}
	if first == nil {
		return
	}
	f := about(r.plan, first.Cue, first.Hit)
	f.Ref, f.Others = songRef(r.plan), []timeline.Ref{cueRef(r.plan, first.Cue)}
	stand := "stand"
	if len(cues) == 1 {
		stand = "stands"
	}
	f.Text = fmt.Sprintf("%s of flame or pyrotechnics %s on beats that nobody has confirmed; this is the first", timeline.Counted(len(cues), "cue"), stand)
	f.Values = []Value{count("cues", len(cues))}
	f.Grounds = []Ground{ofRecord(songRef(r.plan), "confirmed", "false", timeline.CommonPractice)}
	f.Help = "listen to the beats against the recording, put right what is off, and confirm them: confirmed=true"
	r.add(r.tune(first), "", f)
}
