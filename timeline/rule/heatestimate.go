package rule

import (
	"math"
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

// HeatEstimate is what the rule heat takes one flame for: figures for a permit's
// table, and no more than that.
type HeatEstimate struct {
	Article *timeline.Article
	Units   int     // that play it
	Fuel    float64 // kg/s while open
	Power   float64 // kW of the whole flame
	Length  float64 // m
	Levels  []HeatLevel
}

// HeatLevel is how far from the middle of a flame its radiation falls to a
// level.
type HeatLevel struct {
	Level  float64 // kW/m²
	Metres float64
	Mark   timeline.Mark
	Source string
}

// heatLevels are the levels that an estimate is given for, besides the one that
// the rule heat is set to.
var heatLevels = []HeatLevel{
	{Level: 1.58, Mark: timeline.Published, Source: "API 521 (named from memory)"},
	{Level: 4.73, Mark: timeline.Published, Source: "API 521 (named from memory)"},
	{Level: 6.31, Mark: timeline.FromMemory, Source: "API 521"},
}

// open is how long the first command of a use is open, or what a key means for
// it where no command plays it.
func (u *setUse) open(p *timeline.Plan) timeline.Time {
	if u.song >= 0 {
		return p.Songs[u.song].Commands[u.first].Open
	}
	i := slices.IndexFunc(u.hand.Uses, func(x timeline.HandUse) bool { return x.Unit == u.unit && x.Article == u.article })
	return u.hand.Uses[i].Open
}

// HeatEstimates gives an estimate for every article of a plan whose fuel is
// known, in the order of units. One whose fuel is not known is not in the list:
// see the rule not-checked.
func HeatEstimates(p *timeline.Plan) []HeatEstimate {
	radiated, _ := SettingOf(p.Show, heatRule.Name, heatRadiated.String())
	settings := settingsOf(&heatRule, p.Show.Setting(heatRule.Name))
	t := settings.at(nil, nil, nil)
	var list []HeatEstimate
	at := map[*timeline.Article]int{}
	for _, use := range playedOn(p) {
		if i, ok := at[use.article]; ok {
			list[i].Units++
			continue
		}
		open := use.open(p)
		power := heatOf(use.article, open, t)
		if power == 0 || radiated == 0 {
			continue
		}
		e := HeatEstimate{Article: use.article, Units: 1, Fuel: use.article.UseRate + use.article.UseEach/open.Seconds(), Power: power / radiated}
		e.Length = figure.FlameLength(e.Power)
		for _, l := range heatLevels {
			l.Metres = math.Round(figure.HeatRadius(power, l.Level)*100) / 100
			e.Levels = append(e.Levels, l)
		}
		at[use.article] = len(list)
		list = append(list, e)
	}
	return list
}
