package rule

import (
	"slices"
	"strings"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "left-open",
	Summary: "outputs, arms or conditions stay open if timecode stops in the song",
	Reason: "A command that opens and another that closes both need timecode. Where it stops in between, the output stays open and the arm stays up, until somebody closes them by hand: the hold " +
		"sheet lists them. What an igniter fires closes by itself; outputs that are open for less than the setting are not named, though each of them may be caught open as well.",
	Scope:    InSong,
	Severity: Note,
	Settings: []Setting{
		{Name: "least", Default: "2", Unit: "s", Mark: timeline.Judgement, Source: "our judgement", Help: "open time from which an output is named"},
	},
	song: checkLeftOpen,
})

var leftOpenLeast = setting("least", "left-open")

func checkLeftOpen(r *songRun) {
	t := r.songTune()
	parts := r.plan.LeftOpen(t.of(leftOpenLeast).time)
	if len(parts) == 0 {
		return
	}
	var texts []string
	f := Finding{Ref: songRef(r.plan), Song: r.plan.Song.ID}
	for i := range parts {
		f.Spans = append(f.Spans, Span{r.partName(&parts[i]), parts[i].From, parts[i].To})
		counts, names := r.whatStands(parts[i].Open)
		texts = append(texts, r.partName(&parts[i])+" ("+counts+")")
		f.Values = append(f.Values, word(r.partName(&parts[i]), names))
	}
	f.HasTime, f.At, f.Frame = true, parts[0].From, r.plan.FrameAt(parts[0].From)
	if beats := r.plan.Song.Beats; !beats.Empty() {
		f.HasBar, f.Bar = true, beats.Named(f.At)
	}
	f.Text = "something stays open if timecode stops: " + some(texts)
	f.Grounds = []Ground{r.rule.fromSetting(leftOpenLeast, t)}
	f.Help = "say who closes them by hand, as the hold sheet lists them section by section; a shorter open time, or an arm for each hit, leaves less open"
	r.add(t, "", f)
}

func (r *songRun) partName(p *timeline.PartOpen) string {
	if p.Section == nil {
		return "before the sections"
	}
	return r.show.CalledIn(r.plan.Song.ID, p.Section)
}

// whatStands counts standing things by kind, and names them.
func (r *songRun) whatStands(open []timeline.Standing) (counts, names string) {
	by := map[string][]string{}
	for _, s := range open {
		what, name := r.standsAs(s)
		by[what] = appendNew(by[what], name)
	}
	var c, n []string
	for _, what := range []string{"output", "arm", "condition", "warm-up"} {
		if k := len(by[what]); k > 0 {
			c = append(c, timeline.Counted(k, what))
			n = append(n, what+" "+strings.Join(by[what], ", "))
		}
	}
	return strings.Join(c, ", "), strings.Join(n, "; ")
}

// standsAs says what a standing thing is, and its name.
func (r *songRun) standsAs(s timeline.Standing) (what, name string) {
	if c := s.Command; c != nil {
		return "output", c.Unit.Name
	}
	return string(s.Window.Role), r.name(s.Window.Device)
}

func appendNew(list []string, name string) []string {
	if slices.Contains(list, name) {
		return list
	}
	return append(list, name)
}
