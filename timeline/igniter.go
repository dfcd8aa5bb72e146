package timeline

import (
	"fmt"
	"math"
	"strings"

	"emberbeat/timeline/field"
	"emberbeat/timeline/figure"
)

// cableOhms is the largest resistance in ohm per km at 20 °C of a core of fine
// plain copper wires, by its cross-section in mm² (IEC 60228, class 5).
var cableOhms = []struct{ section, ohms float64 }{
	{0.5, 39.0}, {0.75, 26.0}, {1, 19.5}, {1.5, 13.3}, {2.5, 7.98}, {4, 4.95}, {6, 3.30},
}

// CableOhms gives the resistance of a core in ohm per km at a temperature in
// °C. A cross-section that the table does not hold is an error that lists those
// it holds.
func CableOhms(section, celsius float64) (float64, error) {
	var known []string
	for _, c := range cableOhms {
		if c.section == section {
			return figure.Warm(c.ohms, celsius), nil
		}
		known = append(known, field.FormatNumber(c.section))
	}
	return 0, &ValueError{Kind: "circuit", Field: "section", Value: field.FormatNumber(section), Want: "has no resistance in the table; the table holds " + strings.Join(known, ", ") + " mm²"}
}

// CircuitLoad is a circuit worked out on one output: planning figures, which a
// measurement on site has to confirm. A figure that rests on something not
// given is 0.
type CircuitLoad struct {
	Cable    float64 // ohm, both ways
	Igniters float64 // ohm, all of them as they are joined
	Expected float64 // ohm, what a meter shows at the output: cable and igniters; see Reading
	Total    float64 // ohm, with the output's own
	Amps     float64 // A, from the output
	Each     float64 // A, through one igniter
	Margin   float64 // Each over the all-fire current

	Energy  float64 // J, stored in the capacity
	Decay   float64 // s, time constant of the discharge
	EachJ   float64 // J, into one igniter
	Missing []string

	Celsius  float64  // of the cable
	Unstated []string // of what is missing, what a meter's reading rests on
}

// cableCelsius is the temperature of a cable where the show says nothing of it:
// that for which IEC 60228 gives ohm per km.
const cableCelsius = 20

// CableCelsius is the temperature in °C for which the show works out the cable of
// a circuit: its own number for the rule circuit (celsius=40), where that applies
// to the first effect that hangs on the circuit. A nil circuit is any other.
func (s *Show) CableCelsius(c *Circuit) float64 {
	var unit *Unit
	var article *Article
	if c != nil {
		for _, w := range s.Rig.Wires {
			if p := s.Rig.PlacedEffect(w.Placed); w.Circuit == c.ID && p != nil && (unit == nil || p.ID < unit.Placed.ID) {
				unit, article = &Unit{Placed: p}, s.Stock.Article(p.Article)
			}
		}
	}
	if x, ok := s.RuleNumber("circuit", "celsius", unit, article); ok {
		return x
	}
	return cableCelsius
}

// CircuitLoad works a circuit out on an output of a bank type (nil = not known)
// with the cable as warm as the show has it. Rule, sheets, lists and window all
// take their figures from here.
func (s *Show) CircuitLoad(c *Circuit, t *BankType) (CircuitLoad, error) {
	return c.Load(t, s.CableCelsius(c))
}

// Reading writes what a meter should show at the output, with what it leaves
// out: "28.62", "27.00 without cable", or "not given" where nothing can be
// expected.
func (l *CircuitLoad) Reading() string {
	switch {
	case l.Expected == 0:
		return "not given"
	case len(l.Unstated) > 0:
		return fmt.Sprintf("%.2f without cable", l.Expected)
	}
	return fmt.Sprintf("%.2f", l.Expected)
}

// Load works a circuit out on an output of a bank type (nil = not known), with
// the cable at a temperature in °C.
func (c *Circuit) Load(t *BankType, celsius float64) (CircuitLoad, error) {
	l := CircuitLoad{Celsius: celsius}
	if math.IsNaN(celsius) || celsius < -60 || celsius > 120 {
		return l, &ValueError{Kind: "circuit", Field: "celsius", Value: field.FormatNumber(celsius), Want: "must be a temperature of the cable from -60 to 120 °C"}
	}
	if c.Cable > 0 && c.Section > 0 {
		perKm, err := CableOhms(c.Section, cableCelsius)
		if err != nil {
			return l, err
		}
		l.Cable = figure.CableLoop(c.Cable, perKm, celsius)
	}
	l.Igniters = figure.Joined(c.Joining == InParallel, c.Igniters, c.Ohms)
	if c.Ohms > 0 { // else the cable alone would stand for the whole
		l.Expected = l.Cable + l.Igniters
	}
	l.Missing, l.Unstated = c.missing(t)
	if t != nil && t.Volts > 0 && c.Ohms > 0 {
		l.current(c, t)
	}
	return l, nil
}

// missing names what the figures would need and the records do not give, and
// what of it a meter's reading rests on.
func (c *Circuit) missing(t *BankType) (all, read []string) {
	for _, m := range []struct {
		gone, read bool
		name       string
	}{{c.Ohms == 0, true, "ohms of an igniter"}, {c.Cable == 0, true, "cable"}, {c.Section == 0, true, "section"}, {c.AllFire == 0, false, "all-fire current"}, {t == nil || t.Volts == 0, false, "volts of the bank"}} {
		if !m.gone {
			continue
		}
		if all = append(all, m.name); m.read {
			read = append(read, m.name)
		}
	}
	return all, read
}

func (l *CircuitLoad) current(c *Circuit, t *BankType) {
	l.Total = t.Ohms + l.Expected
	l.Amps = t.Volts / l.Total
	l.Each = figure.Each(c.Joining == InParallel, c.Igniters, l.Amps)
	share := c.Ohms / l.Total // of the energy, for one of a series
	if c.Joining == InParallel {
		share = l.Igniters / l.Total / float64(c.Igniters)
	}
	if c.AllFire > 0 {
		l.Margin = l.Each / c.AllFire
	}
	if t.Capacity > 0 {
		farads := t.Capacity / 1e6
		l.Energy = figure.Stored(t.Capacity, t.Volts)
		l.Decay = l.Total * farads
		l.EachJ = l.Energy * share
	}
}

// Warnings says what of a circuit on an output is beyond its figures.
func (l *CircuitLoad) Warnings(c *Circuit, t *BankType) []string {
	var list []string
	if l.Margin > 0 && l.Margin < 1 {
		list = append(list, fmt.Sprintf("%.3g A through each igniter is less than the %s A each needs", l.Each, field.FormatNumber(c.AllFire)))
	}
	if t != nil && t.Amps > 0 && l.Amps > t.Amps {
		list = append(list, fmt.Sprintf("%.3g A is more than the %s A an output of the bank gives", l.Amps, field.FormatNumber(t.Amps)))
	}
	return list
}
