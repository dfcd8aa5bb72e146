package rule

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

var _ = enter(Rule{
	Name:     "spotter-missing",
	Summary:  "a position in use names no spotter, where the venue asks for one for every position",
	Reason:   "Flames, sparks, shots and cold jets are watched by somebody who can call hold. Who or what post that is stands with the position; whether it can see it is not computed: look.",
	Scope:    WholeSet,
	Severity: Warning,
	Settings: []Setting{
		{Name: "asked", Field: "venue spotter-each", Mark: timeline.Label, Source: "the permit", Help: "a spotter for every position is asked for"},
		{Name: "spotter", Field: "position spotter", Mark: timeline.Measured, Source: "the rig", Help: "the post or the person that watches it"},
	},
	set: checkSpotters,
})

var _ = enter(Rule{
	Name:    "spotter-view",
	Summary: "a spotter's post stands far from a position it watches, or must look two ways at once",
	Reason: "A post that a position names by the name it has on the stage plan: how far it stands, and what angle those of its positions span that are hit within a short time. Line of sight is not computed: curtains, set and " +
		"people stand in the way of it.",
	Scope:    WholeSet,
	Severity: Note,
	Settings: []Setting{
		{Name: "most", Default: "30", Unit: "m", Mark: timeline.Judgement, Source: "our judgement", Help: "from a post to a position"},
		{Name: "angle", Default: "90", Unit: "degrees", Mark: timeline.Judgement, Source: "our judgement", Help: "that the positions span which are hit together"},
		{Name: "together", Default: "2", Unit: "s", Mark: timeline.Judgement, Source: "our judgement", Help: "hits within it count as together"},
	},
	set: checkSpotterView,
})

var (
	spotterMost     = setting("most", "spotter-view")
	spotterAngle    = setting("angle", "spotter-view")
	spotterTogether = setting("together", "spotter-view")
)

func checkSpotters(r *setRun) {
	v := r.plan.Venue
	if v == nil || !v.SpotterEach {
		return
	}
	for _, p := range r.watched() {
		if p.Spotter != "" {
			continue
		}
		ref := rigRef("position", p.ID)
		f := Finding{Ref: ref, Others: []timeline.Ref{rigRef("venue", v.ID)}, Text: fmt.Sprintf("%s names no spotter, and %s asks for one for every position", r.name(p), r.name(v))}
		f.Values = []Value{word("position", string(p.ID))}
		f.Help = "name the post or the person that watches it"
		r.add(r.settings.at(nil, nil, nil), -1, "", f)
	}
}

// watched lists the positions at which the set plays something that is watched.
func (r *setRun) watched() (list []*timeline.StagePosition) {
	for _, uses := range r.merged {
		for i := range uses {
			if p := uses[i].unit.Position; p != nil && keepsDistance(uses[i].article) {
				list = addOnce(list, p)
			}
		}
	}
	slices.SortFunc(list, func(a, b *timeline.StagePosition) int { return cmp.Compare(a.ID, b.ID) })
	return list
}

func checkSpotterView(r *setRun) {
	v := r.plan.Venue
	if v == nil {
		return
	}
	t := r.settings.at(nil, nil, nil)
	for _, m := range v.SpotterMarks {
		var mine []*timeline.StagePosition
		for _, p := range r.watched() {
			if strings.EqualFold(p.Spotter, m.Name) && m.Name != "" {
				mine = append(mine, p)
			}
		}
		far, _ := figure.Seen(figure.Point(m.At), planOf(mine), t.of(spotterMost).plain)
		for _, i := range far {
			away := figure.RoundedUp(figure.Point(m.At).ToDisc(figure.Point(pointOf(mine[i])), 0))
			f := Finding{Ref: rigRef("position", mine[i].ID), Others: []timeline.Ref{rigRef("venue", v.ID)}}
			f.Text = fmt.Sprintf("%s stands %s from %s, which it watches; %s is far", lineName(m.Name, "spotter's post"), r.up(away), r.name(mine[i]), r.given("m", t.of(spotterMost).plain))
			f.Values, f.Grounds = []Value{measure("away", away, "m")}, []Ground{r.rule.fromSetting(spotterMost, t)}
			f.Help = "move the post nearer, or let another one watch it"
			r.add(t, -1, "", f)
		}
		r.twoWays(t, m, mine)
	}
}

func planOf(list []*timeline.StagePosition) []figure.Point {
	points := make([]figure.Point, len(list))
	for i, p := range list {
		points[i] = figure.Point(pointOf(p))
	}
	return points
}

// twoWays reports the first instant at which a post would have to look two ways.
func (r *setRun) twoWays(t *tuning, m timeline.PlanMark, mine []*timeline.StagePosition) {
	if _, angle := figure.Seen(figure.Point(m.At), planOf(mine), 0); len(mine) < 2 || angle <= t.of(spotterAngle).plain {
		return // all of them together would not do
	}
	for j := range r.plan.Songs {
		ps := r.song(j)
		first := 0
		for i := range ps.Commands {
			for ps.Commands[i].At-ps.Commands[first].At > t.of(spotterTogether).time {
				first++
			}
			var at []*timeline.StagePosition
			for k := first; k <= i; k++ {
				if p := ps.Commands[k].Unit.Position; p != nil && slices.Contains(mine, p) && keepsDistance(ps.Commands[k].Article) {
					at = addOnce(at, p)
				}
			}
			_, angle := figure.Seen(figure.Point(m.At), planOf(at), 0)
			if len(at) < 2 || angle <= t.of(spotterAngle).plain {
				continue
			}
			c := &ps.Commands[i]
			f := about(ps.SongPlan, c.Cue, c.Hit)
			f.Others = []timeline.Ref{rigRef("venue", r.plan.Venue.ID)}
			f.Text = fmt.Sprintf("%s must look %.0f degrees about: %d positions it watches are hit within %s s", lineName(m.Name, "spotter's post"), angle, len(at), t.of(spotterTogether).text)
			f.Values, f.Grounds = []Value{measure("angle", roundTo(angle, 0), "degrees"), count("positions", len(at))}, []Ground{r.rule.fromSetting(spotterAngle, t), r.rule.fromSetting(spotterTogether, t)}
			f.Help = "let another post watch one of them"
			r.add(t, j, "", f)
			return
		}
	}
}
