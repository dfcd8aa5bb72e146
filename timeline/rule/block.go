package rule

import (
	"cmp"
	"fmt"
	"slices"

	"emberbeat/timeline"
)

// block is one block of a device in its universe, or one slot that the show has
// moved out of its block: slots from first to last.
type block struct {
	device      *timeline.Device
	typ         *timeline.DeviceType
	number      int // from 1
	moved       int // number of the slot in the block; 0 = the whole block
	universe    universe
	first, last int
}

type universe struct {
	space  string
	number int
}

func (b *block) String() string { return fmt.Sprintf("%d.%d..%d", b.universe.number, b.first, b.last) }

// blocksOf gives the blocks of every device that have a start address, by
// universe and first slot.
func blocksOf(show *timeline.Show) []block {
	var all []block
	for _, v := range show.Rig.Devices {
		typ := show.Stock.DeviceTypeOf(v)
		if typ == nil {
			continue
		}
		for _, run := range v.Runs(typ) {
			if p := run.Start; run.Given {
				all = append(all, block{v, typ, run.Block, run.Number, universe{v.Space, p.Universe}, p.Slot, p.Slot + run.Size - 1})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b block) int {
		return cmp.Or(cmp.Compare(a.universe.space, b.universe.space), cmp.Compare(a.universe.number, b.universe.number),
			cmp.Compare(a.first, b.first), cmp.Compare(a.device.ID, b.device.ID))
	})
	return all
}

// name says what of a device the block is.
func (b *block) name() string {
	if b.moved > 0 {
		return fmt.Sprintf("slot %d.%d", b.number, b.moved)
	}
	return fmt.Sprintf("block %d", b.number)
}

// move gives the fix that starts the block, or the moved slot, somewhere else.
func (b *block) move(to timeline.Patch) *Fix {
	if b.moved == 0 {
		return moveBlock(b.device, b.number, to)
	}
	var items []string
	for _, c := range b.device.Slots {
		if c.Block == b.number && c.Number == b.moved {
			c.At = to
		}
		items = append(items, c.String())
	}
	return &Fix{Label: fmt.Sprintf("put %s of %s at %s", b.name(), b.device.Name, to), Edits: []timeline.Edit{setList(rigRef("device", b.device.ID), "slot-changes", items)}}
}

// moveBlock gives the fix that starts a block of a device somewhere else.
func moveBlock(v *timeline.Device, number int, to timeline.Patch) *Fix {
	items := make([]string, 0, max(len(v.Starts), number))
	for _, p := range v.Starts {
		items = append(items, p.String())
	}
	if number > len(items)+1 {
		return nil
	}
	if number == len(items)+1 {
		items = append(items, to.String())
	} else {
		items[number-1] = to.String()
	}
	return &Fix{Label: fmt.Sprintf("start block %d of %s at %s", number, v.Name, to), Edits: []timeline.Edit{setList(rigRef("device", v.ID), "starts", items)}}
}

// nextFree gives the lowest slot of a universe from which so many slots are
// free; blocks are sorted.
func nextFree(blocks []block, u universe, size, last int) (int, bool) {
	slot := 1
	for i := range blocks {
		if blocks[i].universe != u {
			continue
		}
		if slot+size-1 < blocks[i].first {
			break
		}
		slot = max(slot, blocks[i].last+1)
	}
	return slot, slot+size-1 <= last
}

// universeOf is where a device already has a block, or the first of its space.
func universeOf(v *timeline.Device) universe {
	if len(v.Starts) > 0 {
		return universe{v.Space, v.Starts[0].Universe}
	}
	return universe{v.Space, 1}
}
