package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "frame-residual",
	Summary: "rounding to frames moves commands of a song by more than a given time",
	Reason: "Commands are given on frames. The nearest frame is at most half a frame away: 20 ms at 25 frames per second. What is left is printed " +
		"with every cue; this note says where it is large.",
	Scope:    InSong,
	Severity: Note,
	Settings: []Setting{
		{Name: "most", Default: "0.0200", Unit: "s", Mark: timeline.Judgement, Source: "our judgement: half a frame at 25 per second", Help: "largest difference that is not worth a note"},
	},
	song: checkResidual,
})

var residualMost = setting("most", "frame-residual")

// checkResidual makes one note for a song, at its worst command.
func checkResidual(r *songRun) {
	worst, over := -1, 0
	for i := range r.plan.Commands {
		c := &r.plan.Commands[i]
		if size(c.Residual()) <= r.tune(c).of(residualMost).time {
			continue
		}
		over++
		if worst < 0 || size(c.Residual()) > size(r.plan.Commands[worst].Residual()) {
			worst = i
		}
	}
	if worst < 0 {
		return
	}
	c := &r.plan.Commands[worst]
	t := r.tune(c)
	f := about(r.plan, c.Cue, c.Hit)
	f.Ref, f.Others = songRef(r.plan), []timeline.Ref{cueRef(r.plan, c.Cue)}
	f.Text = fmt.Sprintf("%d of %s lie more than %s from their frame; the worst here by %s", over, timeline.Counted(len(r.plan.Commands), "command"), span(t.of(residualMost).time), span(c.Residual()))
	f.Values = []Value{count("commands", over), seconds("worst", c.Residual()), seconds("most", t.of(residualMost).time)}
	f.Grounds = []Ground{r.rule.fromSetting(residualMost, t)}
	f.Help = "move those cues onto frames, use a faster frame rate, or raise the setting most"
	r.add(t, "", f)
}

func size(t timeline.Time) timeline.Time { return max(t, -t) }
