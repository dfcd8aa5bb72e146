package rule

import (
	"fmt"
	"slices"
	"strconv"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "thin-song",
	Summary: "a night takes more of a song's hits away than the song can bear",
	Reason: "Hits that the night cuts, or whose effects, banks or devices are out of its rig, are counted against those of the tour. A hit that one unit still plays is not lost, and a swapped one " +
		"neither. What is thin is a question of taste: this one says where to look.",
	Scope:    InSong,
	Severity: Warning,
	Settings: []Setting{
		{Name: "share", Default: "0.25", Mark: timeline.Judgement, Source: "our judgement", Help: "share of a song's hits that may be lost"},
	},
	song: checkThinSong,
})

var thinShare = setting("share", "thin-song")

func checkThinSong(r *songRun) {
	if !takesAway(r.plan) {
		return
	}
	t := r.songTune()
	lost, all := LostTonight(r.plan)
	most := t.of(thinShare).plain
	if lost == 0 || float64(lost) <= most*float64(all) {
		return
	}
	f := Finding{Ref: songRef(r.plan), Song: r.plan.Song.ID}
	f.Text = fmt.Sprintf("%d of the tour's %d hits are lost tonight", lost, all)
	f.Values = []Value{count("lost", lost), count("hits of the tour", all)}
	f.Grounds = []Ground{r.rule.fromSetting(thinShare, t)}
	f.Help = "swap what is cut for effects that may stay, on the same hits, or accept it with a name and a reason; the share that may be lost is " + strconv.FormatFloat(most, 'f', -1, 64)
	r.add(t, "", f)
}

// takesAway reports whether a night takes anything of a song at all.
func takesAway(p *timeline.SongPlan) bool {
	if len(p.Cut) > 0 || slices.ContainsFunc(p.Lost, func(l timeline.LostCue) bool { return l.Reason == timeline.LostOut }) {
		return true
	}
	for i := range p.Commands {
		if p.Commands[i].Unit.Dark() {
			return true
		}
	}
	return false
}

// LostTonight counts the hits of a song that a night takes away whole, and
// those it has on tour.
func LostTonight(p *timeline.SongPlan) (lost, all int) {
	played, gone := map[*timeline.Cue]bool{}, map[*timeline.Cue]bool{}
	for i := range p.Commands {
		if c := &p.Commands[i]; !c.Unit.Dark() {
			played[c.Cue] = true
		}
	}
	take := func(c *timeline.Cue) {
		if lane := p.Song.Lane(c.Lane); !played[c] && lane != nil && !lane.Window() {
			gone[c] = true
		}
	}
	for _, c := range p.Cut {
		take(c)
	}
	for _, l := range p.Lost {
		if l.Reason == timeline.LostOut {
			take(l.Cue)
		}
	}
	for i := range p.Commands {
		if c := &p.Commands[i]; c.Unit.Dark() {
			take(c.Cue)
		}
	}
	return len(gone), len(played) + len(gone)
}
