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
	Reason: "q = radiated part x fuel per second x heat of combustion / (4 pi r²), r from the middle of the flame, and the same for a flame taken as a line of even points along its axis, with tolerance: the greater counts. " +
		"What is open together adds up, from the hit less its spread to its open time and spread later. Air takes nothing away and people face the flame. In or on the flame there is no number: reach says that it reaches. Closer than half a flame's length, in wind and " +
		"on costumes the estimate is wrong. The dose is q^(4/3) x t, the largest of any window without recovery in between; what stays at or below the floor adds nothing. A level is worth a warning; a note begins at note-level, or at a share of the dose; " +
		"below that a row of the permit pack says it. Keys of the operator's plan are left out. Audience lines are looked at in steps that miss 0.25 % at most and at the feet of tilted flames' tips, marks at their nearest edge. One finding for each song and place.",
	Scope:    InSong,
	Severity: Warning,
	Settings: []Setting{
		{Name: "use-rate", Unit: "kg/s", Field: "article use-rate", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "fuel per second open"},
		{Name: "heat", Unit: "kJ/kg", Field: "article heat", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "lower heat of combustion of its fuel; 0 = by its medium"},
		{Name: "level", Default: "9.46", Unit: "kW/m²", Mark: timeline.FromMemory, Source: "9.46 kW/m², urgent action of a few seconds by trained adults with covered skin: API 521 (from memory; its clauses are not at hand)", Help: "radiation that is worth a warning"},
		{Name: "note-level", Default: "4.73", Unit: "kW/m²", Mark: timeline.FromMemory, Source: "4.73 kW/m², actions of 2 to 3 min: API 521 (from memory; its clauses are not at hand)", Help: "radiation that is worth a note"},
		{Name: "dose", Default: "92", Mark: timeline.FromMemory, Source: "dose at which pain begins, 86 to 103, in (kW/m²)^(4/3) s: HSL 2004/04, seen in a summary; first degree 105, second 290", Help: "dose that is worth a warning"},
		{Name: "share", Default: "0.5", Mark: timeline.Judgement, Source: "our judgement", Help: "part of the dose that is worth a note"},
		{Name: "floor", Default: "1.58", Unit: "kW/m²", Mark: timeline.FromMemory, Source: "1.58 kW/m², where people may stay: API 521 (from memory; its clauses are not at hand)", Help: "radiation up to which nothing is added to the dose"},
		{Name: "window", Default: "60", Unit: "s", Mark: timeline.Judgement, Source: "our judgement", Help: "time in which the dose adds up"},
		{Name: "radiated", Default: "0.3", Mark: timeline.FromMemory, Source: "usual part of a gas flame; 0.4 is cautious", Help: "part of the heat that is radiated"},
		{Name: "propane", Default: "46332", Unit: "kJ/kg", Mark: timeline.CommonPractice, Source: "common practice, no source: lower heat of combustion, as tables of fuels have it", Help: "of an article whose medium is propane"},
		{Name: "isobutane", Default: "45575", Unit: "kJ/kg", Mark: timeline.CommonPractice, Source: "common practice, no source: lower heat of combustion, as tables of fuels have it", Help: "of an article whose medium is isobutane"},
		{Name: "paraffin", Default: "44000", Unit: "kJ/kg", Mark: timeline.FromMemory, Source: "lower heat of paraffinic fluids, rounded", Help: "of an article whose medium is paraffin"},
		{Name: "isopropanol", Default: "30400", Unit: "kJ/kg", Mark: timeline.FromMemory, Source: "lower heat, rounded", Help: "of an article whose medium is isopropanol"},
		{Name: "ethanol", Default: "26800", Unit: "kJ/kg", Mark: timeline.FromMemory, Source: "lower heat, rounded", Help: "of an article whose medium is ethanol"},
		{Name: "other-fuel", Default: "46332", Unit: "kJ/kg", Mark: timeline.Judgement, Source: "our judgement: that of propane, above all others here", Help: "of an article whose medium is none of these"},
		{Name: "head-height", Default: "1.5", Unit: "m", Mark: timeline.Judgement, Source: "our judgement", Help: "of people above the stage floor"},
	},
	song: checkHeat,
})

// The places of its settings.
var (
	heatLevel    = setting("level", "heat")
	heatNote     = setting("note-level", "heat")
	heatDose     = setting("dose", "heat")
	heatShareOf  = setting("share", "heat")
	heatFloor    = setting("floor", "heat")
	heatWindow   = setting("window", "heat")
	heatRadiated = setting("radiated", "heat")
	heatHead     = setting("head-height", "heat")
	heatOther    = setting("other-fuel", "heat")
	heatFuels    = []Named{setting("propane", "heat"), setting("isobutane", "heat"), setting("paraffin", "heat"), setting("isopropanol", "heat"), setting("ethanol", "heat")}
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
	from, to int         // its points, counted over all places
	radius   float64     // of a mark
	song     timeline.ID // where a mark counts; "" = everywhere
	points   []timeline.Point
}

// heatField is the places of a venue and what a unit of power at a unit comes
// to at each of their points.
type heatField struct {
	places []heatPlace
	blocks []heatBlock
	size   int
	head   float64
	spaces *spaces
	known  map[heatKey]*heatReach
}

// heatBlock is some points of a place that lie beside each other: what none of
// them can exceed is known without a look at each.
type heatBlock struct{ place, from, to int }

// heatBlockSize is how many points a block has at most.
const heatBlockSize = 16

// heatReach is what a kW radiated at a unit comes to, in kW/m²: at every point,
// and the most in every block.
type heatReach struct{ at, most []float64 }

type heatKey struct {
	unit    *timeline.Unit
	article *timeline.Article
}

func newHeatField(v *timeline.Venue, units *timeline.Units, spaces *spaces, head float64) *heatField {
	h := &heatField{known: map[heatKey]*heatReach{}, head: head, spaces: spaces}
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
		place.points = append(place.points, h.tips(l, units)...)
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
	for from := p.from; from < p.to; from += heatBlockSize {
		h.blocks = append(h.blocks, heatBlock{len(h.places), from, min(from+heatBlockSize, p.to)})
	}
	h.places = append(h.places, p)
}

// tips gives the points of a line that the tips of tilted flames come nearest to.
func (h *heatField) tips(l timeline.PlanLine, units *timeline.Units) (list []timeline.Point) {
	for _, u := range units.All {
		if u.Article == nil || u.Article.Family.Class() != timeline.Hot {
			continue
		}
		if x := h.spaces.of(u, u.Article, timeline.ToAudience); x != nil && x.Track != nil && x.Envelope != nil {
			list = append(list, nearestPoint(timeline.Point(x.Envelope.End().Plan()), l.From, l.To))
		}
	}
	return list
}

// of gives what a kW radiated at a unit comes to at every point, in kW/m². In or
// on the flame there is no number, and 0 stands here: that it reaches is found by
// the rule reach.
func (h *heatField) of(u *timeline.Unit, a *timeline.Article) *heatReach {
	k := heatKey{u, a}
	if reach, ok := h.known[k]; ok {
		return reach
	}
	list := make([]float64, 0, h.size)
	x := h.spaces.of(u, a, timeline.ToAudience)
	f := figure.Flame{Envelope: *x.Envelope, Height: a.Height, Power: 1}
	middle := f.Middle().Plan()
	for i := range h.places {
		for _, p := range h.places[i].points {
			edge := timeline.PlanMark{At: p, Radius: h.places[i].radius}
			flux, _ := f.Flux(f.Receiver(figure.Point(rimPoint(timeline.Point(middle), edge)), h.head))
			list = append(list, flux)
		}
	}
	reach := &heatReach{at: list, most: make([]float64, len(h.blocks))}
	for i, b := range h.blocks {
		reach.most[i] = slices.Max(list[b.from:b.to])
	}
	h.known[k] = reach
	return reach
}

// fuelOf gives the lower heat of combustion in kJ/kg that an article is taken to
// have, and where that stands.
func (r *Rule) fuelOf(a *timeline.Article, t *tuning) (float64, Ground) {
	heat := fuelHeat(a, t)
	if a.Heat > 0 {
		return heat, ofArticle(a, "heat", share(a.Heat)+" kJ/kg")
	}
	return heat, r.fromSetting(fuelSetting(a), t)
}

// fuelSetting is the number that stands for an article's fuel.
func fuelSetting(a *timeline.Article) Named {
	for _, f := range heatFuels {
		if strings.EqualFold(a.Medium, f.String()) {
			return f
		}
	}
	return heatOther
}

func fuelHeat(a *timeline.Article, t *tuning) float64 {
	if a.Heat > 0 {
		return a.Heat
	}
	return t.of(fuelSetting(a)).plain
}

// heatOf gives the kW that an article radiates while it is open; 0 where its use
// is not known.
func heatOf(a *timeline.Article, open timeline.Time, t *tuning) float64 {
	var p powers
	return p.of(a, open, t)
}

// powers gives what articles radiate, one after the other; commands of one
// article mostly come together.
type powers struct {
	article        *timeline.Article
	tune           *tuning
	hot            bool
	heat, radiated float64
}

func (p *powers) of(a *timeline.Article, open timeline.Time, t *tuning) float64 {
	if a != p.article || t != p.tune {
		*p = powers{article: a, tune: t, hot: a.Family.Class() == timeline.Hot}
		if p.hot {
			p.heat, p.radiated = fuelHeat(a, t), t.of(heatRadiated).plain
		}
	}
	if !p.hot || open <= 0 {
		return 0
	}
	return figure.HeatPower(p.radiated, a.UseRate+a.UseEach/open.Seconds(), p.heat)
}

// flare is a flame that opens or closes.
type flare struct {
	at      timeline.Time
	power   float64 // kW; below 0 where it closes
	command int32
	reach   *heatReach
}

// flares lists the opening and closing of a song's flames by time; at one
// instant what closes comes first.
func (r *songRun) flares() []flare {
	var list []flare
	var powers powers
	for i := range r.plan.Commands {
		c := &r.plan.Commands[i]
		if c.Unit.Position == nil || c.Article.Height == 0 { // from where to where it burns is not known
			continue
		}
		t := r.tune(c)
		if power := powers.of(c.Article, c.Open, t); power > 0 && !t.off {
			if list == nil {
				list = make([]flare, 0, 2*(len(r.plan.Commands)-i))
			}
			reach := r.heat.of(c.Unit, c.Article)
			list = append(list, flare{c.Hit - c.Article.Spread, power, int32(i), reach}, flare{c.Hit + c.Open + c.Article.Spread, -power, int32(i), reach})
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

// levels gives the numbers that heat is held against.
func heatLevelsOf(t *tuning) figure.HeatLevels {
	return figure.HeatLevels{Window: t.of(heatWindow).time.Seconds(), Dose: t.of(heatDose).plain, Share: t.of(heatShareOf).plain, NotePeak: t.of(heatNote).plain, Peak: t.of(heatLevel).plain, Floor: t.of(heatFloor).plain}
}

func checkHeat(r *songRun) {
	if r.heat.size == 0 {
		return
	}
	list := r.flares()
	if len(list) == 0 {
		return
	}
	t := r.songTune()
	levels := heatLevelsOf(t)
	room := make([]figure.Pulse, 0, len(list))
	lit := min(levels.Window, (list[len(list)-1].at - list[0].at).Seconds())
	for i, peak := range r.heatPeaks(list) {
		place := &r.heat.places[i]
		if place.song != "" && place.song != r.plan.Song.ID || peak.flux <= min(levels.Floor, levels.NotePeak) || levels.Word(peak.flux, figure.Dose(peak.flux, lit)) == figure.RowOnly {
			continue // at its peak all the time it would still not be enough
		}
		dose := mostDose(list, peak.point, levels, room)
		if word := levels.Word(peak.flux, dose); word != figure.RowOnly {
			r.hot(t, place, list, peak, dose, word)
		}
	}
}

// heatPeaks adds up what is open together at every point and gives the most at
// each place. Points are looked at where their block could hold more than was
// found so far.
func (r *songRun) heatPeaks(list []flare) []heatPeak {
	peaks := make([]heatPeak, len(r.heat.places))
	most := make([]float64, len(r.heat.blocks))
	var open []int32 // flares
	for n := range list {
		f := &list[n]
		for i, x := range f.reach.most {
			most[i] += x * f.power
		}
		if f.power < 0 {
			i := slices.IndexFunc(open, func(k int32) bool { return list[k].command == f.command })
			if open = slices.Delete(open, i, i+1); len(open) == 0 {
				clear(most) // what rounding has left
			}
			continue
		}
		open = append(open, int32(n))
		if n+1 < len(list) && list[n+1].at == f.at {
			continue // more opens at this instant
		}
		for i, b := range r.heat.blocks {
			if peak := &peaks[b.place]; above(most[i]*(1+1e-9), peak.flux) {
				r.peakIn(b, list, open, n, peak)
			}
		}
	}
	return peaks
}

// peakIn looks at every point of a block.
func (r *songRun) peakIn(b heatBlock, list []flare, open []int32, n int, peak *heatPeak) {
	var sum [heatBlockSize]float64
	at := sum[:b.to-b.from]
	for _, k := range open {
		f := &list[k]
		for i, x := range f.reach.at[b.from:b.to] {
			at[i] += x * f.power
		}
	}
	for i, x := range at {
		if above(x, peak.flux) {
			*peak = heatPeak{x, b.from + i, n, len(open)}
		}
	}
}

// mostDose gives the largest dose at a point in any window. Room may be given for
// its pieces.
func mostDose(list []flare, point int, levels figure.HeatLevels, room []figure.Pulse) float64 {
	pieces := room[:0]
	sum, open := 0.0, 0
	for n := range list {
		f := &list[n]
		if open > 0 && f.at > list[n-1].at && sum > levels.Floor {
			pieces = append(pieces, figure.Pulse{From: list[n-1].at.Seconds(), To: f.at.Seconds(), Amount: max(0, sum)})
		}
		sum += f.reach.at[point] * f.power
		if f.power > 0 {
			open++
		} else if open--; open == 0 {
			sum = 0 // what rounding has left
		}
	}
	return figure.MostDose(pieces, levels.Window, levels.Floor)
}

func (r *songRun) hot(t *tuning, place *heatPlace, list []flare, peak heatPeak, dose float64, said figure.Word) {
	c := &r.plan.Commands[list[peak.flare].command]
	f := about(r.plan, c.Cue, c.Hit)
	flux, rounded := roundTo(peak.flux, 2), roundTo(dose, 1)
	f.Others = []timeline.Ref{rigRef("venue", r.key.venue.ID)}
	f.Text = fmt.Sprintf("an estimate: %s open together send %s kW/m² to %s, and the dose comes to %s, %.0f %% of that at which pain begins; %s kW/m² and %s are the levels", timeline.Counted(peak.flames, "flame"), share(flux), place.name, share(rounded), 100*dose/max(t.of(heatDose).plain, 1e-9), t.of(heatLevel).text, t.of(heatDose).text)
	f.Values = []Value{word("place", place.name), count("flames", peak.flames), measure("estimate", flux, "kW/m²"), measure("dose", rounded, "")}
	_, fuel := r.rule.fuelOf(c.Article, t)
	f.Grounds = []Ground{ofArticle(c.Article, "use-rate", r.given("kg/s", c.Article.UseRate)), r.rule.fromSetting(heatLevel, t), r.rule.fromSetting(heatDose, t), r.rule.fromSetting(heatRadiated, t), fuel}
	f.Spans = []Span{{"open", c.At, c.End()}}
	f.Help = "open fewer flames together or for a shorter time, or keep people further away; measure on site" + deferral
	if said == figure.NoteWord {
		f.Grounds = append(f.Grounds, r.rule.fromSetting(heatNote, t), r.rule.fromSetting(heatShareOf, t))
		low := *t
		low.severity = lesser(t.severity, Note)
		t = &low
	}
	r.add(t, "", f)
}

// lesser gives of two severities the one that matters less.
func lesser(a, b Severity) Severity {
	if a.rank() > b.rank() {
		return a
	}
	return b
}
