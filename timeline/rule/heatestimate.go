package rule

import (
	"cmp"
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

// HeatEstimate is what the rule heat takes one flame for: figures for a permit's
// table, and no more than that.
type HeatEstimate struct {
	Article  *timeline.Article
	Units    int     // that play it
	Fuel     float64 // kg/s while open
	Power    float64 // kW of the whole flame
	Length   float64 // m
	Radiated Ground  // the part that is radiated
	Levels   []HeatLevel
}

// HeatLevel is how far from the middle of a flame its radiation falls to a
// level.
type HeatLevel struct {
	Level  float64       // kW/m²
	Metres float64       // rounded up to half a metre
	Mark   timeline.Mark // the weakest of what it rests on
	Source string
}

// heatLevels are the levels that an estimate is given for, besides the one that
// the rule heat is set to.
var heatLevels = []HeatLevel{{Level: 1.58, Source: api521}, {Level: 4.73, Source: api521}, {Level: 6.31, Source: api521}, {Level: 9.46, Source: api521}}

const api521 = "API 521 (from memory; its clauses are not at hand)"

// weakest gives of some marks the one that says least.
func weakest(marks ...timeline.Mark) timeline.Mark {
	order := []timeline.Mark{timeline.Label, timeline.Measured, timeline.Published, timeline.Derived, timeline.FromMemory, timeline.Judgement, timeline.CommonPractice, timeline.Invented}
	return slices.MaxFunc(marks, func(a, b timeline.Mark) int { return cmp.Compare(slices.Index(order, a), slices.Index(order, b)) })
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
	radiated, part := SettingOf(p.Show, heatRule.Name, heatRadiated.String())
	settings := settingsOf(&heatRule, p.Show.Setting(heatRule.Name), p.Show.Told())
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
		e.Length, e.Radiated = figure.FlameLength(e.Power), part
		_, fuel := heatRule.fuelOf(use.article, t)
		for _, l := range heatLevels {
			l.Metres = figure.StepUp(figure.HeatRadius(power, l.Level), 0.5)
			l.Mark = weakest(timeline.FromMemory, cmp.Or(part.Mark, timeline.CommonPractice), cmp.Or(fuel.Mark, timeline.CommonPractice), use.article.MarkOf("use-rate"))
			e.Levels = append(e.Levels, l)
		}
		at[use.article] = len(list)
		list = append(list, e)
	}
	return list
}

// HeatPlace is the most heat that a place of people is estimated to get in any
// song.
type HeatPlace struct {
	Place  string // line or mark
	Song   *timeline.PlanSong
	Flames int
	Peak   float64 // kW/m²
	Dose   float64 // the largest of any window
	Share  float64 // of the dose at which pain begins
}

// HeatPlaces gives the most heat at every line and mark that gets any, in the
// order of the venue: what the rule heat compares, whether it is worth a word or
// not.
func HeatPlaces(p *timeline.Plan) []HeatPlace {
	e := newEnv(p)
	worst := make([]HeatPlace, len(e.heat.places))
	for i := range p.Songs {
		r := &songRun{env: e, plan: p.Songs[i].SongPlan, rule: &heatRule, settings: &e.settings[indexOf(heatRule.Name)]}
		list := r.flares()
		t := r.songTune()
		levels := heatLevelsOf(t)
		for k, peak := range r.heatPeaks(list) {
			place := &e.heat.places[k]
			if peak.flux <= 0 || place.song != "" && place.song != r.plan.Song.ID {
				continue
			}
			dose := mostDose(list, peak.point, levels, nil)
			if w := &worst[k]; w.Song == nil || dose > w.Dose || dose == w.Dose && peak.flux > w.Peak {
				*w = HeatPlace{place.name, &p.Songs[i], peak.flames, max(peak.flux, w.Peak), dose, dose / max(levels.Dose, 1e-9)}
			} else {
				w.Peak = max(w.Peak, peak.flux)
			}
		}
	}
	return slices.DeleteFunc(worst, func(w HeatPlace) bool { return w.Song == nil })
}
