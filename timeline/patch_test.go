package timeline

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// ids hands in ids of its own.
func ids(prefix string) func() ID {
	n := 0
	return func() ID {
		n++
		return ID(fmt.Sprintf("%s%03d", prefix, n))
	}
}

// slots is a show with one device type for each footprint that tests need.
func slots(t testing.TB) *Show {
	t.Helper()
	s, err := NewShow("slots", "Slots", Rate25).Edit(func(d *Draft) error {
		for _, n := range []int{1, 2, 6, 100, 511, 512} {
			d.Put("", &DeviceType{Base: Base{ID: ID(fmt.Sprintf("f%d", n))}, Name: fmt.Sprint(n), Slots: []Slot{{Block: 1, Number: n, Role: EffectSlot, From: 255, To: 255}}})
		}
		d.Put("", &DeviceType{Base: Base{ID: "two"}, Hazardous: true, Slots: []Slot{
			{Block: 1, Number: 5, Role: EffectSlot, From: 255, To: 255}, {Block: 2, Number: 1, Role: ArmSlot, From: 96, To: 127}}})
		d.Put("", &BankType{Base: Base{ID: "b16"}, Kind: IgniterBank, Outputs: 16})
		return nil
	})
	require.NoError(t, err)
	return s
}

func at(t testing.TB, text string) []Patch {
	t.Helper()
	p, err := ParsePatch(text)
	require.NoError(t, err)
	return []Patch{p}
}

// Where a block fits (derived: [a, a+f-1] fits iff 1 <= a and a+f-1 <= 512; it
// never wraps).
func TestBlockFits(t *testing.T) {
	for _, c := range []struct {
		typ, at, want string
	}{
		{"f6", "1.507", ""}, // ends on 512
		{"f6", "1.508", "6 slots from there end at 513, and a universe ends at 512; the latest start is 1.507; the next free run of 6 starts at 1.1"},
		{"f512", "1.1", ""},
		{"f512", "1.2", "the latest start is 1.1"},
		{"f1", "512", ""}, // 1.512
		{"f1", "513", ""}, // 2.1
		{"f2", "1.512", "the latest start is 1.511"},
	} {
		_, err := slots(t).Edit(AddDevices(DeviceRun{Type: ID(c.typ), Count: 1, Name: "x", Starts: at(t, c.at)}, ids("d")))
		if c.want == "" {
			require.NoError(t, err, c.at)
		} else {
			require.ErrorContains(t, err, c.want)
		}
	}
}

// Running numbers over all universes (derived).
func TestAbsoluteAddress(t *testing.T) {
	for text, want := range map[string]string{"512": "1.512", "513": "2.1", "1024": "2.512", "45": "1.45", "1.45": "1.45"} {
		p := at(t, text)[0]
		require.Equal(t, want, p.String())
		again := at(t, fmt.Sprint(p.Absolute()))[0]
		require.Equal(t, p, again)
	}
}

// 10..15 and 16..21 do not overlap; 10..15 and 15..20 do (derived).
func TestBlocksOverlap(t *testing.T) {
	s, err := slots(t).Edit(AddDevices(DeviceRun{Type: "f6", Count: 1, Name: "a", Starts: at(t, "1.10")}, ids("a")))
	require.NoError(t, err)
	_, err = s.Edit(AddDevices(DeviceRun{Type: "f6", Count: 1, Name: "b", Starts: at(t, "1.16")}, ids("b")))
	require.NoError(t, err)
	_, err = s.Edit(AddDevices(DeviceRun{Type: "f6", Count: 1, Name: "b", Starts: at(t, "1.15")}, ids("b")))
	require.EqualError(t, err, `device starts: "1.15": slot 1.15 belongs to a 1; the next free run of 6 starts at 1.1`)
	_, err = s.Edit(AddDevices(DeviceRun{Type: "f6", Count: 1, Name: "b", Space: "other", Starts: at(t, "1.15")}, ids("b")))
	require.NoError(t, err) // another space has slots of its own
	_, err = s.Edit(AddDevices(DeviceRun{Type: "f6", Count: 1, Name: "b", Starts: at(t, "2.15")}, ids("b")))
	require.NoError(t, err)
}

// Next free and after last used; none when 512 is taken.
func TestNextFreeSlots(t *testing.T) {
	s, err := slots(t).Edit(AddDevices(DeviceRun{Type: "f6", Count: 2, Name: "a", Starts: at(t, "1.10")}, ids("a")),
		AddDevices(DeviceRun{Type: "f6", Count: 1, Name: "b", Starts: at(t, "1.100")}, ids("b")))
	require.NoError(t, err)
	u := s.SlotUse("", 1)
	slot, ok := u.NextFree(1, 9)
	require.True(t, ok)
	require.Equal(t, 1, slot)
	slot, ok = u.NextFree(1, 10)
	require.True(t, ok)
	require.Equal(t, 22, slot)
	slot, ok = u.AfterLast(1, 10)
	require.True(t, ok)
	require.Equal(t, 106, slot)
	_, ok = u.AfterLast(1, 408)
	require.False(t, ok)

	full, err := s.Edit(AddDevices(DeviceRun{Type: "f1", Count: 1, Name: "c", Starts: at(t, "1.512")}, ids("c")))
	require.NoError(t, err)
	_, ok = full.SlotUse("", 1).AfterLast(1, 1)
	require.False(t, ok)
	slot, ok = full.SlotUse("", 1).NextFree(1, 400)
	require.True(t, ok)
	require.Equal(t, 106, slot)
}

// The next free run is what a search over every start and every device finds.
func TestNextFreeEqualsSlowTwin(t *testing.T) {
	base := slots(t)
	rapid.Check(t, func(r *rapid.T) {
		var devices []Record
		for i := range rapid.IntRange(0, 12).Draw(r, "devices") {
			typ := rapid.SampledFrom([]ID{"f1", "f2", "f6", "f100"}).Draw(r, "type")
			devices = append(devices, &Device{Base: Base{ID: ID(fmt.Sprint("d", i))}, Type: typ, Starts: []Patch{{rapid.IntRange(1, 2).Draw(r, "universe"), rapid.IntRange(1, 512).Draw(r, "slot")}}})
		}
		s, err := base.Edit(func(d *Draft) error { d.Put("", devices...); return nil })
		require.NoError(r, err)
		from, n := rapid.IntRange(1, 30).Draw(r, "from"), rapid.IntRange(1, 513).Draw(r, "slots")
		slot, ok := s.SlotUse("", 1).NextFree(from, n)
		want, found := slowNextFree(s, from, n)
		require.Equal(r, found, ok)
		if ok {
			require.Equal(r, want, slot)
		}
	})
}

func slowNextFree(s *Show, from, n int) (int, bool) {
	for a := from; a+n-1 <= 512; a++ {
		free := true
		for _, v := range s.Rig.Devices {
			size := s.Stock.DeviceType(v.Type).Blocks()[0]
			if v.Starts[0].Universe == 1 && max(a, v.Starts[0].Slot) <= min(a+n-1, v.Starts[0].Slot+size-1) {
				free = false
			}
		}
		if free {
			return a, true
		}
	}
	return 0, false
}

// A run of devices: names count on, blocks follow each other, a device that can
// hurt leaves slot 1 empty, and what does not fit changes nothing.
func TestDeviceRun(t *testing.T) {
	s, err := slots(t).Edit(AddDevices(DeviceRun{Type: "two", Count: 3, Name: "row", Space: "floor"}, ids("r")))
	require.NoError(t, err)
	require.Equal(t, []Patch{{1, 2}, {1, 17}}, s.Rig.Device("r001").Starts)
	require.Equal(t, []Patch{{1, 12}, {1, 19}}, s.Rig.Device("r003").Starts)
	require.Equal(t, "row 3", s.Rig.Device("r003").Name)
	s, err = s.Edit(CopyDevices([]ID{"r001", "r002"}, nil, ids("c")))
	require.NoError(t, err)
	require.Equal(t, "row 5", s.Rig.Device("c002").Name)
	require.Equal(t, []Patch{{1, 25}, {1, 31}}, s.Rig.Device("c002").Starts)
	s, err = s.Edit(MoveDevices([]ID{"r003", "r001"}, []Patch{{2, 101}, {2, 1}}))
	require.NoError(t, err)
	require.Equal(t, []Patch{{2, 106}, {2, 2}}, s.Rig.Device("r001").Starts)
	for _, c := range []struct {
		edit Edit
		want string
	}{
		{AddDevices(DeviceRun{Type: "two", Count: 0}, ids("x")), `device count: "0": must be a whole number from 1 to 512`},
		{AddDevices(DeviceRun{Type: "gone", Count: 1}, ids("x")), `device type: "gone": names no devicetype`},
		{AddDevices(DeviceRun{Type: "two", Count: 1, Starts: []Patch{{1, 1}}}, ids("x")), `gives 1 start addresses for 2 blocks`},
		{AddDevices(DeviceRun{Type: "f511", Count: 2}, ids("x")), `universe 1 has no free run of 1,022 slots for 2 devices`},
		{MoveDevices([]ID{"r001"}, nil), `write universe.slot for each block`},
		{MoveDevices([]ID{"r001", "r001"}, []Patch{{1, 1}, {1, 9}}), `is named twice`},
		{MoveDevices([]ID{"gone"}, []Patch{{1, 1}}), `names no device of this show`},
		{MoveDevices([]ID{"r001", "r002"}, []Patch{{3, 504}, {3, 1}}), `5 slots from there end at 513`},
	} {
		_, err := s.Edit(c.edit)
		require.ErrorContains(t, err, c.want)
	}
}

// Devices that were added or moved never overlap another, whatever was there.
func TestPatchedDevicesNeverOverlap(t *testing.T) {
	base := slots(t)
	rapid.Check(t, func(r *rapid.T) {
		s := base
		newID := ids("d")
		for range rapid.IntRange(1, 8).Draw(r, "edits") {
			typ := rapid.SampledFrom([]ID{"f1", "f6", "f100", "two"}).Draw(r, "type")
			run := DeviceRun{Type: typ, Count: rapid.IntRange(1, 4).Draw(r, "count"), Name: "d"}
			if rapid.Bool().Draw(r, "typed") {
				for range base.Stock.DeviceType(typ).Blocks() {
					run.Starts = append(run.Starts, Patch{rapid.IntRange(1, 2).Draw(r, "u"), rapid.IntRange(1, 512).Draw(r, "s")})
				}
			}
			if next, err := s.Edit(AddDevices(run, newID)); err == nil {
				s = next
			}
			taken := map[Patch]ID{}
			for _, v := range s.Rig.Devices {
				for b, size := range s.Stock.DeviceType(v.Type).Blocks() {
					for i := range size {
						p := Patch{v.Starts[b].Universe, v.Starts[b].Slot + i}
						require.LessOrEqual(r, p.Slot, 512)
						require.Empty(r, taken[p], "%s of %s", p, v.ID)
						taken[p] = v.ID
					}
				}
			}
		}
	})
}

func TestBankRun(t *testing.T) {
	s, err := slots(t).Edit(AddBanks(BankRun{Type: "b16", Count: 2, Name: "front", Space: "igniters", Address: 3}, ids("b")))
	require.NoError(t, err)
	s, err = s.Edit(AddBanks(BankRun{Type: "b16", Count: 3, Name: "front", Space: "igniters"}, ids("c")))
	require.NoError(t, err)
	require.Equal(t, 5, s.Rig.Bank("c001").Address) // 1 and 2 are too few
	require.Equal(t, "front 5", s.Rig.Bank("c003").Name)
	s, err = s.Edit(CopyBanks([]ID{"b001"}, 0, ids("k")))
	require.NoError(t, err)
	require.Equal(t, 1, s.Rig.Bank("k001").Address)
	s, err = s.Edit(MoveBanks([]ID{"c003", "c002"}, 20))
	require.NoError(t, err)
	require.Equal(t, 21, s.Rig.Bank("c002").Address)
	after, ok := s.AddressUse("igniters").AfterLast(1)
	require.True(t, ok)
	require.Equal(t, 22, after)
	_, err = s.Edit(MoveBanks([]ID{"c001", "b001"}, 20))
	require.EqualError(t, err, `bank address: "20": belongs to front 5; the next free run of 2 starts at 2`)
	_, err = s.Edit(MoveBanks([]ID{"c001"}, 0))
	require.ErrorContains(t, err, "write one from 1 to 1000000")
}
