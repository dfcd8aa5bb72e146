package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// maxRun bounds how many devices or banks one edit may add.
const maxRun = 512

// DeviceRun says which devices to add one after another.
type DeviceRun struct {
	Type     ID
	Count    int
	Name     string  // each gets it with a number: "flame head 1"
	Space    string  // address space
	Starts   []Patch // where each block of the first one starts; none = the next free run
	Universe int     // to look for a free run in; 0 = the first
	Position ID
}

// AddDevices gives the edit that adds a run of devices: block by block, each
// where the one before ends. Nothing wraps into the next universe; what does
// not fit or is taken is an error that says where it would fit. newID hands in
// ids that no device of the show has.
func AddDevices(run DeviceRun, newID func() ID) Edit {
	return func(d *Draft) error {
		if err := checkCount("device", run.Count); err != nil {
			return err
		}
		typ := d.show.Stock.DeviceType(run.Type)
		if typ == nil {
			return &ValueError{Kind: "device", Field: "type", Value: string(run.Type), Want: "names no devicetype of this show"}
		}
		var devices []*Device
		name := Numbered(run.Name, deviceNames(d.show))
		for range run.Count {
			devices = append(devices, &Device{Base: Base{ID: newID()}, Name: name(), Type: run.Type, Space: run.Space, Position: run.Position})
		}
		return d.patch(devices, run.Starts, run.Universe)
	}
}

// CopyDevices gives the edit that adds a copy of each device with addresses of
// its own, in order from starts on; none = the next free run. A copy keeps
// type, space, position, note and what its slots mean, and shares no slots: one
// that the show has moved is back in its block.
func CopyDevices(ids []ID, starts []Patch, newID func() ID) Edit {
	return func(d *Draft) error {
		devices, err := d.devices(ids)
		if err != nil {
			return err
		}
		for _, v := range devices {
			v.ID, v.Kept, v.Shares, v.Dead = newID(), nil, nil, false
			v.Slots = unmoved(v.Slots)
			v.Name = Numbered(baseName(v.Name), append(deviceNames(d.show), namesOf(devices)...))()
		}
		return d.patch(devices, starts, 0)
	}
}

// MoveDevices gives the edit that numbers devices anew, in order from starts
// on, each block where the one before ends.
func MoveDevices(ids []ID, starts []Patch) Edit {
	return func(d *Draft) error {
		devices, err := d.devices(ids)
		if err != nil {
			return err
		}
		if len(starts) == 0 {
			return &ValueError{Kind: "device", Field: "starts", Value: "", Want: "is empty; write universe.slot for each block, such as 1.45"}
		}
		return d.patch(devices, starts, 0)
	}
}

// devices clones the devices named.
func (d *Draft) devices(ids []ID) ([]*Device, error) {
	var list []*Device
	for i, id := range ids {
		v := d.show.Rig.Device(id)
		if v == nil {
			return nil, &ValueError{Kind: "device", Field: "id", Value: string(id), Want: "names no device of this show"}
		}
		if slices.Contains(ids[:i], id) {
			return nil, &ValueError{Kind: "device", Field: "id", Value: d.show.CalledBy(id, "device"), Want: "is named twice; name it once"}
		}
		c := *v
		list = append(list, &c)
	}
	return list, nil
}

// patch gives devices their addresses and stores them.
func (d *Draft) patch(devices []*Device, starts []Patch, universe int) error {
	ids := make([]ID, len(devices))
	for i, v := range devices {
		ids[i] = v.ID
	}
	sizes, err := d.blockSizes(devices)
	if err != nil {
		return err
	}
	blocks := 0
	for _, s := range sizes {
		blocks = max(blocks, len(s))
	}
	if len(starts) > 0 && len(starts) != blocks {
		return &ValueError{Kind: "device", Field: "starts", Value: patchList(starts), Want: fmt.Sprintf("gives %d start addresses for %d blocks; give one for each block, or none", len(starts), blocks)}
	}
	for _, v := range devices {
		v.Starts = nil
	}
	var placed []Claim
	for _, v := range devices {
		placed = append(placed, d.movedSlots(v)...)
	}
	for b := range blocks {
		start, err := d.blockStart(devices, ids, sizes, b, starts, universe, placed)
		if err != nil {
			return err
		}
		if placed, err = d.placeBlock(devices, ids, sizes, b, start, placed); err != nil {
			return err
		}
	}
	for _, v := range devices {
		d.Put("", v)
	}
	return nil
}

// movedSlots gives the slots of a device that have addresses of their own.
func (d *Draft) movedSlots(v *Device) []Claim {
	var moved []Claim
	typ := d.show.Stock.DeviceTypeOf(v)
	for _, run := range v.Runs(typ) {
		if run.Number > 0 {
			moved = append(moved, Claim{v, typ, run})
		}
	}
	return moved
}

// unmoved gives slot changes without their addresses.
func unmoved(list []SlotChange) []SlotChange {
	var kept []SlotChange
	for _, c := range list {
		c.At = Patch{}
		if c != (SlotChange{Block: c.Block, Number: c.Number}) {
			kept = append(kept, c)
		}
	}
	return kept
}

// blockSizes gives the slots of each block of each device.
func (d *Draft) blockSizes(devices []*Device) ([][]int, error) {
	var sizes [][]int
	for _, v := range devices {
		typ := d.show.Stock.DeviceTypeOf(v)
		if typ == nil {
			return nil, &ValueError{Kind: "device", Field: "type", Value: string(v.Type), Want: "names no devicetype of this show, so that nothing says how many slots it has"}
		}
		sizes = append(sizes, typ.Blocks())
	}
	return sizes, nil
}

// blockStart gives where a block of the first device starts: as asked for, or
// the next free run that takes the block of all.
func (d *Draft) blockStart(devices []*Device, ids []ID, sizes [][]int, b int, starts []Patch, universe int, placed []Claim) (Patch, error) {
	if len(starts) > 0 {
		return starts[b], nil
	}
	total, from := 0, 1
	for i, s := range sizes {
		if b < len(s) {
			total += s[b]
		}
		from = max(from, d.show.Stock.DeviceType(devices[i].Type).FirstSlot())
	}
	u := d.slotUse(devices[0].Space, max(universe, 1), ids, placed)
	slot, ok := u.NextFree(from, max(total, 1))
	if !ok {
		return Patch{}, &ValueError{Kind: "device", Field: "starts", Value: "", Want: fmt.Sprintf("universe %d has no free run of %s for %d devices; name another universe or fewer devices", u.Universe, Counted(total, "slot"), len(devices))}
	}
	return Patch{u.Universe, slot}, nil
}

// slotUse is the use of a universe by all others and by what has been placed so
// far.
func (d *Draft) slotUse(space string, universe int, but []ID, placed []Claim) *SlotUse {
	u := d.show.SlotUse(space, universe, but...)
	for _, c := range placed {
		if c.Run.Start.Universe == universe && c.Device.Space == space {
			u.take(c)
		}
	}
	return u
}

// placeBlock starts a block of every device, one where the one before ends, and
// adds them to what has been placed.
func (d *Draft) placeBlock(devices []*Device, ids []ID, sizes [][]int, b int, at Patch, placed []Claim) ([]Claim, error) {
	for i, v := range devices {
		if b >= len(sizes[i]) {
			continue
		}
		c := Claim{v, d.show.Stock.DeviceTypeOf(v), SlotRun{Block: b + 1, Start: at, Size: sizes[i][b], Given: true}}
		if err := d.slotUse(v.Space, at.Universe, ids, placed).check(c); err != nil {
			return nil, err
		}
		v.Starts = append(v.Starts, at)
		placed = append(placed, c)
		at.Slot += sizes[i][b]
	}
	return placed, nil
}

func patchList(starts []Patch) string {
	texts := make([]string, len(starts))
	for i, p := range starts {
		texts[i] = p.String()
	}
	return strings.Join(texts, "; ")
}

func checkCount(kind string, n int) error {
	if n < 1 || n > maxRun {
		return &ValueError{Kind: kind, Field: "count", Value: fmt.Sprint(n), Want: fmt.Sprintf("must be a whole number from 1 to %d", maxRun)}
	}
	return nil
}

// Numbered gives one name after another, "name 1", "name 2", from the number after
// the highest that the names taken have.
func Numbered(name string, taken []string) func() string {
	n := 0
	for _, t := range taken {
		if strings.EqualFold(baseName(t), name) {
			n = max(n, numberOf(t))
		}
	}
	return func() string {
		n++
		return fmt.Sprintf("%s %d", name, n)
	}
}

// baseName is a name without the number at its end.
func baseName(name string) string {
	if i := strings.LastIndexByte(name, ' '); i > 0 && digitsOnly(name[i+1:]) {
		return name[:i]
	}
	return name
}

func numberOf(name string) int {
	n, _ := parseCount(name[strings.LastIndexByte(name, ' ')+1:], 1_000_000)
	return int(n)
}

func deviceNames(s *Show) []string { return namesOf(s.Rig.Devices) }

func namesOf(devices []*Device) []string {
	names := make([]string, len(devices))
	for i, v := range devices {
		names[i] = v.Name
	}
	return names
}

// ByAddress sorts devices by space, universe and slot of their first block,
// those without one last.
func ByAddress(devices []*Device) {
	slices.SortStableFunc(devices, func(a, b *Device) int {
		return cmp.Or(strings.Compare(a.Space, b.Space), cmp.Compare(a.firstSlot(), b.firstSlot()))
	})
}

func (v *Device) firstSlot() int {
	if len(v.Starts) == 0 {
		return int(^uint(0) >> 1)
	}
	return v.Starts[0].Absolute()
}
