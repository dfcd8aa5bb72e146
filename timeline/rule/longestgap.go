package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:     "longest-gap",
	Summary:  "a song has a long time without any hit",
	Reason:   "The longest time between two hits that follow each other, however many units each drives. What comes before the first hit and after the last is not counted. It may be meant so; this note says where it is.",
	Scope:    InSong,
	Severity: Note,
	Settings: []Setting{
		{Name: "most", Default: "60", Unit: "s", Mark: timeline.Judgement, Source: "our judgement", Help: "a gap that is not worth a note"},
	},
	song: checkLongestGap,
})

var gapMost = setting("most", "longest-gap")

func checkLongestGap(r *songRun) {
	p, t := r.plan, r.songTune()
	gap, after := p.LongestGap()
	most := t.of(gapMost).time
	if gap <= most {
		return
	}
	f := Finding{Ref: songRef(p), Song: p.Song.ID}
	for i := range p.Commands {
		if c := &p.Commands[i]; c.Hit == after {
			f.stand(p, c.Cue, c.Hit)
			f.Others = []timeline.Ref{cueRef(p, c.Cue)}
			break
		}
	}
	f.Text = "no hit for " + span(gap) + barsBetween(p.Song.Beats, after, after+gap) + " from here"
	f.Values = []Value{seconds("gap", gap), seconds("after", after), seconds("most", most)}
	f.Spans = []Span{{"without a hit", after, after + gap}}
	f.Grounds = []Ground{r.rule.fromSetting(gapMost, t)}
	f.Help = "leave it if it is meant so, or raise the setting most to " + span(gap)
	r.add(t, "", f)
}

// barsBetween writes how many bars lie between two times, " (2 bars)", or ""
// without a beat map.
func barsBetween(m *timeline.BeatMap, from, to timeline.Time) string {
	if m.Empty() {
		return ""
	}
	return fmt.Sprintf(" (%s bars)", trimZeros(fmt.Sprintf("%.2f", barsAt(m, to)-barsAt(m, from))))
}

// barsAt gives a time as bars and a part of a bar.
func barsAt(m *timeline.BeatMap, t timeline.Time) float64 {
	at := m.Locate(t)
	from, to := m.BarStart(at.Bar), m.BarStart(at.Bar+1)
	return float64(at.Bar) + float64(t-from)/float64(to-from)
}
