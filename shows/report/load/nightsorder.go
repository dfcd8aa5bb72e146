package load

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// NightsOrder is what several nights use, each by its own plan, what is on hand
// before each, and what has to be ordered for which of them. Its JSON keys only grow.
type NightsOrder struct {
	report.Head
	Nights     []OrderNight   `json:"nights"` // in the order of their dates
	Articles   []NightsStock  `json:"articles"`
	Supplies   []NightsStock  `json:"supplies"` // full cylinders and tanks
	Igniters   []int          `json:"igniters"` // night by night; none on hand is known
	Media      []NightsMedium `json:"media"`
	Deliveries []Delivery     `json:"deliveries"`
	Beside     []string       `json:"not_taken_off"` // nights that are not chosen and of which nothing is entered, up to the last
}

// OrderNight is one of the nights.
type OrderNight struct {
	Night    string `json:"night"` // id
	Name     string `json:"name"`
	Date     string `json:"date"`
	Revision string `json:"revision,omitempty"`
	Over     bool   `json:"over"`     // what became of its loads is entered: nothing is ordered for it
	Delivery string `json:"delivery"` // the day of the delivery that it is ordered with; "" = before the first
}

// NightsStock is one article or supply over the nights. null is not known.
type NightsStock struct {
	ID     string       `json:"id"`
	Name   string       `json:"name"`
	UsedUp bool         `json:"used_up"`
	Nights []NightStock `json:"nights"`
	Uses   int          `json:"uses"`  // over all nights
	Order  *int         `json:"order"` // over all nights
	After  *int         `json:"after"` // on hand after the last, with what is ordered
}

// NightStock is what one night needs of it.
type NightStock struct {
	Needed int  `json:"needed"`  // that must be there
	Uses   int  `json:"uses"`    // that is gone after it
	OnHand *int `json:"on_hand"` // before it, with what is ordered for earlier nights
	Order  *int `json:"order"`   // so many more, for this night
	Late   bool `json:"late"`    // it may not be used any more on this night
}

// NightsMedium is what the plans of the nights use of a medium, in kg; of
// alternatives the most.
type NightsMedium struct {
	Medium string    `json:"medium"`
	Kg     []float64 `json:"kg"` // night by night
	All    float64   `json:"all_kg"`
}

// Delivery is what has to come by one day.
type Delivery struct {
	By     string         `json:"by"` // yyyy-mm-dd; "" = before the first delivery that is named
	Nights []string       `json:"nights"`
	Lines  []DeliveryLine `json:"lines"`
}

// DeliveryLine is so many of one thing.
type DeliveryLine struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Order *int   `json:"order"` // null = not known, since no stock is given
	Needs int    `json:"needs"` // what these nights need of it, one after the other

	used int // by those before
}

// NewNightsOrder plans the orders of nights, each compiled by plan; they must have
// dates. by are the days of deliveries, yyyy-mm-dd: a night is ordered with the last
// one that comes on its day or before. Without any, each night has a delivery of its
// own.
func NewNightsOrder(s *timeline.Show, nights []*timeline.Night, by []string, plan func(*timeline.Night) *timeline.Plan) (*NightsOrder, error) {
	if len(nights) == 0 {
		return nil, fmt.Errorf("no night is chosen")
	}
	for _, n := range nights {
		if n.Date == "" {
			return nil, fmt.Errorf("the night %s has no date, so that nothing says what comes before it", s.Called(n))
		}
	}
	by = slices.Clone(by)
	slices.Sort(by)
	for _, d := range by {
		if _, ok := timeline.ParseDay(d); !ok {
			return nil, fmt.Errorf("%q is no day of a delivery; write it as 2031-05-09", d)
		}
	}
	o := &nightsOrder{show: s, by: slices.Compact(by), NightsOrder: &NightsOrder{Articles: []NightsStock{}, Supplies: []NightsStock{}, Media: []NightsMedium{}, Deliveries: []Delivery{}, Beside: []string{}}}
	for _, n := range s.NightsInOrder() {
		if slices.ContainsFunc(nights, func(x *timeline.Night) bool { return x.ID == n.ID }) {
			o.nights = append(o.nights, n)
		}
	}
	for _, n := range o.nights {
		p := plan(n)
		if err := report.StartsRight(p, report.Filter{}); err != nil {
			return nil, fmt.Errorf("night %s: %w", s.Called(n), err)
		}
		site := p.OnSite()
		o.plans, o.sites = append(o.plans, p), append(o.sites, site)
		i := orderIgniters(p, site)
		o.Igniters = append(o.Igniters, i.Circuits+i.Single+i.Unwired)
		o.Nights = append(o.Nights, OrderNight{string(n.ID), s.Called(n), n.Date, n.Revision, n.Entered(), o.delivery(n)})
	}
	o.head()
	o.articles()
	o.supplies()
	o.media()
	o.deliver()
	o.beside()
	return o.NightsOrder, nil
}

// nightsOrder makes one.
type nightsOrder struct {
	*NightsOrder
	show   *timeline.Show
	by     []string
	nights []*timeline.Night
	plans  []*timeline.Plan
	sites  []*timeline.OnSite
}

// delivery is the day of the delivery that a night is ordered with.
func (o *nightsOrder) delivery(n *timeline.Night) (day string) {
	if len(o.by) == 0 {
		return n.Date
	}
	for _, d := range o.by {
		if d <= n.Date {
			day = d
		}
	}
	return day
}

// head is that of the tour, with all nights in it.
func (o *nightsOrder) head() {
	o.Head = report.HeadOf(timeline.Compile(o.show, nil))
	var names []string
	for _, n := range o.Nights {
		names = append(names, n.Name)
	}
	last := o.Nights[len(o.Nights)-1].Date
	if o.Set, o.Night, o.Date = "", strings.Join(names, "; "), o.Nights[0].Date; last != o.Date {
		o.Date += " to " + last
	}
}

// articles follows each article from night to night. What was counted, less what
// earlier nights have entered, is on hand; each night takes away what its cues and
// keys use up; what is short of what must be there is ordered for it, and stays on
// hand with the rest.
func (o *nightsOrder) articles() {
	for _, a := range o.show.Stock.Articles {
		line, used, added := NightsStock{ID: string(a.ID), Name: o.show.Called(a), UsedUp: a.UsedUp()}, false, 0
		known := a.Stock > 0
		for i, n := range o.nights {
			x := NightStock{Late: a.Expires != "" && n.Date > a.Expires}
			if k := slices.IndexFunc(o.sites[i].Articles, func(s timeline.ArticleOnSite) bool { return s.Article.ID == a.ID }); k >= 0 {
				x.Needed, x.Uses, used = o.sites[i].Articles[k].Needed(), usedUp(o.sites[i], a.ID), true
			}
			stock, _ := o.show.OnHand(a, n)
			stock += added
			counts := a.Counts(n) || !a.UsedUp()
			if known && counts {
				x.OnHand = &stock
			}
			switch {
			case n.Entered():
				if x.Uses = 0; a.UsedUp() {
					x.Uses = n.SpentOn(a.ID).Gone()
				}
				x.Order = new(int)
			case x.Late && x.Needed > 0: // how many of those on hand are newer nobody has said
			case x.Needed == 0:
				x.Order = new(int)
			case x.OnHand != nil:
				order := max(0, x.Needed-stock)
				x.Order, added = &order, added+order-x.Uses
			}
			line.Uses += x.Uses
			line.Nights = append(line.Nights, x)
		}
		if !used {
			continue
		}
		o.Articles = append(o.Articles, line.summed())
	}
	slices.SortStableFunc(o.Articles, func(a, b NightsStock) int { // as the order list has them
		return cmp.Or(cmp.Compare(wording.OneIf(!a.UsedUp), wording.OneIf(!b.UsedUp)), strings.Compare(a.Name, b.Name))
	})
}

// usedUp counts the pieces of an article that cues and keys use up; spares and what
// nothing commands come back.
func usedUp(site *timeline.OnSite, article timeline.ID) (n int) {
	for i := range site.Loads {
		if l := &site.Loads[i]; l.Article != nil && l.Article.ID == article && (l.First != nil || l.Hand != nil) {
			n += l.Pieces
		}
	}
	return n
}

// summed adds up the orders; one that is not known makes the sum unknown.
func (l NightsStock) summed() NightsStock {
	all := 0
	for i := range l.Nights {
		if l.Nights[i].Order == nil {
			return l
		}
		all += *l.Nights[i].Order
	}
	l.Order = &all
	if last := &l.Nights[len(l.Nights)-1]; last.OnHand != nil {
		after := *last.OnHand + *last.Order - last.Uses
		l.After = &after
	}
	return l
}

// supplies follows full cylinders and tanks from night to night: those that a night
// joins count as used, however much is left in them.
func (o *nightsOrder) supplies() {
	for _, s := range o.show.Rig.Supplies {
		line := NightsStock{ID: string(s.ID), Name: o.show.Called(s), UsedUp: true}
		full := s.Units + s.Spare
		for i, n := range o.nights {
			x := NightStock{}
			var of *OrderSupply
			for _, l := range orderSupplies(o.plans[i]) {
				if l.Supply == string(s.ID) && l.Uses > 0 {
					of = &l
				}
			}
			on := full
			switch {
			case of == nil:
				x.OnHand, x.Order = &on, new(int)
			case n.Entered():
				x.Needed, x.Uses = of.Needed, of.Needed // which were full afterwards nobody has entered
				x.Order = new(int)
			case of.Fill > 0 && of.Joined > 0:
				order := max(0, of.Needed-full)
				x = NightStock{Needed: of.Needed, Uses: of.Needed, OnHand: &on, Order: &order}
				full += order - of.Needed
			default:
				x.Needed = of.Needed
			}
			line.Uses += x.Uses
			line.Nights = append(line.Nights, x)
		}
		if line.Uses > 0 || slices.ContainsFunc(line.Nights, func(x NightStock) bool { return x.Order == nil }) {
			o.Supplies = append(o.Supplies, line.summed())
		}
	}
}

func (o *nightsOrder) media() {
	for i, p := range o.plans {
		for _, m := range Media(p) {
			k := slices.IndexFunc(o.Media, func(x NightsMedium) bool { return strings.EqualFold(x.Medium, m.Medium) })
			if k < 0 {
				k, o.Media = len(o.Media), append(o.Media, NightsMedium{Medium: m.Medium, Kg: make([]float64, len(o.plans))})
			}
			o.Media[k].Kg[i] = m.Uses
			o.Media[k].All = wording.RoundGrams(o.Media[k].All + m.Uses)
		}
	}
}

// deliver gathers the orders by the day on which they must have come.
func (o *nightsOrder) deliver() {
	for i, n := range o.Nights {
		if n.Over {
			continue
		}
		k := slices.IndexFunc(o.Deliveries, func(d Delivery) bool { return d.By == n.Delivery })
		if k < 0 {
			k, o.Deliveries = len(o.Deliveries), append(o.Deliveries, Delivery{By: n.Delivery, Lines: []DeliveryLine{}})
		}
		d := &o.Deliveries[k]
		d.Nights = append(d.Nights, n.Name)
		for _, list := range [][]NightsStock{o.Articles, o.Supplies} {
			for j := range list {
				d.add(&list[j], &list[j].Nights[i])
			}
		}
	}
	for k := range o.Deliveries {
		d := &o.Deliveries[k]
		d.Lines = slices.DeleteFunc(d.Lines, func(l DeliveryLine) bool { return l.Order != nil && *l.Order == 0 })
	}
}

// add orders what a night is short of.
func (d *Delivery) add(s *NightsStock, x *NightStock) {
	k := slices.IndexFunc(d.Lines, func(l DeliveryLine) bool { return l.ID == s.ID && l.Name == s.Name })
	if k < 0 {
		k, d.Lines = len(d.Lines), append(d.Lines, DeliveryLine{ID: s.ID, Name: s.Name, Order: new(int)})
	}
	l := &d.Lines[k]
	l.Needs, l.used = max(l.Needs, l.used+x.Needed), l.used+x.Uses
	if x.Order == nil {
		l.Order = nil
	} else if l.Order != nil {
		*l.Order += *x.Order
	}
}

// beside names the nights whose use is not taken off: those between that are not
// chosen and of which nothing is entered.
func (o *nightsOrder) beside() {
	for _, n := range o.show.NightsBefore(o.nights[len(o.nights)-1]) {
		if !n.Entered() && !slices.Contains(o.nights, n) {
			o.Beside = append(o.Beside, o.show.Called(n))
		}
	}
}

// WriteJSON writes the order as one JSON object.
func (o *NightsOrder) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, o) }
