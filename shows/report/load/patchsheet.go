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

// DMXCaution stands on every patch sheet: ANSI E1.11 says so, as a note in ANSI
// E1.20 repeats.
const DMXCaution = "DMX512 is not appropriate for hazardous applications, as its own standard ANSI E1.11 says (see the note in ANSI E1.20). " +
	"A patch is no safety measure: key, arm, hold-to-fire switch, hardware stop and spotters stand outside it."

// PatchSheet is what stands on every universe, and which addresses banks have.
type PatchSheet struct {
	report.Head
	DMX       string          `json:"dmx_caution"`
	Universes []PatchUniverse `json:"universes"`
	Banks     []PatchBank     `json:"banks"`
	Unpatched []string        `json:"unpatched"` // devices without all their start addresses, with the reason
}

// PatchUniverse is one universe of a network.
type PatchUniverse struct {
	Space    string       `json:"space"`
	Universe int          `json:"universe"`
	Blocks   []PatchBlock `json:"blocks"`
	Slots    []PatchSlot  `json:"slots"`
	Free     int          `json:"free"` // slots
	NextFree int          `json:"next_free"`
}

// PatchBlock is a run of slots that a device takes.
type PatchBlock struct {
	Device     string   `json:"device"`
	DeviceName string   `json:"device_name"`
	Type       string   `json:"type"`
	Position   string   `json:"position,omitempty"`
	Block      int      `json:"block"`
	Start      string   `json:"start"` // universe.slot
	End        string   `json:"end"`
	From       int      `json:"running_start"` // over all universes
	To         int      `json:"running_end"`
	Slots      int      `json:"slots"`
	Notes      []string `json:"notes"` // shared, clashes, out of service

	claim timeline.Claim
}

// PatchSlot is one slot with what it means.
type PatchSlot struct {
	Address    string `json:"address"`
	Running    int    `json:"running"`
	DeviceName string `json:"device_name"`
	Slot       string `json:"slot"` // block.number in the device
	Role       string `json:"role"`
	Name       string `json:"name,omitempty"`
	On         string `json:"on"` // value window
	Off        int    `json:"off"`
	Wide       bool   `json:"wide,omitempty"`
	Serves     string `json:"serves"` // placed effects
}

// PatchBank is a bank's address.
type PatchBank struct {
	Name     string `json:"name"`
	Type     string `json:"type"`
	Space    string `json:"space"`
	Address  int    `json:"address"` // 0 = none yet
	Position string `json:"position,omitempty"`
	Dead     bool   `json:"dead,omitempty"`
}

// NewPatchSheet gives the patch of the rig of a plan, whatever a filter shows:
// slots belong to no song.
func NewPatchSheet(p *timeline.Plan) *PatchSheet {
	out := &PatchSheet{Head: report.HeadOf(p), DMX: DMXCaution, Universes: []PatchUniverse{}, Banks: []PatchBank{}, Unpatched: []string{}}
	l := &loader{plan: p}
	for _, v := range report.SortedDevices(p.Show) {
		out.device(l, v)
	}
	clashes := timeline.Clashes(timeline.Claims(p.Show))
	for i := range out.Universes {
		out.Universes[i].finish(p.Show, clashes)
	}
	slices.SortFunc(out.Universes, func(a, b PatchUniverse) int {
		return cmp.Or(strings.Compare(a.Space, b.Space), cmp.Compare(a.Universe, b.Universe))
	})
	for _, b := range report.SortedBanks(p.Show) {
		g := l.bank(b)
		out.Banks = append(out.Banks, PatchBank{Name: g.Name, Type: g.Type, Space: b.Space, Address: b.Address, Position: g.Position, Dead: g.Dead})
	}
	return out
}

// device adds the blocks of a device to their universes.
func (s *PatchSheet) device(l *loader, v *timeline.Device) {
	name := l.plan.Called(v)
	t := l.plan.Show.Stock.DeviceTypeOf(v)
	if t == nil {
		s.Unpatched = append(s.Unpatched, name+": its type is lost")
		return
	}
	for _, run := range v.Runs(t) {
		if !run.Given {
			s.Unpatched = append(s.Unpatched, fmt.Sprintf("%s: block %d has no start address", name, run.Block))
			continue
		}
		u := s.universe(v.Space, run.Start.Universe)
		u.Blocks = append(u.Blocks, newPatchBlock(l, v, t, run))
	}
	for _, slot := range t.Slots {
		if at, ok := v.Address(slot); ok {
			s.universe(v.Space, at.Universe).slot(l, v, slot, at)
		}
	}
}

func (s *PatchSheet) universe(space string, n int) *PatchUniverse {
	i := slices.IndexFunc(s.Universes, func(u PatchUniverse) bool { return u.Space == space && u.Universe == n })
	if i < 0 {
		i = len(s.Universes)
		s.Universes = append(s.Universes, PatchUniverse{Space: space, Universe: n})
	}
	return &s.Universes[i]
}

func newPatchBlock(l *loader, v *timeline.Device, t *timeline.DeviceType, run timeline.SlotRun) PatchBlock {
	start := run.Start
	end := timeline.Patch{Universe: start.Universe, Slot: start.Slot + run.Size - 1}
	b := PatchBlock{Device: string(v.ID), DeviceName: l.plan.Called(v), Type: l.plan.Called(t), Position: report.PositionNamed(l.plan.Show, v.Position),
		Block: run.Block, Start: start.String(), End: end.String(), From: start.Absolute(), To: end.Absolute(), Slots: run.Size, Notes: []string{}, claim: timeline.Claim{Device: v, Type: t, Run: run}}
	if run.Number > 0 {
		b.Notes = append(b.Notes, fmt.Sprintf("slot %d.%d with an address of its own", run.Block, run.Number))
	}
	if v.Dead || l.out("device", v.ID) {
		b.Notes = append(b.Notes, "out of service")
	}
	if last := l.plan.Show.LastSlot(); !b.claim.Within(last) {
		b.Notes = append(b.Notes, fmt.Sprintf("CLASH: runs past slot %d", last))
	}
	return b
}

// slot adds a slot of a device.
func (u *PatchUniverse) slot(l *loader, v *timeline.Device, slot timeline.Slot, at timeline.Patch) {
	u.Slots = append(u.Slots, PatchSlot{Address: at.String(), Running: at.Absolute(), DeviceName: l.plan.Called(v),
		Slot: fmt.Sprintf("%d.%d", slot.Block, slot.Number), Role: string(slot.Role), Name: slot.Name, On: windowOf(slot), Off: slot.Off, Wide: slot.Wide,
		Serves: l.serves(v, slot)})
}

func windowOf(s timeline.Slot) string {
	if s.From == s.To {
		return fmt.Sprint(s.From)
	}
	return fmt.Sprintf("%d..%d", s.From, s.To)
}

// serves names the placed effects that a slot works for.
func (l *loader) serves(v *timeline.Device, slot timeline.Slot) string {
	var names []string
	for _, u := range l.plan.Units.All {
		for _, d := range u.Drives {
			name := u.Name
			if d.Device == v && (slot.Head == 0 || slot.Head == d.Wire.Output) && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	slices.Sort(names)
	return strings.Join(names, ", ")
}

// finish puts blocks and slots in order, and says what overlaps and what is
// free.
func (u *PatchUniverse) finish(s *timeline.Show, clashes []timeline.Clash) {
	slices.SortStableFunc(u.Blocks, func(a, b PatchBlock) int { return cmp.Compare(a.From, b.From) })
	slices.SortStableFunc(u.Slots, func(a, b PatchSlot) int { return cmp.Compare(a.Running, b.Running) })
	for i := range u.Blocks {
		u.Blocks[i].meets(u.Blocks, clashes)
	}
	use := s.SlotUse(u.Space, u.Universe)
	u.Free = use.Free()
	u.NextFree, _ = use.NextFree(1, 1)
}

// meets notes which of the universe's blocks a block overlaps, in their order:
// declared, or a clash.
func (b *PatchBlock) meets(blocks []PatchBlock, clashes []timeline.Clash) {
	type met struct {
		at    int
		clash *timeline.Clash
	}
	var all []met
	for i := range clashes {
		if o := clashes[i].Of(&b.claim); o != nil {
			all = append(all, met{slices.IndexFunc(blocks, func(x PatchBlock) bool { return x.claim.Is(o) }), &clashes[i]})
		}
	}
	slices.SortFunc(all, func(x, y met) int { return cmp.Compare(x.at, y.at) })
	for _, m := range all {
		name := blocks[m.at].DeviceName
		if m.clash.Declared {
			b.Notes = append(b.Notes, "shared with "+name+", as declared")
		} else {
			b.Notes = append(b.Notes, "CLASH with "+name)
		}
	}
}

// wording.WriteJSON writes the patch sheet as one JSON object.
func (s *PatchSheet) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, s) }
