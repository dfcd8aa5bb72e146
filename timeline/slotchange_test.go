package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// barShow has a device with an effect slot, an arm slot, an open slot and a wide
// spare one, wired to one placed effect.
func barShow(t require.TestingT, changes ...string) (*Show, error) {
	return NewShow("show1", "x", Rate25).Edit(func(d *Draft) error {
		d.Put("", &Article{Base: Base{ID: "flame"}, Name: "flame", Family: PropaneFlame, Control: SlotControl, Open: Second},
			&DeviceType{Base: Base{ID: "bar"}, Name: "bar", Slots: []Slot{{Block: 1, Number: 1, Role: EffectSlot, From: 255, To: 255}, {Block: 1, Number: 2, Role: ArmSlot, From: 64, To: 127},
				{Block: 1, Number: 3, Role: OpenSlot, From: 255, To: 255}, {Block: 1, Number: 4, Role: SpareSlot, From: 65535, To: 65535, Wide: true}}},
			&Device{Base: Base{ID: "v"}, Name: "bar 1", Type: "bar", Starts: []Patch{{1, 10}}},
			&Placed{Base: Base{ID: "f"}, Name: "f", Article: "flame"}, &Wire{Base: Base{ID: "w"}, Placed: "f", Driver: "v", Output: 1},
			&SongHead{Base: Base{ID: "a"}, Slug: "a", Length: Minute})
		d.Put("a", &Lane{Base: Base{ID: "fan"}, Target: "f", Role: ConditionSlot}, &Cue{Base: Base{ID: "q"}, Lane: "fan", At: AtTime(Second), Open: Second})
		if len(changes) > 0 {
			return d.Set(Ref{Kind: "device", ID: "v"}, "slot-changes", Value{Items: changes})
		}
		return nil
	})
}

// An open slot is given a meaning: the plan has a window on it, and its name and
// address follow the show's word.
func TestSlotChanges(t *testing.T) {
	s, err := barShow(t)
	require.NoError(t, err)
	require.Equal(t, LostSlot, Compile(s, nil).Songs[0].Lost[0].Reason)
	require.Same(t, s.Stock.DeviceType("bar"), s.Stock.DeviceTypeOf(s.Rig.Device("v")), "without changes nothing is copied")

	s, err = barShow(t, `1.3 name="left fan" at=2.17 role=condition on=128..255`)
	require.NoError(t, err)
	p := Compile(s, nil)
	w := p.Songs[0].Windows[0]
	require.Equal(t, ConditionSlot, w.Role)
	require.Equal(t, "left fan", w.Slots[0].Name)
	require.Equal(t, 191, w.Slots[0].On())
	at, ok := w.Device.Address(w.Slots[0])
	require.True(t, ok)
	require.Equal(t, Patch{2, 17}, at)
	require.Equal(t, "DMX 2.17", p.Units.Of("f").Drives[0].Label(ConditionSlot))
	require.Empty(t, s.Stock.DeviceType("bar").Slots[2].Name, "the stock stays as it is")
}

// Slots in use are those of blocks less moved ends, and the moved ones.
func TestMovedSlotsInUse(t *testing.T) {
	s, err := barShow(t, "1.4 at=1.100", "1.2 at=2.5")
	require.NoError(t, err)
	v := s.Rig.Device("v")
	require.Equal(t, []SlotRun{{1, 0, Patch{1, 10}, 3, true}, {1, 2, Patch{2, 5}, 1, true}, {1, 4, Patch{1, 100}, 2, true}}, v.Runs(s.Stock.DeviceTypeOf(v)))
	one, two := s.SlotUse("", 1), s.SlotUse("", 2)
	free := func(u *SlotUse, slot int) bool { n, ok := u.NextFree(slot, 1); return ok && n == slot }
	for slot, want := range map[int]bool{9: true, 10: false, 11: false, 12: false, 13: true, 99: true, 100: false, 101: false, 102: true} {
		require.Equal(t, want, free(one, slot), slot)
	}
	require.False(t, free(two, 5))
	// A device added by address must not take them, and a copy has them back in its block.
	_, err = s.Edit(AddDevices(DeviceRun{Type: "bar", Count: 1, Starts: []Patch{{1, 97}}}, func() ID { return "new" }))
	require.ErrorContains(t, err, "slot 1.100 belongs to bar 1")
	s, err = s.Edit(CopyDevices([]ID{"v"}, nil, func() ID { return "copy" }))
	require.NoError(t, err)
	require.Empty(t, s.Rig.Device("copy").Slots)
	require.Equal(t, []Patch{{1, 1}}, s.Rig.Device("copy").Starts)
	_, err = s.Edit(MoveDevices([]ID{"v"}, []Patch{{1, 98}}))
	require.ErrorContains(t, err, "slot 1.100 belongs to bar 1", "nor its own moved slot")
}

// What cannot be is refused, with what could; the show stays as it was.
func TestSlotChangesRefused(t *testing.T) {
	for change, want := range map[string]string{
		"1.9 name=x":         "bar has no such slot; it has 1.1, 1.2, 1.3, 1.4",
		"1.1 role=arm":       "the type gives this slot the role effect; only slots that it leaves open or spare take another: 1.3, 1.4",
		"1.3 on=0..10":       "off=0 lies inside on=0..10",
		"1.2 on=0..300":      "above 255",
		"1.4 at=1.512":       "two slots from 1.512 run past slot 512; start at 1.511 at the latest",
		"1.3 role=pan":       "is not one of: effect, level, arm",
		"1.3":                "changes nothing; write name=",
		"3 name=x":           "must start with block.number",
		"1.3 at=1.513":       "must be universe.slot",
		"1.3 head=0":         "must be a whole number from 1 to 512",
		"1.3 where=here":     "is not understood here; valid: block.number name=",
		"1.1 name=a level=2": `"level" is not understood`,
	} {
		_, err := barShow(t, change)
		require.ErrorContains(t, err, want, change)
	}
	_, err := barShow(t, "1.3 name=a", "1.3 name=b")
	require.ErrorContains(t, err, "changed twice")
	_, err = barShow(t, "1.1 role=effect name=x")
	require.NoError(t, err, "its own role is no change")
}

// Whatever is changed: the effective type has the stock's slots with the given
// words, a slow twin counts every address that is taken.
func TestSlotChangesEqualTheirSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var changes []SlotChange
		var texts []string
		for _, n := range rapid.SliceOfDistinct(rapid.IntRange(1, 4), rapid.ID[int]).Draw(rt, "slots") {
			c := SlotChange{Block: 1, Number: n, Name: rapid.SampledFrom([]string{"", "a b", "x"}).Draw(rt, "name")}
			if rapid.Bool().Draw(rt, "moves") {
				c.At = Patch{rapid.IntRange(1, 2).Draw(rt, "universe"), rapid.IntRange(30, 34).Draw(rt, "at")}
			}
			if n > 2 && rapid.Bool().Draw(rt, "means") {
				c.Role = rapid.SampledFrom([]SlotRole{ArmSlot, ConditionSlot, LevelSlot}).Draw(rt, "role")
			}
			if c != (SlotChange{Block: 1, Number: n}) {
				changes, texts = append(changes, c), append(texts, c.String())
			}
		}
		s, err := barShow(rt, texts...)
		require.NoError(rt, err)
		v := s.Rig.Device("v")
		require.Equal(rt, changes, v.Slots)
		taken := map[Patch]bool{}
		last := 0
		for _, slot := range s.Stock.DeviceType("bar").Slots {
			want := slot
			at := Patch{1, 9 + slot.Number}
			for _, c := range changes {
				if c.Number == slot.Number {
					if c.Name != "" {
						want.Name = c.Name
					}
					if c.Role != "" {
						want.Role = c.Role
					}
					if c.At != (Patch{}) {
						at, want.moved = c.At, true
					}
				}
			}
			own := s.Stock.DeviceTypeOf(v).Slots[slot.Number-1]
			require.Equal(rt, want, own)
			got, ok := v.Address(own)
			require.True(rt, ok)
			require.Equal(rt, at, got)
			for k := range slot.Width() {
				if want.moved {
					taken[Patch{at.Universe, at.Slot + k}] = true
				} else {
					last = slot.Number + k
				}
			}
		}
		for k := range last {
			taken[Patch{1, 10 + k}] = true
		}
		for universe := 1; universe <= 2; universe++ {
			u := s.SlotUse("", universe)
			for slot := 1; slot <= 50; slot++ {
				n, _ := u.NextFree(slot, 1)
				require.Equal(rt, taken[Patch{universe, slot}], n != slot, "%d.%d", universe, slot)
			}
		}
	})
}
