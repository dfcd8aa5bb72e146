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
	"emberbeat/timeline/reach"
)

// RewireSheet is what has to be plugged elsewhere between two plans, of a tour
// and a night, of a show before and after a bank was swapped, or of two
// revisions, and what has to be measured again.
type RewireSheet struct {
	report.Head
	Was      string       `json:"was"` // what it starts from
	Is       string       `json:"is"`
	Moves    []RewireMove `json:"moves"`
	OutOf    []string     `json:"out_of_service"` // banks and devices that were in service
	Stranded []string     `json:"no_place"`       // effects that nothing in service drives any more
	Tests    []RewireTest `json:"retest"`
	Circuits string       `json:"circuit_caution"`
	Celsius  string       `json:"-"` // what the expected ohms are for
}

// RewireMove is one wire: from an output, to one, or both.
type RewireMove struct {
	Effect string `json:"effect"`
	Where  string `json:"position"`
	Points string `json:"points"` // where it points
	From   string `json:"from"`   // "" = it was not plugged in
	To     string `json:"to"`     // "" = it is unplugged

	from, to timeline.Drive
}

// RewireTest is one output to test again, with all that hangs on it now.
type RewireTest struct {
	Output   string `json:"output"`
	Effects  string `json:"effects"`
	Circuit  string `json:"circuit"`       // "" = none is given
	Expected string `json:"expected_ohms"` // "" = of no igniter circuit
}

// NewRewireSheet compares the wiring of two plans.
func NewRewireSheet(was, is *timeline.Plan) *RewireSheet {
	r := &RewireSheet{Head: report.HeadOf(is), Was: wiringOf(was), Is: wiringOf(is), Moves: []RewireMove{}, OutOf: []string{}, Stranded: []string{}, Tests: []RewireTest{}, Circuits: CircuitCaution, Celsius: cableNote(is.Show)}
	for _, u := range was.Units.All {
		r.compare(u, is.Units.Of(u.Placed.ID))
	}
	for _, u := range is.Units.All {
		if was.Units.Of(u.Placed.ID) == nil {
			r.compare(nil, u)
		}
	}
	slices.SortStableFunc(r.Moves, func(a, b RewireMove) int {
		return cmp.Or(cmp.Compare(wording.OneIf(a.From == ""), wording.OneIf(b.From == "")), report.ByName(a.From, b.From), report.ByName(a.To, b.To), report.ByName(a.Effect, b.Effect))
	})
	r.outOfService(was, is)
	r.tests(is)
	return r
}

// wiringOf names the plan whose wiring it is.
func wiringOf(p *timeline.Plan) string {
	h := report.HeadOf(p)
	return strings.Join(wording.NonEmpty(h.Show, cmp.Or(h.Night, "the tour"), h.Date, wording.Prefixed("revision ", h.Revision)), " · ")
}

// compare lists the wires of one placed effect that differ; either may be nil.
func (r *RewireSheet) compare(was, is *timeline.Unit) {
	var before, after []timeline.Drive
	u := cmp.Or(is, was)
	if was != nil {
		before = was.Drives
	}
	if is != nil {
		after = is.Drives
	}
	gone, come := without(before, after), without(after, before)
	for i := range max(len(gone), len(come)) {
		m := RewireMove{Effect: u.Name, Where: report.PositionName(u), Points: reach.Printed(u, u.Article)}
		if i < len(gone) {
			m.from, m.From = gone[i], PlugName(gone[i])
		}
		if i < len(come) {
			m.to, m.To = come[i], PlugName(come[i])
		}
		r.Moves = append(r.Moves, m)
	}
}

// without gives the drives of a list, each output once, whose output no drive of
// another has.
func without(list, other []timeline.Drive) []timeline.Drive {
	var left []timeline.Drive
	for _, d := range list {
		same := func(o timeline.Drive) bool { return o.Wire.Driver == d.Wire.Driver && o.Wire.Output == d.Wire.Output }
		if !slices.ContainsFunc(other, same) && !slices.ContainsFunc(left, same) {
			left = append(left, d)
		}
	}
	return left
}

// PlugName names an output by what is written on it: a bank's number, a
// device's head with its address.
func PlugName(d timeline.Drive) string {
	if d.Bank != nil {
		return fmt.Sprintf("%s · %d", d.Name, d.Wire.Output)
	}
	name := fmt.Sprintf("%s head %d", d.Name, d.Wire.Output)
	if label := d.Label(timeline.EffectSlot); strings.HasPrefix(label, "DMX ") {
		name += " (" + label + ")"
	}
	return name
}

// outOfService lists banks and devices that drove something in service and are
// out of it now, and effects that had an output in service and have none.
func (r *RewireSheet) outOfService(was, is *timeline.Plan) {
	served := map[timeline.ID]bool{}
	live := func(u *timeline.Unit) bool {
		return slices.ContainsFunc(u.Drives, func(d timeline.Drive) bool { return !d.Dead })
	}
	for _, u := range was.Units.All {
		for _, d := range u.Drives {
			served[d.Wire.Driver] = served[d.Wire.Driver] || !d.Dead
		}
		if now := is.Units.Of(u.Placed.ID); now != nil && live(u) && !live(now) {
			r.Stranded = append(r.Stranded, u.Name)
		}
	}
	for _, b := range report.SortedBanks(is.Show) {
		if served[b.ID] && (b.Dead || is.Night.TakesOut("bank", b.ID)) {
			r.OutOf = append(r.OutOf, is.Show.Called(b))
		}
	}
	for _, v := range report.SortedDevices(is.Show) {
		if served[v.ID] && (v.Dead || is.Night.TakesOut("device", v.ID)) {
			r.OutOf = append(r.OutOf, is.Show.Called(v))
		}
	}
}

// tests lists every output that something was plugged into.
func (r *RewireSheet) tests(is *timeline.Plan) {
	seen := map[string]bool{}
	for i := range r.Moves {
		m := &r.Moves[i]
		if m.To == "" || seen[m.To] {
			continue
		}
		seen[m.To] = true
		t := RewireTest{Output: m.To, Effects: effectsAt(is, m.to.Wire)}
		if c := is.Show.Rig.Circuit(m.to.Wire.Circuit); c != nil {
			line := Line{}
			line.circuit(is.Show, c, m.to.BankType)
			t.Circuit, t.Expected = line.Circuit, line.ExpectedText()
		}
		r.Tests = append(r.Tests, t)
	}
	slices.SortStableFunc(r.Tests, func(a, b RewireTest) int { return report.ByName(a.Output, b.Output) })
}

// effectsAt names what hangs on the output of a wire.
func effectsAt(p *timeline.Plan, w *timeline.Wire) string {
	var names []string
	for _, u := range p.Units.All {
		if slices.ContainsFunc(u.Drives, func(d timeline.Drive) bool { return d.Wire.Driver == w.Driver && d.Wire.Output == w.Output }) {
			names = append(names, u.Name)
		}
	}
	return wording.JoinNames(names)
}

// wording.WriteJSON writes the rewire sheet as one JSON object.
func (r *RewireSheet) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, r) }
