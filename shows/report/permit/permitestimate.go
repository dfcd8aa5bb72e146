package permit

import (
	"fmt"
	"math"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/figure"
	"emberbeat/timeline/rule"
	"emberbeat/timeline/units"
)

// HeatCaution stands wherever heat is estimated.
const HeatCaution = "Heat is an estimate for planning: each flame as a point in its middle, or as a line along its axis where that gives more, that sends out a part of its heat evenly. Close to a flame, in wind, with other fuels, " +
	"on costumes and drapes it is wrong. Flames that are open together add up. Measure on site; the label, the permit and the authority come first."

// GasCaution stands wherever CO2 in a room is estimated.
const GasCaution = "The estimate takes the gas as mixed with all the air of the room, which it never is: the plume is cold and sinks, so that pits, cellars and the space under the stage fill first " +
	"and need a monitor of their own. Oxygen meters react too late: only a CO2 monitor guards. What people breathe out is not counted."

// Heat is the estimate of one kind of flame.
type Heat struct {
	Article string      `json:"article"`
	Units   int         `json:"units"`
	Fuel    float64     `json:"fuel_kg_s"`
	Power   float64     `json:"power_kw"`
	Length  float64     `json:"length"`
	Part    string      `json:"radiated"` // part of the heat that is radiated, with its mark
	Levels  []HeatReach `json:"levels"`
}

// HeatPlace is the most heat that a line or a mark gets in any song.
type HeatPlace struct {
	Place string  `json:"place"`
	Song  int     `json:"song_number"`
	Peak  float64 `json:"peak_kw_m2"`
	Dose  float64 `json:"dose"`
	Share float64 `json:"dose_share"` // of that at which pain begins
}

func permitHeatPlaces(p *timeline.Plan) []HeatPlace {
	list := []HeatPlace{}
	for _, h := range rule.HeatPlaces(p) {
		list = append(list, HeatPlace{h.Place, h.Song.Number, math.Ceil(h.Peak*100) / 100, math.Ceil(h.Dose*10) / 10, math.Ceil(h.Share*100) / 100})
	}
	return list
}

// HeatReach is how far from the middle of a flame its radiation falls to a level,
// rounded up to half a metre, with the weakest mark of what that rests on.
type HeatReach struct {
	Level  float64 `json:"level_kw_m2"`
	Metres float64 `json:"metres"`
	Mark   string  `json:"mark"`
	Source string  `json:"source"`
}

func permitHeat(p *timeline.Plan) []Heat {
	list := []Heat{}
	for _, e := range rule.HeatEstimates(p) {
		h := Heat{Article: p.Called(e.Article), Units: e.Units, Fuel: wording.RoundGrams(e.Fuel), Power: math.Round(e.Power), Length: math.Round(e.Length*10) / 10, Part: e.Radiated.Text + " (" + wording.Given(string(e.Radiated.Mark)) + ")"}
		for _, l := range e.Levels {
			h.Levels = append(h.Levels, HeatReach{l.Level, l.Metres, string(l.Mark), l.Source})
		}
		list = append(list, h)
	}
	return list
}

// Gas is what the CO2 of a plan comes to in the venue's room if no fresh
// air came in all the while. Zero numbers of the venue are not given.
type Gas struct {
	Kg         float64 `json:"kg"`
	Volume     float64 `json:"volume"`
	AirChanges float64 `json:"air_changes"`
	Rise       float64 `json:"rise_ppm"` // 0 without a volume
	Level      float64 `json:"level_ppm"`
	LevelFrom  string  `json:"level_source"`
}

func permitGas(p *timeline.Plan) *Gas {
	g := &Gas{Kg: rule.GasUsed(p)}
	if g.Kg == 0 {
		return nil
	}
	perKg, _ := rule.SettingOf(p.Show, "gas-in-room", "per-kg")
	level, ground := rule.SettingOf(p.Show, "gas-in-room", "level")
	g.Level, g.LevelFrom = level, ground.Source
	if v := p.Venue; v != nil && v.Volume > 0 {
		g.Volume, g.AirChanges = v.Volume, v.AirChanges
		g.Rise = math.Round(figure.Rise(g.Kg, perKg, v.Volume))
	}
	return g
}

// Lines says it in sentences.
func (g *Gas) Lines(told units.System) []string {
	if g.Volume == 0 {
		return []string{fmt.Sprintf("The plan lets out %s of CO2 at most. The room's volume is not given, so that no estimate is made.", wording.Mass(told, g.Kg)), GasCaution}
	}
	air := wording.Plain(g.AirChanges) + " air changes an hour are given"
	if g.AirChanges == 0 {
		air = "air changes are not given"
	}
	return []string{fmt.Sprintf("An estimate: %s of CO2, let out without any fresh air into %s, raise it by %s ppm; %s. The level the plan is checked against is %s ppm (%s).",
		wording.Mass(told, g.Kg), told.Say("m³", wording.RoundGrams(g.Volume), -1), wording.Plain(g.Rise), air, wording.Plain(g.Level), wording.Given(g.LevelFrom)), GasCaution}
}
