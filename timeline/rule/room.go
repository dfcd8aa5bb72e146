package rule

import (
	"cmp"
	"fmt"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

var _ = enter(Rule{
	Name:    "gas-in-room",
	Summary: "the CO2 of the set would raise the room above a level, in an estimate",
	Reason: "Every hit adds mass x volume per kg / volume of the room; fresh air takes away by the air changes of the venue, and none where it gives none. The estimate assumes that the air " +
		"mixes, which it does not: the plume is cold and sinks, so that pits, low rooms and the space under the stage need a monitor of their own, and only a CO2 monitor guards. What people " +
		"breathe out is not counted. What keys of the operator's plan may add is counted from the start of their song, and is not taken away again. Of alternatives the one that uses most counts. Without a volume nothing is computed: see not-checked.",
	Scope:    WholeSet,
	Severity: Note,
	Settings: []Setting{
		{Name: "volume", Unit: "m³", Field: "venue volume", Mark: timeline.Measured, Source: "the venue", Help: "of the room; 0 = not given"},
		{Name: "air-changes", Unit: "1/h", Field: "venue air-changes", Mark: timeline.CommonPractice, Source: "the venue", Help: "0 = not given, counted as none"},
		{Name: "level", Default: "5000", Unit: "ppm", Mark: timeline.Published, Source: "ACGIH TLV-TWA and OSHA PEL 5000; short-term 30000 ACGIH, 40000 IDLH", Help: "what the air of the room should stay below"},
		{Name: "outside", Default: "420", Unit: "ppm", Mark: timeline.FromMemory, Source: "CO2 in outdoor air, about", Help: "what is there without the set"},
		{Name: "per-kg", Default: "0.5466", Unit: "m³/kg", Mark: timeline.Derived, Source: "ideal gas at 20 °C and 1 atm", Help: "room that a kg of CO2 takes up"},
	},
	set: checkRoom,
})

// The places of its settings.
var (
	roomLevel   = setting("level", "gas-in-room")
	roomOutside = setting("outside", "gas-in-room")
	roomPerKg   = setting("per-kg", "gas-in-room")
)

// puff is the gas of one command.
type puff struct {
	at      timeline.Time // of the command, from the start of the song's audio
	mg      int64
	stays   float64 // part of what is in the air after the puff before it in the song that is still there
	command int32
}

func (p *puff) kg() float64 { return float64(p.mg) / 1e6 }

// puffs lists the CO2 of a song by time, where the venue's room is known, or its
// floor.
func (e *env) puffs(p *timeline.SongPlan) []puff {
	if e.key.venue == nil || e.key.venue.Volume+e.key.venue.Area == 0 {
		return nil
	}
	var list []puff
	for i := range p.Commands {
		c := &p.Commands[i]
		if mg := c.Draw(); mg > 0 && givesCO2(c.Article) {
			x := puff{at: c.At, mg: mg, command: int32(i)}
			if n := len(list); n > 0 {
				x.stays = figure.Fading(e.key.venue.AirChanges, (c.At - list[n-1].at).Seconds())
			}
			list = append(list, x)
		}
	}
	return list
}

// givesCO2 reports whether what an article uses up is CO2 in the air.
func givesCO2(a *timeline.Article) bool {
	return strings.EqualFold(cmp.Or(a.Medium, a.Family.Medium()), "CO2")
}

// filled is how far the air of a room has come.
type filled struct {
	left, total float64 // kg that fresh air has left, and all that came
	worst       float64 // most of what was left, with what keys add
	kg          float64 // total by then
	song        int
	puff        *puff
}

func checkRoom(r *setRun) {
	v := r.plan.Venue
	if v == nil || v.Volume == 0 {
		return
	}
	t := r.settings.at(nil, nil, nil)
	f := r.filled()
	f.worst = figure.Rise(f.worst, t.of(roomPerKg).plain, v.Volume)
	if f.worst+t.of(roomOutside).plain > t.of(roomLevel).plain {
		r.roomFull(t, v, &f)
	}
}

// filled is how far the air comes in the whole set; three rules ask for it.
func (r *setRun) filled() filled {
	if r.air == nil {
		f := r.fill(nil)
		r.air = &f
	}
	return *r.air
}

// fill follows the kg of CO2 in the air of the venue's room through the set, and
// tells of each instant at which some comes in what is there then, with and of
// what keys may add.
func (r *setRun) fill(tell func(at timeline.Time, kg, hand float64, song int, p *puff)) (f filled) {
	last := -never
	keys := r.keysGas()
	hand := float64(keys[len(keys)-1]) / 1e6
	for j, counts := range r.mostGas() {
		if !counts {
			continue
		}
		hand += float64(keys[j]) / 1e6
		f.reach(hand, j, nil)
		begin, puffs := r.song(j).At, r.results[j].sum.puffs
		for i := range puffs {
			p := &puffs[i]
			at := begin + p.at
			switch {
			case f.left == 0:
			case i > 0 && last == begin+puffs[i-1].at: // nothing of an earlier song came later
				f.left *= p.stays
			default:
				f.left *= figure.Fading(r.plan.Venue.AirChanges, max(0, at-last).Seconds())
			}
			f.left += p.kg()
			f.total += p.kg()
			last = max(last, at)
			f.reach(hand, j, p)
			if tell != nil {
				tell(last, f.left, hand, j, p)
			}
		}
	}
	return f
}

// reach keeps the most so far, with what keys may have added.
func (f *filled) reach(hand float64, song int, p *puff) {
	if now := f.left + hand; now > f.worst {
		f.worst, f.kg, f.song, f.puff = now, f.total+hand, song, p
	}
}

// keysGas gives the CO2 of keys in milligrams, with all their presses, by the
// song they are meant for; of those for any time of the show comes last. It is
// taken to be there from the start of the song, and never to go.
func (r *setRun) keysGas() []int64 {
	list := make([]int64, len(r.plan.Songs)+1)
	for i := range r.plan.Keys {
		k := &r.plan.Keys[i]
		at := k.Song
		if at < 0 {
			at = len(r.plan.Songs)
		}
		for j := range k.Uses {
			if givesCO2(k.Uses[j].Article) {
				list[at] += k.Uses[j].Draw() * int64(k.Cue.Presses)
			}
		}
	}
	return list
}

// mostGas gives the songs that count: of alternatives the one that uses most.
func (r *setRun) mostGas() []bool {
	used := make([]int64, len(r.results))
	for i, res := range r.results {
		used[i] = res.sum.gas
	}
	return timeline.Worst(r.order.alt, used)
}

func (r *setRun) roomFull(t *tuning, v *timeline.Venue, at *filled) {
	f := r.atPuff(v, at.song, at.puff)
	ref := f.Ref
	level := at.worst + t.of(roomOutside).plain
	air := "with " + share(v.AirChanges) + " air changes an hour"
	if v.AirChanges == 0 {
		air = "without fresh air, for no air changes are given"
	}
	f.Text = fmt.Sprintf("an estimate: %s of CO2 in %s come to about %.0f ppm here %s, more than %s ppm; it assumes mixing, and cold gas sinks", r.mass(at.kg), r.given("m³", v.Volume), level, air, t.of(roomLevel).text)
	f.Values = []Value{measure("mass", roundTo(at.kg, 3), "kg"), measure("estimate", roundTo(level, 0), "ppm"), {Name: "level", Text: t.of(roomLevel).text, Unit: "ppm", Number: true}}
	f.Grounds = []Ground{ofRecord(ref, "volume", r.given("m³", v.Volume), timeline.Measured), ofRecord(ref, "air-changes", share(v.AirChanges)+" 1/h", timeline.CommonPractice),
		r.rule.fromSetting(roomLevel, t), r.rule.fromSetting(roomOutside, t), r.rule.fromSetting(roomPerKg, t)}
	f.Help = gasHelp
	r.add(t, at.song, "", f)
}

// atPuff starts a finding about the air of a venue at a puff; at the song where
// there is none.
func (r *setRun) atPuff(v *timeline.Venue, song int, p *puff) Finding {
	ps := r.song(song)
	ref := rigRef("venue", v.ID)
	if p == nil {
		return Finding{Ref: ref, Song: ps.Song.ID, Number: ps.Number}
	}
	c := &ps.Commands[p.command]
	f := about(ps.SongPlan, c.Cue, c.Hit)
	f.Ref, f.Others = ref, []timeline.Ref{cueRef(ps.SongPlan, c.Cue)}
	return f
}
