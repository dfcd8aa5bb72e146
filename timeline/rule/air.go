package rule

import (
	"fmt"
	"math"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

var _ = enter(Rule{
	Name:    gasMeanName,
	Summary: "the mean CO2 of a quarter of an hour in the room would be above a level, in an estimate",
	Reason: "As gas-in-room, from which room, air and what a kg takes up are taken: the largest mean over any window of that length. What keys may add counts through the whole window. " +
		"It assumes that the air mixes, which cold gas does not: see gas-layer.",
	Scope:    WholeSet,
	Severity: Note,
	Settings: []Setting{
		inRecord("venue volume", "m³", "of the room; 0 = not given"),
		inRecord("venue air-changes", "1/h", "0 = not given, counted as none"),
		{Name: "level", Default: "15000", Unit: "ppm", Mark: timeline.FromMemory, Source: "EH40, short-term limit of 15 minutes; 30000 in the list of ACGIH", Help: "what the mean should stay below"},
		{Name: "window", Default: "900", Unit: "s", Mark: timeline.FromMemory, Source: "EH40: 15 minutes", Help: "over which the mean is taken"},
		{Name: "outside", Default: "420", Unit: "ppm", Mark: timeline.FromMemory, Source: "CO2 in outdoor air, about", Help: "what is there without the set"},
		{Name: "per-kg", Default: "0.5466", Unit: "m³/kg", Mark: timeline.Derived, Source: "ideal gas at 20 °C and 1 atm", Help: "room that a kg of CO2 takes up"},
	},
	set: checkGasMean,
})

var _ = enter(Rule{
	Name:    gasLayerName,
	Summary: "the CO2 of the set would fill the room above a level up to the heads of people, if it stayed down there",
	Reason: "Cold gas sinks: if all that fresh air has not taken away stays below a height, its part of the air there is mass x volume per kg / (floor area x height). It is an upper estimate, which mixing is not. Pits and low rooms have a floor of their own, " +
		"which is not known here: they need a monitor each. Without a floor area nothing is computed: see not-checked.",
	Scope:    WholeSet,
	Severity: Note,
	Settings: []Setting{
		inRecord("venue area", "m²", "of the room's floor; 0 = not given"),
		inRecord("venue air-changes", "1/h", "0 = not given, counted as none"),
		{Name: "height", Default: "2", Unit: "m", Mark: timeline.Judgement, Source: "our judgement, above the heads of people", Help: "below which all of the gas is taken to stay"},
		{Name: "level", Default: "30000", Unit: "ppm", Mark: timeline.Published, Source: "ACGIH short-term limit 30000; 40000 IDLH", Help: "what the air there should stay below"},
		{Name: "outside", Default: "420", Unit: "ppm", Mark: timeline.FromMemory, Source: "CO2 in outdoor air, about", Help: "what is there without the set"},
		{Name: "per-kg", Default: "0.5466", Unit: "m³/kg", Mark: timeline.Derived, Source: "ideal gas at 20 °C and 1 atm", Help: "room that a kg of CO2 takes up"},
	},
	set: checkGasLayer,
})

// The rules about gas that stays, by name.
const (
	gasMeanName  = "gas-mean"
	gasLayerName = "gas-layer"
)

var (
	meanLevel   = setting("level", gasMeanName)
	meanWindow  = setting("window", gasMeanName)
	airOutside  = setting("outside", gasMeanName, gasLayerName)
	airPerKg    = setting("per-kg", gasMeanName, gasLayerName)
	layerHeight = setting("height", gasLayerName)
	layerLevel  = setting("level", gasLayerName)
)

// inAir is what is in the air from an instant on, until more comes in.
type inAir struct {
	at   timeline.Time
	kg   float64 // fading
	hand float64 // of keys, staying
	song int
	puff *puff
}

func checkGasMean(r *setRun) {
	v := r.plan.Venue
	if v == nil || v.Volume == 0 {
		return
	}
	t := r.settings.at(nil, nil, nil)
	ppm := func(kg float64) float64 { return figure.Rise(kg, t.of(airPerKg).plain, v.Volume) }
	level, outside := t.of(meanLevel).plain, t.of(airOutside).plain
	if ppm(r.filled().worst)+outside <= level {
		return // no mean is above the most
	}
	var air []inAir
	r.fill(func(at timeline.Time, kg, hand float64, song int, p *puff) {
		air = append(air, inAir{at, kg, hand, song, p})
	})
	worst, at := largestMean(air, v.AirChanges, t.of(meanWindow).time)
	if total := ppm(worst) + outside; at >= 0 && total > level {
		r.meanFull(t, v, &air[at], total)
	}
}

// largestMean gives the largest mean of the kg in the air over a window, and from
// which instant on. Between two instants at which some comes in all of it fades at
// one rate, and what is at the window's end keeps its ratio to what is at its
// start, so that a window which begins with one of them is the largest.
func largestMean(air []inAir, changes float64, window timeline.Time) (most float64, at int) {
	at = -1
	sum := 0.0 // kg s from air[i] to air[end]
	end := 0
	for i := range air {
		if end < i {
			end = i
		}
		until := air[i].at + window
		for end+1 < len(air) && air[end+1].at <= until {
			sum += stayed(air[end].kg, changes, air[end+1].at-air[end].at)
			end++
		}
		mean := (sum+stayed(air[end].kg, changes, until-air[end].at))/window.Seconds() + air[end].hand
		if mean > most {
			most, at = mean, i
		}
		if i < end {
			sum = max(0, sum-stayed(air[i].kg, changes, air[i+1].at-air[i].at))
		}
	}
	return most, at
}

// stayed gives the kg seconds of a mass that fades for some time.
func stayed(kg, changes float64, long timeline.Time) float64 {
	s, rate := long.Seconds(), changes/3600
	if rate == 0 {
		return kg * s
	}
	return -kg * math.Expm1(-rate*s) / rate
}

func (r *setRun) meanFull(t *tuning, v *timeline.Venue, at *inAir, total float64) {
	f := r.atPuff(v, at.song, at.puff)
	f.Text = fmt.Sprintf("an estimate: from here on the air of the room has about %.0f ppm of CO2 in the mean of %s, more than %s ppm; it assumes mixing, and cold gas sinks", total, span(t.of(meanWindow).time), t.of(meanLevel).text)
	f.Values = []Value{measure("estimate", roundTo(total, 0), "ppm"), {Name: "level", Text: t.of(meanLevel).text, Unit: "ppm", Number: true}, seconds("window", t.of(meanWindow).time)}
	f.Grounds = []Ground{ofRecord(f.Ref, "volume", r.given("m³", v.Volume), timeline.Measured), ofRecord(f.Ref, "air-changes", share(v.AirChanges)+" 1/h", timeline.CommonPractice),
		r.rule.fromSetting(meanLevel, t), r.rule.fromSetting(meanWindow, t), r.rule.fromSetting(airOutside, t), r.rule.fromSetting(airPerKg, t)}
	f.Help = gasHelp
	r.add(t, at.song, "", f)
}

// gasHelp is what would be valid wherever gas stays.
const gasHelp = "use less CO2, spread it out or bring in fresh air; set CO2 monitors, one in every low room" + deferral

func checkGasLayer(r *setRun) {
	v := r.plan.Venue
	if v == nil || v.Area == 0 {
		return
	}
	t := r.settings.at(nil, nil, nil)
	most := r.filled()
	total := figure.Layer(most.worst, t.of(airPerKg).plain, v.Area, max(t.of(layerHeight).plain, 0.01)) + t.of(airOutside).plain
	if total <= t.of(layerLevel).plain || most.worst == 0 {
		return
	}
	f := r.atPuff(v, most.song, most.puff)
	f.Text = fmt.Sprintf("an upper estimate: if the %s of CO2 in the air stayed below %s over %s of floor, there would be about %.0f ppm here, more than %s ppm", r.mass(most.worst), r.given("m", t.of(layerHeight).plain), r.given("m²", v.Area), total, t.of(layerLevel).text)
	f.Values = []Value{measure("mass", roundTo(most.worst, 3), "kg"), measure("estimate", roundTo(total, 0), "ppm"), {Name: "level", Text: t.of(layerLevel).text, Unit: "ppm", Number: true}}
	f.Grounds = []Ground{ofRecord(f.Ref, "area", r.given("m²", v.Area), timeline.Measured), ofRecord(f.Ref, "air-changes", share(v.AirChanges)+" 1/h", timeline.CommonPractice),
		r.rule.fromSetting(layerLevel, t), r.rule.fromSetting(layerHeight, t), r.rule.fromSetting(airOutside, t), r.rule.fromSetting(airPerKg, t)}
	f.Help = gasHelp
	r.add(t, most.song, "", f)
}
