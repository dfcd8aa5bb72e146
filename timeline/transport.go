package timeline

import (
	"cmp"
	"slices"
	"strings"
)

// TransportFactors gives the points of a kilogram in each transport category.
// Category 0 is never carried under the limit, and has no factor.
type TransportFactors map[string]float64

// TransportLimit is the points up to which a vehicle's load of dangerous goods
// is freed from most of the rules (ADR 1.1.3.6, published).
const TransportLimit = 1000

// DefaultTransportFactors are those of ADR 1.1.3.6 (published).
func DefaultTransportFactors() TransportFactors {
	return TransportFactors{"1": 50, "2": 3, "3": 1, "4": 0}
}

var transportCategories = []string{"", "0", "1", "2", "3", "4"}

// TransportLine is what is on site of one kind of dangerous goods.
type TransportLine struct {
	What     string  // hazard division or medium
	Category string  // transport category, "0" to "4"; "" = not known
	Kg       float64 // net explosive mass, or what full cylinders hold
	Points   float64 // 0 where the category is not known or 0
}

// Transport adds up the transport points of what is on site, by kind of goods,
// as if it all came in one vehicle.
type Transport struct {
	Lines  []TransportLine // hazard divisions, then media, by name and category
	Points float64
	Open   []TransportLine // of Lines: category not known, or 0; the points leave them out
}

// TransportCategoryOf gives the transport category of what holds explosive, by
// its hazard division with its letter; "" where it is not known. From memory of
// ADR 1.1.3.6.3, class 1: 1.1 to 1.3 in 1, 1.4B to 1.4G and 1.6N in 2, 1.4S in
// 4, compatibility group A and L in 0.
func TransportCategoryOf(division string) string {
	d := strings.ToUpper(strings.TrimSpace(division))
	if len(d) != len("1.4G") || d[:2] != "1." {
		return ""
	}
	switch number, group := d[2], d[3]; {
	case group == 'A' || group == 'L':
		return "0"
	case d == "1.4S":
		return "4"
	case number == '4' && group >= 'B' && group <= 'G' || d == "1.6N":
		return "2"
	case number >= '1' && number <= '3' && group >= 'B' && group <= 'J' || d == "1.5D":
		return "1"
	}
	return ""
}

// TransportCategory gives the article's transport category: its own, or that
// of its hazard division.
func (a *Article) TransportCategory() string {
	return cmp.Or(a.Transport, TransportCategoryOf(a.Division))
}

// mediaCategories are the transport categories of gases in cylinders, from
// memory of ADR 3.2: carbon dioxide (UN 1013) in 3, hydrocarbons (UN 1965,
// 1969, 1978) in 2.
var mediaCategories = map[string]string{"co2": "3", "propane": "2", "isobutane": "2", "butane": "2"}

// TransportCategory gives the supply's transport category: its own, or that of
// its medium; "" where neither says.
func (s *Supply) TransportCategory() string {
	return cmp.Or(s.Transport, mediaCategories[strings.ToLower(s.Medium)])
}

// SupplyOnSite is what a supply holds on site in kg: all units joined, and the full
// ones that wait beside it. A night's weighed fill replaces the joined ones'.
func (p *Plan) SupplyOnSite(s *Supply) float64 {
	kg, _ := p.FillOf(s)
	return kilos(milligrams(kg) + milligrams(s.Fill*float64(s.Spare)))
}

// Transport adds up the points of what is on site. Paper, fluids and media
// without a category that hold no category of their own are no dangerous goods
// and are left out.
func (p *Plan) Transport(factors TransportFactors) Transport {
	return p.TransportOf(p.OnSite(), factors)
}

// TransportOf is Transport for somebody who has counted what is on site.
func (p *Plan) TransportOf(site *OnSite, factors TransportFactors) Transport {
	type kind struct {
		gas            bool
		what, category string
	}
	mass := map[kind]int64{} // mg
	for i := range site.Articles {
		if a := site.Articles[i].Article; a.NEC > 0 {
			k := kind{what: a.Division, category: a.TransportCategory()}
			mass[k] += micrograms(a.NEC) * int64(site.Articles[i].Pieces)
		}
	}
	for k := range mass {
		mass[k] /= 1000
	}
	for _, s := range p.Show.Rig.Supplies {
		if c := s.TransportCategory(); c != "" {
			mass[kind{true, strings.ToLower(s.Medium), c}] += milligrams(p.SupplyOnSite(s))
		}
	}
	var t Transport
	kinds := make([]kind, 0, len(mass))
	for k := range mass {
		kinds = append(kinds, k)
	}
	slices.SortFunc(kinds, func(a, b kind) int {
		return cmp.Or(cmp.Compare(order(a.gas), order(b.gas)), strings.Compare(a.what, b.what), strings.Compare(a.category, b.category))
	})
	points := int64(0) // in millionths
	for _, k := range kinds {
		factor, known := factors[k.category]
		each := int64(factor*float64(mass[k]) + 0.5)
		line := TransportLine{What: k.what, Category: k.category, Kg: kilos(mass[k]), Points: kilos(each)}
		if k.gas {
			line.What = p.mediumName(k.what)
		}
		t.Lines = append(t.Lines, line)
		if !known {
			t.Open = append(t.Open, line)
		}
		points += each
	}
	t.Points = kilos(points)
	return t
}

// mediumName writes a medium as the first supply that holds it does.
func (p *Plan) mediumName(lower string) string {
	for _, s := range p.Show.Rig.Supplies {
		if strings.ToLower(s.Medium) == lower {
			return s.Medium
		}
	}
	return lower
}

func order(later bool) int {
	if later {
		return 1
	}
	return 0
}

// SiteDay is what is on site on one date in one venue, for all its nights
// together: two shows on one day need the pieces of both.
type SiteDay struct {
	Date      string
	Venue     ID
	Nights    []*Night
	Pieces    int
	NEC       float64 // g
	Divisions []DivisionNEC
}

// SiteDays counts what is on site by day over all nights that have a date, by
// date, then venue.
func SiteDays(s *Show) []SiteDay {
	type key struct {
		date  string
		venue ID
	}
	days := map[key]*SiteDay{}
	micro := map[*SiteDay]map[string]int64{}
	c := NewCompiler()
	for _, n := range s.Nights {
		if n.Date == "" {
			continue
		}
		d := entry(days, key{n.Date, n.Venue})
		d.Date, d.Venue, d.Nights = n.Date, n.Venue, append(d.Nights, n)
		site := c.Compile(s, n).OnSite()
		d.Pieces += site.Pieces
		if micro[d] == nil {
			micro[d] = map[string]int64{}
		}
		for _, x := range site.Divisions {
			i := slices.IndexFunc(d.Divisions, func(y DivisionNEC) bool { return y.Division == x.Division })
			if i < 0 {
				i = len(d.Divisions)
				d.Divisions = append(d.Divisions, DivisionNEC{Division: x.Division})
			}
			d.Divisions[i].Pieces += x.Pieces
			micro[d][x.Division] += micrograms(x.NEC)
		}
	}
	var out []SiteDay
	for _, d := range days {
		var all int64
		for i := range d.Divisions {
			d.Divisions[i].NEC = grams(micro[d][d.Divisions[i].Division])
			all += micro[d][d.Divisions[i].Division]
		}
		d.NEC = grams(all)
		slices.SortFunc(d.Divisions, func(a, b DivisionNEC) int { return strings.Compare(a.Division, b.Division) })
		out = append(out, *d)
	}
	slices.SortFunc(out, func(a, b SiteDay) int {
		return cmp.Or(strings.Compare(a.Date, b.Date), strings.Compare(string(a.Venue), string(b.Venue)))
	})
	return out
}
