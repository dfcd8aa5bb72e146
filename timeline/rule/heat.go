package rule

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

var heatRule = enter(Rule{
	Name:    "heat",
	Summary: "flames that are open together would send more heat to audience or performers than a level, in an estimate",
	Reason: "q = radiated part x fuel per second x heat of combustion / (4 pi r²), r from the middle of the flame to the place; what is open together adds up. A flame is taken as a point, " +
		"full on for its open time: close to it, in wind and with fuels of other names the estimate is wrong. The dose is q^(4/3) x t, added up as long as any flame is open. " +
		"Keys of the operator's plan are left out. Audience lines are looked at in steps that miss 0.25 % at most, marks at their nearest edge. One note for each song and place.",
	Scope:    InSong,
	Severity: Note,
	Settings: []Setting{
		{Name: "use-rate", Unit: "kg/s", Field: "article use-rate", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "fuel per second open"},
		{Name: "level", Default: "1.58", Unit: "kW/m²", Mark: timeline.Published, Source: "1.58 kW/m², where people may stay: API 521 (named from memory); 4.73 for minutes", Help: "radiation that is worth a note"},
		{Name: "dose", Default: "92", Mark: timeline.FromMemory, Source: "thermal dose at which pain begins, about, in (kW/m²)^(4/3) s; second degree 290", Help: "dose that is worth a note"},
		{Name: "radiated", Default: "0.3", Mark: timeline.FromMemory, Source: "usual part of a gas flame; 0.4 is cautious", Help: "part of the heat that is radiated"},
		{Name: "propane", Default: "46332", Unit: "kJ/kg", Mark: timeline.Published, Source: "lower heat of combustion", Help: "of an article whose medium is propane"},
		{Name: "isobutane", Default: "45575", Unit: "kJ/kg", Mark: timeline.Published, Source: "lower heat of combustion", Help: "of an article whose medium is isobutane"},
		{Name: "head-height", Default: "1.5", Unit: "m", Mark: timeline.Judgement, Source: "our judgement", Help: "of people above the stage floor"},
	},
	song: checkHeat,
})

// The places of its settings.
var (
	heatLevel     = setting("level", "heat")
	heatDose      = setting("dose", "heat")
	heatRadiated  = setting("radiated", "heat")
	heatPropane   = setting("propane", "heat")
	heatIsobutane = setting("isobutane", "heat")
	heatHead      = setting("head-height", "heat")
)

// An audience line is looked at every quarter of a metre, or where all units
// stand far away, in steps of a tenth of the way to the nearest: half a step
// beside the hottest point the radiation is less by 0.25 %.
const (
	heatStep  = 0.25
	heatShare = 0.1
)

// heatPlace is where people are: some points of an audience line, or one mark.
type heatPlace struct {
	name     string
	from, to int         // its points in heatField.points
	radius   float64     // of a mark
	song     timeline.ID // where a mark counts; "" = everywhere
	points   []timeline.Point
}

// heatField is the places of a venue and what a unit of power at a unit comes
// to at each of their points.
type heatField struct {
	places []heatPlace
	size   int
	head   float64
	known  map[heatKey][]float64
}

type heatKey struct {
	unit    *timeline.Unit
	article *timeline.Article
}

func newHeatField(v *timeline.Venue, units *timeline.Units, head float64) *heatField {
	h := &heatField{known: map[heatKey][]float64{}, head: head}
	if v == nil {
		return h
	}
	for _, l := range v.Audience {
		step := max(heatStep, heatShare*leastAway(l, units))
		n := max(2, min(2000, 2*int(math.Ceil(math.Hypot(l.To.X-l.From.X, l.To.Y-l.From.Y)/step/2))))
		place := heatPlace{name: lineName(l.Name, "audience line")}
		for i := 0; i <= n; i++ {
			k := float64(i) / float64(n)
			place.points = append(place.points, timeline.Point{X: l.From.X + k*(l.To.X-l.From.X), Y: l.From.Y + k*(l.To.Y-l.From.Y)})
		}
		h.enter(place)
	}
	for _, m := range v.Performers {
		h.enter(heatPlace{name: lineName(m.Name, "performer's mark"), radius: m.Radius, song: m.Song, points: []timeline.Point{m.At}})
	}
	return h
}

// leastAway gives how far the nearest unit stands from a line.
func leastAway(l timeline.PlanLine, units *timeline.Units) float64 {
	least := math.Inf(1)
	for _, u := range units.All {
		if u.Position != nil {
			least = min(least, fromSegment(pointOf(u.Position), l.From, l.To))
		}
	}
	return least
}

func (h *heatField) enter(p heatPlace) {
	p.from, p.to = h.size, h.size+len(p.points)
	h.size = p.to
	h.places = append(h.places, p)
}

// of gives what a kW radiated at a unit comes to at every point, in kW/m².
func (h *heatField) of(u *timeline.Unit, a *timeline.Article) []float64 {
	k := heatKey{u, a}
	if list, ok := h.known[k]; ok {
		return list
	}
	list := make([]float64, 0, h.size)
	up := u.Position.Z + a.Height/2 - h.head
	for i := range h.places {
		for _, p := range h.places[i].points {
			flat := max(0, math.Hypot(p.X-u.Position.X, p.Y-u.Position.Y)-h.places[i].radius)
			list = append(list, figure.PointFlux(1, max(0.1, math.Hypot(flat, up))))
		}
	}
	h.known[k] = list
	return list
}

// heatOf gives the kW that an article radiates while it is open; 0 where its
// fuel is not known.
func heatOf(a *timeline.Article, open timeline.Time, t *tuning) float64 {
	var heat float64
	switch {
	case a.Family.Class() != timeline.Hot || open <= 0:
		return 0
	case strings.EqualFold(a.Medium, "propane"):
		heat = t.of(heatPropane).plain
	case strings.EqualFold(a.Medium, "isobutane"):
		heat = t.of(heatIsobutane).plain
	}
	return figure.HeatPower(t.of(heatRadiated).plain, a.UseRate+a.UseEach/open.Seconds(), heat)
}

// flare is a flame that opens or closes.
type flare struct {
	at      timeline.Time
	power   float64 // kW; below 0 where it closes
	command int32
	reach   []float64 // what a kW of it comes to at every point; see heatField.of
}

// flares lists the opening and closing of a song's flames by time; at one
// instant what closes comes first.
func (r *songRun) flares() []flare {
	var list []flare
	for i := range r.plan.Commands {
		c := &r.plan.Commands[i]
		if c.Unit.Position == nil {
			continue
		}
		t := r.tune(c)
		if power := heatOf(c.Article, c.Open, t); power > 0 && !t.off {
			reach := r.heat.of(c.Unit, c.Article)
			list = append(list, flare{c.At, power, int32(i), reach}, flare{c.End(), -power, int32(i), reach})
		}
	}
	slices.SortStableFunc(list, func(a, b flare) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.power, b.power)) })
	return list
}

// heatPeak is the most a place of a song gets.
type heatPeak struct {
	flux   float64
	point  int // of all points
	flare  int // after which it is reached
	flames int
}

func checkHeat(r *songRun) {
	if r.heat.size == 0 {
		return
	}
	list := r.flares()
	if len(list) == 0 {
		return
	}
	t, lit := r.songTune(), litFor(list).Seconds()
	for i, peak := range r.heatPeaks(list) {
		place := &r.heat.places[i]
		bright := peak.flux > t.of(heatLevel).plain
		if place.song != "" && place.song != r.plan.Song.ID || !bright && figure.Dose(peak.flux, lit) <= t.of(heatDose).plain {
			continue // at its peak all the time it would still not be enough
		}
		if dose := mostDose(list, peak.point); bright || dose > t.of(heatDose).plain {
			r.hot(t, place, list, peak, dose)
		}
	}
}

// litFor gives the longest time in which flames are open without a pause: no
// dose adds up for longer.
func litFor(list []flare) (longest timeline.Time) {
	open, from := 0, timeline.Time(0)
	for _, f := range list {
		switch {
		case f.power > 0 && open == 0:
			open, from = 1, f.at
		case f.power > 0:
			open++
		default:
			open--
			longest = max(longest, f.at-from)
		}
	}
	return longest
}

// heatPeaks adds up what is open together at every point and gives the most at
// each place.
func (r *songRun) heatPeaks(list []flare) []heatPeak {
	peaks := make([]heatPeak, len(r.heat.places))
	sum, open := make([]float64, r.heat.size), 0
	for n, f := range list {
		for i, x := range f.reach {
			sum[i] += x * f.power
		}
		if f.power < 0 {
			if open--; open == 0 {
				clear(sum) // what rounding has left
			}
			continue
		}
		open++
		if n+1 < len(list) && list[n+1].at == f.at {
			continue // more opens at this instant
		}
		for i := range peaks {
			p := &r.heat.places[i]
			for k, x := range sum[p.from:p.to] {
				if above(x, peaks[i].flux) {
					peaks[i] = heatPeak{x, p.from + k, n, open}
				}
			}
		}
	}
	return peaks
}

// mostDose gives the largest dose at a point while any flame is open.
func mostDose(list []flare, point int) float64 {
	var sum, dose, most float64
	open := 0
	for n := range list {
		f := &list[n]
		if open > 0 && f.at > list[n-1].at {
			dose += figure.Dose(max(0, sum), (f.at - list[n-1].at).Seconds())
			most = max(most, dose)
		}
		sum += f.reach[point] * f.power
		if f.power > 0 {
			open++
		} else if open--; open == 0 {
			sum, dose = 0, 0
		}
	}
	return most
}

func (r *songRun) hot(t *tuning, place *heatPlace, list []flare, peak heatPeak, dose float64) {
	c := &r.plan.Commands[list[peak.flare].command]
	f := about(r.plan, c.Cue, c.Hit)
	flux, rounded := roundTo(peak.flux, 2), roundTo(dose, 1)
	f.Others = []timeline.Ref{rigRef("venue", r.key.venue.ID)}
	f.Text = fmt.Sprintf("an estimate: %s open together send %s kW/m² to %s, and the dose comes to %s; %s kW/m² and %s are the levels", times(peak.flames, "flame"), share(flux), place.name, share(rounded), t.of(heatLevel).text, t.of(heatDose).text)
	f.Values = []Value{word("place", place.name), count("flames", peak.flames), measure("estimate", flux, "kW/m²"), measure("dose", rounded, "")}
	f.Grounds = []Ground{ofArticle(c.Article, "use-rate", share(c.Article.UseRate)+" kg/s"), r.rule.fromSetting(heatLevel, t), r.rule.fromSetting(heatDose, t), r.rule.fromSetting(heatRadiated, t), r.fuelGround(c.Article, t)}
	f.Spans = []Span{{"open", c.At, c.End()}}
	f.Help = "open fewer flames together or for a shorter time, or keep people further away; measure on site" + deferral
	r.add(t, "", f)
}

func (r *songRun) fuelGround(a *timeline.Article, t *tuning) Ground {
	if strings.EqualFold(a.Medium, "isobutane") {
		return r.rule.fromSetting(heatIsobutane, t)
	}
	return r.rule.fromSetting(heatPropane, t)
}
