package rule

import (
	"fmt"

	"emberbeat/timeline"
)

// claimText writes the slots of a claim: 1.45..50.
func claimText(c *timeline.Claim) string {
	return fmt.Sprintf("%s..%d", c.Run.Start, c.Last())
}

// claimName says what of a device the claim is.
func claimName(c *timeline.Claim) string {
	if c.Run.Number > 0 {
		return fmt.Sprintf("slot %d.%d", c.Run.Block, c.Run.Number)
	}
	return fmt.Sprintf("block %d", c.Run.Block)
}

// moveClaim gives the fix that starts the block, or the moved slot, somewhere
// else.
func (r *rigRun) moveClaim(c *timeline.Claim, to timeline.Patch) *Fix {
	v := c.Device
	if c.Run.Number == 0 {
		return r.moveBlock(v, c.Run.Block, to)
	}
	var items []string
	for _, change := range v.Slots {
		if change.Block == c.Run.Block && change.Number == c.Run.Number {
			change.At = to
		}
		items = append(items, change.String())
	}
	return fixList(fmt.Sprintf("put %s of %s at %s", claimName(c), r.name(v), to), rigRef("device", v.ID), "slot-changes", items)
}

// moveBlock gives the fix that starts a block of a device somewhere else.
func (r *rigRun) moveBlock(v *timeline.Device, number int, to timeline.Patch) *Fix {
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
	return fixList(fmt.Sprintf("start block %d of %s at %s", number, r.name(v), to), rigRef("device", v.ID), "starts", items)
}

// freeFor gives where in a universe so many slots of a device are free, as the
// patch verb finds it. The rule's own last slot may lie below the universe's.
func (r *rigRun) freeFor(v *timeline.Device, typ *timeline.DeviceType, universe, size int) (timeline.Patch, bool) {
	slot, ok := r.plan.Show.SlotUse(v.Space, universe).NextFree(typ.FirstSlot(), size)
	return timeline.Patch{Universe: universe, Slot: slot}, ok && slot+size-1 <= int(r.tune(nil, nil).of(patchLast).plain)
}

// universeOf is where a device already has a block, or the first of its space.
func universeOf(v *timeline.Device) int {
	if len(v.Starts) > 0 {
		return v.Starts[0].Universe
	}
	return 1
}
