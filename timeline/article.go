package timeline

import (
	"cmp"
	"strings"

	"emberbeat/timeline/field"
)

// Article is one effect of the stock as it is bought or built: how long before
// the hit it must be commanded, what it does, what it needs, what it uses.
// Lengths are metres, masses kilograms, NEC grams.
type Article struct {
	Base
	Name       string
	Family     Family
	HitPoint   HitPoint
	Lead       Time // command to hit, without the latency of device or bank
	Spread     Time // half width of the lead's spread
	Open       Time // default open time; for single shots how long it is seen
	OpenMin    Time // 0 = none
	OpenMax    Time // 0 = none
	Rise       Time // from the hit to its full height; 0 = not given
	Fall       Time // from its closing until nothing of it is seen; 0 = not given
	Recovery   Time // from the end of one use to the next command
	DutyOpen   Time // at most so much open time in any DutyWindow; 0 = no limit
	DutyWindow Time
	WarmUp     Time
	SingleUse  bool
	Control    Control
	Level      int     // default level in percent, 0 = full
	Medium     string  // what a supply must hold: CO2, propane, fluid, paper …
	Heat       float64 // kJ/kg, lower heat of combustion of a flame's fuel; 0 = by its medium
	UseRate    float64 // kg per second open
	UseEach    float64 // kg per use
	Height     float64
	Fallout    float64 // radius
	Separation float64 // label distance to the audience; 0 = not given
	Corridor   float64 // width that must stay free along a line rocket's line; 0 = not given
	Clear      float64 // clear zone around the unit; 0 = not given
	Hang       Time    // how long after the hit something still falls or floats
	Wind       float64 // m/s up to which it may be fired; 0 = not given
	NEC        float64
	Division   string
	UN         string
	Category   string
	Transport  string // transport category of ADR 1.1.3.6, "0" to "4"; "" = by the division
	Mark       Mark
	Marks      []string // "field=mark" where a field's mark differs
	Source     string
	Stock      int    // how many there are; 0 = not given
	Counted    string // yyyy-mm-dd on which Stock was counted: what nights from then on use is taken off; "" = all nights
	Expires    string // yyyy-mm-dd: label, approval or shelf life ends; "" = not given
	DataSheet  string // where its safety data sheet is
	Retired    bool
	Note       string
}

func init() {
	register("article", "articles", "an effect of the stock", stockPart,
		func(s *Show, _ ID) []*Article { return s.Stock.Articles },
		func(d *Draft, _ ID) *[]*Article { return &d.stock().Articles },
		field.Text("name", "what the crew calls it", func(a *Article) *string { return &a.Name }),
		field.Choice("family", "kind of effect", func(a *Article) *Family { return &a.Family }, Families()),
		field.Choice("hit", "which instant is the hit", func(a *Article) *HitPoint { return &a.HitPoint }, []HitPoint{FirstLight, FullEffect, Apex, AtReport}),
		spanField("lead", "from command to hit", func(a *Article) *Time { return &a.Lead }),
		spanField("spread", "half width of the lead's spread", func(a *Article) *Time { return &a.Spread }),
		spanField("open", "open time when a cue gives none", func(a *Article) *Time { return &a.Open }),
		spanField("open-min", "shortest open time; 0 = no limit", func(a *Article) *Time { return &a.OpenMin }),
		spanField("open-max", "longest open time; 0 = no limit", func(a *Article) *Time { return &a.OpenMax }),
		spanField("rise", "from the hit to its full height, for the picture of the stage; 0 = its family's", func(a *Article) *Time { return &a.Rise }),
		spanField("fall", "from its closing until nothing of it is seen, likewise; 0 = its family's", func(a *Article) *Time { return &a.Fall }),
		spanField("recovery", "from the end of one use to the next command", func(a *Article) *Time { return &a.Recovery }),
		spanField("duty-open", "at most so much open time in any duty window; 0 = no limit", func(a *Article) *Time { return &a.DutyOpen }),
		spanField("duty-window", "length of the duty window", func(a *Article) *Time { return &a.DutyWindow }),
		spanField("warm-up", "from switching on to the first command", func(a *Article) *Time { return &a.WarmUp }),
		field.Flag("single-use", "can be commanded once per show", func(a *Article) *bool { return &a.SingleUse }),
		field.Choice("control", "kind of output it needs", func(a *Article) *Control { return &a.Control }, []Control{SlotControl, IgniterControl, RelayControl}),
		field.Whole("level", "default level in percent; 0 = full", 0, 100, func(a *Article) *int { return &a.Level }),
		field.Text("medium", "what it uses up: CO2, propane, fluid, paper", func(a *Article) *string { return &a.Medium }),
		field.Number("heat", "kJ/kg", "lower heat of combustion of a flame's fuel; 0 = by its medium", 0, 1e6, func(a *Article) *float64 { return &a.Heat }),
		field.Number("use-rate", "kg/s", "used per second open", 0, 1000, func(a *Article) *float64 { return &a.UseRate }),
		field.Number("use-each", "kg", "used per hit", 0, 1000, func(a *Article) *float64 { return &a.UseEach }),
		field.Number("height", "m", "height of the effect above the unit", 0, 1000, func(a *Article) *float64 { return &a.Height }),
		field.Number("fallout", "m", "fallout radius", 0, 1000, func(a *Article) *float64 { return &a.Fallout }),
		field.Number("separation", "m", "label distance to the audience; 0 = not given", 0, 10000, func(a *Article) *float64 { return &a.Separation }),
		field.Number("corridor", "m", "width that must stay free along a line rocket's line; 0 = not given", 0, 1000, func(a *Article) *float64 { return &a.Corridor }),
		field.Number("clear", "m", "clear zone around the unit; 0 = not given", 0, 1000, func(a *Article) *float64 { return &a.Clear }),
		spanField("hang", "how long after the hit something falls or floats", func(a *Article) *Time { return &a.Hang }),
		field.Number("wind", "m/s", "wind up to which it may be fired; 0 = not given", 0, 100, func(a *Article) *float64 { return &a.Wind }),
		field.Number("nec", "g", "net explosive content of one unit", 0, 1e6, func(a *Article) *float64 { return &a.NEC }),
		field.Text("division", "hazard division, such as 1.4G", func(a *Article) *string { return &a.Division }),
		field.Text("un", "UN number", func(a *Article) *string { return &a.UN }),
		field.Text("category", "category, such as T1", func(a *Article) *string { return &a.Category }),
		field.Choice("transport", "transport category of ADR 1.1.3.6; empty = by the division", func(a *Article) *string { return &a.Transport }, transportCategories),
		field.Choice("mark", "how well its numbers are known", func(a *Article) *Mark { return &a.Mark },
			[]Mark{"", Published, FromMemory, CommonPractice, Judgement, Derived, Measured, Label, Invented}),
		field.TextList("marks", "field=mark where one field's mark differs", func(a *Article) *[]string { return &a.Marks }),
		field.Text("source", "where the numbers come from", func(a *Article) *string { return &a.Source }),
		field.Whole("stock", "how many there are; 0 = not given", 0, 1_000_000, func(a *Article) *int { return &a.Stock }),
		field.Parsed("counted", "yyyy-mm-dd on which stock was counted; nights from then on are taken off it; empty = all nights", func(a *Article) *string { return &a.Counted }, func(t string) string { return t }, parseDate),
		field.Parsed("expires", "yyyy-mm-dd, end of approval or shelf life; empty = not given", func(a *Article) *string { return &a.Expires }, func(t string) string { return t }, parseDate),
		field.Text("data-sheet", "where its safety data sheet is", func(a *Article) *string { return &a.DataSheet }),
		field.Flag("retired", "no longer in use; kept for old shows", func(a *Article) *bool { return &a.Retired }),
		field.Text("note", "", func(a *Article) *string { return &a.Note }),
	)
}

// MarkOf says how well the number of a field is known: by the field's own mark,
// else the article's, else as common practice.
func (a *Article) MarkOf(field string) Mark {
	for _, m := range a.Marks {
		if name, own, ok := strings.Cut(m, "="); ok && name == field {
			return Mark(own)
		}
	}
	return cmp.Or(a.Mark, CommonPractice)
}

// Known reports whether a number of the mark was read somewhere, measured,
// computed here or given by a label: everything else has to be looked up before
// anybody relies on it.
func (m Mark) Known() bool {
	switch m {
	case Published, Derived, Measured, Label:
		return true
	}
	return false
}

// defaults makes a new article one of our own family, hit at full effect,
// driven by slots.
func (a *Article) defaults() {
	a.Family, a.HitPoint, a.Control = OwnFamily, FullEffect, SlotControl
}
