package rule

import (
	"fmt"
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

var _ = enter(Rule{
	Name:    "arm-in-clear-zone",
	Summary: "an arm is up while somebody may be in a zone that the armed effect reaches",
	Reason: "An armed device fires on a stray value. While a zone of the venue must stay clear, or a performer stands on a mark, no device may be armed whose effect reaches it with its clear zone " +
		"or fallout radius, from the unit, its axis or its path, or by its reach, whether it is commanded or not. A device that has its arm slot at the same address is armed with it. Clear zones without a song count always, all others in their song between their times. The arm counts from the earlier to the later of its exact and rounded times.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "clear", Unit: "m", Field: "article clear, or article fallout", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "how far the effect reaches; 0 = not given"},
		{Name: "extra", Default: "0", Unit: "m", Mark: timeline.Judgement, Source: "none: a margin of your own", Help: "added to it"},
	},
	set: checkArmZone,
})

// armZoneExtra is the place of its margin.
var armZoneExtra = setting("extra", "arm-in-clear-zone")

// inReach is what a device would fire into a zone.
type inReach struct {
	unit   *timeline.Unit
	away   float64 // to the edge of the zone
	needs  float64
	row    *Row
	device *timeline.Device
}

func checkArmZone(r *setRun) {
	v := r.plan.Venue
	if v == nil {
		return
	}
	for i, m := range v.Clear {
		r.armsIn(m, target{ToZone, i})
	}
	for i, m := range v.Performers {
		if m.Song != "" { // who stands there always is the rule performers' to find
			r.armsIn(m, target{ToMark, i})
		}
	}
}

func (r *setRun) armsIn(m timeline.PlanMark, at target) {
	kind := string(at.kind)
	reaching := r.reaching(at)
	if len(reaching) == 0 {
		return
	}
	for j := range r.plan.Songs {
		ps := r.song(j)
		for i := range ps.Windows {
			w := &ps.Windows[i]
			if w.Role != timeline.ArmSlot {
				continue
			}
			a := r.armed(w.Device, reaching)
			if a == nil || !m.During(ps.Song.ID, min(w.Up, w.UpRounded), armEnd(ps, w)) {
				continue
			}
			t := r.tune(j, a.unit, a.unit.Article)
			f := about(ps.SongPlan, w.Cue, w.Up)
			f.Others = []timeline.Ref{rigRef("venue", r.plan.Venue.ID), rigRef("device", w.Device.ID)}
			f.Text = fmt.Sprintf("arm is up, and %s of %s reaches %s: %s away, needs %s", r.name(a.unit.Article), a.unit.Name, lineName(m.Name, kind), r.down(a.away), r.up(a.needs))
			if a.row.From != FromUnit {
				f.Text += fmt.Sprintf("; %s, %s, measured from its %s", a.row.By, pointing(a.unit, a.unit.Article), a.row.From)
			}
			if a.device != w.Device {
				f.Text += fmt.Sprintf("; %s hears the same arm as %s", r.name(a.device), r.name(w.Device))
				f.Others = append(f.Others, rigRef("device", a.device.ID))
			}
			f.Values = []Value{word(kind, m.String()), measure("reach", a.needs, "m")}
			f.Spans = []Span{{"arm up", w.Up, armEnd(ps, w)}}
			f.Grounds = []Ground{ofArticle(a.unit.Article, "clear", r.metres(a.unit.Article.Clear)), ofArticle(a.unit.Article, "fallout", r.metres(a.unit.Article.Fallout))}
			f.Help = "lower the arm while the zone counts, let the zone be left, or stand the effect further away" + deferral
			r.add(t, j, r.name(w.Device), f)
		}
	}
}

// armed gives what comes nearest to a zone of all that the arm of a device arms:
// its own effects, and those of every device that has an arm slot at the place of
// one of its own.
func (r *setRun) armed(v *timeline.Device, reaching map[*timeline.Device]*inReach) *inReach {
	var nearest *inReach
	for _, other := range r.plan.Show.Rig.Devices { // in the order of the rig, so that it is the same each time
		x := reaching[other]
		if x != nil && (other == v || r.sharesArm(v, other)) && (nearest == nil || x.away-x.needs < nearest.away-nearest.needs) {
			nearest = x
		}
	}
	return nearest
}

// sharesArm reports whether an arm slot of one device is an arm slot of another.
func (r *setRun) sharesArm(v, w *timeline.Device) bool {
	arms := func(v *timeline.Device) []timeline.SlotPlace {
		var list []timeline.SlotPlace
		if t := r.plan.Show.Stock.DeviceTypeOf(v); t != nil {
			for _, s := range t.Slots {
				if s.Role == timeline.ArmSlot {
					list = append(list, v.PlaceOf(s))
				}
			}
		}
		return list
	}
	places := arms(w)
	return slices.ContainsFunc(arms(v), func(p timeline.SlotPlace) bool { return slices.Contains(places, p) })
}

// armEnd is when an arm is down for certain; one that never comes down is up to
// the end of its song.
func armEnd(ps *timeline.PlanSong, w *timeline.Window) timeline.Time {
	if !w.Closes() {
		return max(ps.Duration, w.Up)
	}
	return max(w.Down, w.DownRounded)
}

// reaching gives, for each device, the unit it drives that comes nearest to a
// zone of those that reach it: from the unit, its axis, its path or its reach.
func (r *setRun) reaching(at target) map[*timeline.Device]*inReach {
	list := map[*timeline.Device]*inReach{}
	for _, u := range r.plan.Units.All {
		if u.Out || u.Article == nil || u.Position == nil {
			continue
		}
		own := ownOf(r.askedOf(u.Article, timeline.ToPerformers))
		row := r.spaces.row(u, u.Article, at, own, r.settings.at(nil, u, u.Article).of(armZoneExtra).plain, func(*Row) bool { return true })
		if row == nil || row.State() != figure.Short {
			continue
		}
		p := row.Printed()
		for _, d := range u.Drives {
			if x := list[d.Device]; d.Device != nil && !d.Dead && (x == nil || p.Planned-p.Required < x.away-x.needs) {
				list[d.Device] = &inReach{u, p.Planned, p.Required, row, d.Device}
			}
		}
	}
	return list
}
