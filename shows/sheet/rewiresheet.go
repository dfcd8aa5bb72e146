package sheet

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/timeline"
)

// RewireSheet is what has to be plugged elsewhere between two plans, of a tour
// and a night, of a show before and after a bank was swapped, or of two
// revisions, and what has to be measured again.
type RewireSheet struct {
	Head
	Was      string       `json:"was"` // what it starts from
	Is       string       `json:"is"`
	Moves    []RewireMove `json:"moves"`
	OutOf    []string     `json:"out_of_service"` // banks and devices that were in service
	Stranded []string     `json:"no_place"`       // effects that nothing in service drives any more
	Tests    []RewireTest `json:"retest"`
	Circuits string       `json:"circuit_caution"`
	celsius  string       // what the expected ohms are for
}

// RewireMove is one wire: from an output, to one, or both.
type RewireMove struct {
	Effect string `json:"effect"`
	Where  string `json:"position"`
	From   string `json:"from"` // "" = it was not plugged in
	To     string `json:"to"`   // "" = it is unplugged

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
	r := &RewireSheet{Head: HeadOf(is), Was: wiringOf(was), Is: wiringOf(is), Moves: []RewireMove{}, OutOf: []string{}, Stranded: []string{}, Tests: []RewireTest{}, Circuits: CircuitCaution, celsius: cableNote(is.Show)}
	for _, u := range was.Units.All {
		r.compare(u, is.Units.Of(u.Placed.ID))
	}
	for _, u := range is.Units.All {
		if was.Units.Of(u.Placed.ID) == nil {
			r.compare(nil, u)
		}
	}
	slices.SortStableFunc(r.Moves, func(a, b RewireMove) int {
		return cmp.Or(cmp.Compare(b2i(a.From == ""), b2i(b.From == "")), byName(a.From, b.From), byName(a.To, b.To), byName(a.Effect, b.Effect))
	})
	r.outOfService(was, is)
	r.tests(is)
	return r
}

// wiringOf names the plan whose wiring it is.
func wiringOf(p *timeline.Plan) string {
	h := HeadOf(p)
	return strings.Join(nonEmpty(h.Show, cmp.Or(h.Night, "the tour"), h.Date, prefixed("revision ", h.Revision)), " · ")
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
		m := RewireMove{Effect: unitName(u), Where: positionName(u)}
		if i < len(gone) {
			m.from, m.From = gone[i], plugName(gone[i])
		}
		if i < len(come) {
			m.to, m.To = come[i], plugName(come[i])
		}
		r.Moves = append(r.Moves, m)
	}
}

// without gives the drives of a list, each output once, whose output no drive of
// another has.
func without(list, other []timeline.Drive) []timeline.Drive {
	var left []timeline.Drive
	for _, d := range list {
		same := func(o timeline.Drive) bool { return o.Wire.Unit == d.Wire.Unit && o.Wire.Output == d.Wire.Output }
		if !slices.ContainsFunc(other, same) && !slices.ContainsFunc(left, same) {
			left = append(left, d)
		}
	}
	return left
}

// plugName names an output by what is written on it: a bank's number, a
// device's head with its address.
func plugName(d timeline.Drive) string {
	if d.Bank != nil {
		return fmt.Sprintf("%s · %d", cmp.Or(d.Bank.Name, string(d.Bank.ID)), d.Wire.Output)
	}
	name := fmt.Sprintf("%s head %d", cmp.Or(d.Device.Name, string(d.Device.ID)), d.Wire.Output)
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
			served[d.Wire.Unit] = served[d.Wire.Unit] || !d.Dead
		}
		if now := is.Units.Of(u.Placed.ID); now != nil && live(u) && !live(now) {
			r.Stranded = append(r.Stranded, unitName(u))
		}
	}
	for _, b := range sortedBanks(is.Show) {
		if served[b.ID] && (b.Dead || takenOut(is.Night, "bank", b.ID)) {
			r.OutOf = append(r.OutOf, cmp.Or(b.Name, string(b.ID)))
		}
	}
	for _, v := range sortedDevices(is.Show) {
		if served[v.ID] && (v.Dead || takenOut(is.Night, "device", v.ID)) {
			r.OutOf = append(r.OutOf, cmp.Or(v.Name, string(v.ID)))
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
			line := LoadLine{}
			line.circuit(is.Show, c, m.to.BankType)
			t.Circuit, t.Expected = line.Circuit, line.expected()
		}
		r.Tests = append(r.Tests, t)
	}
	slices.SortStableFunc(r.Tests, func(a, b RewireTest) int { return byName(a.Output, b.Output) })
}

// effectsAt names what hangs on the output of a wire.
func effectsAt(p *timeline.Plan, w *timeline.Wire) string {
	var names []string
	for _, u := range p.Units.All {
		if slices.ContainsFunc(u.Drives, func(d timeline.Drive) bool { return d.Wire.Unit == w.Unit && d.Wire.Output == w.Output }) {
			names = append(names, unitName(u))
		}
	}
	return joinNames(names)
}

// Sheet gives the rewire sheet as pages: what to plug where, then what to test.
func (r *RewireSheet) Sheet() *paper.Sheet {
	sh := r.Head.sheet("Rewire sheet")
	moves := paper.Part{Heading: "From → to", Notes: []string{"was: " + r.Was, "is: " + r.Is}, Large: true}
	if len(r.Moves) == 0 {
		moves.Notes = append(moves.Notes, "Nothing is plugged elsewhere.")
	} else {
		moves.Columns = columns(">no.", "effect", "position", "from", "to", "[done")
	}
	for i, m := range r.Moves {
		moves.Rows = append(moves.Rows, paper.Row{Cells: []string{strconv.Itoa(i + 1), m.Effect, m.Where, cmp.Or(m.From, "– (plug in)"), cmp.Or(m.To, "– (unplug, insulate)"), ""}})
	}
	if len(r.OutOf) > 0 {
		moves.Notes = append(moves.Notes, "Out of service: "+joinNames(r.OutOf)+". Tag it and take its key.")
	}
	if len(r.Stranded) > 0 {
		moves.Notes = append(moves.Notes, "NO PLACE: nothing in service drives "+joinNames(r.Stranded)+".")
	}
	moves.Notes = append(moves.Notes, "Arms off, keys out, nobody in the zones while anything is plugged.") // common practice, no source
	sh.Parts = append(sh.Parts, moves)
	if len(r.Tests) > 0 {
		sh.Parts = append(sh.Parts, r.testPart())
	}
	return sh
}

func (r *RewireSheet) testPart() paper.Part {
	p := paper.Part{Heading: "Test again", Notes: []string{r.celsius + " " + r.Circuits},
		Columns: columns("output", "effects", "circuit", ">expected ohm", "[measured ohm", "[tested by")}
	for _, t := range r.Tests {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{t.Output, t.Effects, cmp.Or(t.Circuit, "–"), cmp.Or(t.Expected, "–"), "", ""}})
	}
	return p
}

// WriteCSV writes the rewire sheet after RFC 4180.
func (r *RewireSheet) WriteCSV(w io.Writer) error {
	return writeParts(w, "rewire sheet", r.Head, r.Sheet().Parts)
}

// WriteJSON writes the rewire sheet as one JSON object.
func (r *RewireSheet) WriteJSON(w io.Writer) error { return WriteJSON(w, r) }
