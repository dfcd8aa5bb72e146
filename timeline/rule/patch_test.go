package rule

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// six is a device type of six slots in one block.
func six() *timeline.DeviceType {
	d := &timeline.DeviceType{Base: base{ID: "six"}, Name: "six slots"}
	for i := range 6 {
		d.Slots = append(d.Slots, timeline.Slot{Block: 1, Number: i + 1, Role: timeline.SpareSlot})
	}
	return d
}

func device(id timeline.ID, starts ...timeline.Patch) *timeline.Device {
	return &timeline.Device{Base: base{ID: id}, Name: string(id), Type: "six", Starts: starts}
}

func at(universe, slot int) timeline.Patch { return timeline.Patch{Universe: universe, Slot: slot} }

// Derived from ANSI E1.11 (slots 1 to 512): a block [a, a+f-1] fits
// iff 1 <= a and a+f-1 <= 512. Six slots at 507 end on 512 and fit; at 508 they
// do not. Blocks overlap iff max(a1,a2) <= min(e1,e2) in one universe: 10..15
// and 16..21 do not.
func TestPatch(t *testing.T) {
	runCases(t, "patch-end", []ruleCase{
		{"six slots at 507", edits(put(six(), device("d", at(2, 507)))), nil},
		{"six slots at 508", edits(put(six(), device("d", at(2, 508)))), []string{"device:d: starts at 2.508 and ends at slot 513"}},
		{"a shorter universe", edits(put(six(), device("d", at(2, 507)), &timeline.Setting{Base: base{ID: "patch-end"}, Values: []string{"last-slot=511"}})), []string{"device:d: a universe ends at slot 511"}},
		{"a wide slot at the end", edits(put(&timeline.DeviceType{Base: base{ID: "six"}, Slots: []timeline.Slot{{Block: 1, Number: 1, Wide: true}}}, device("d", at(2, 512)))), []string{"device:d"}},
	})
	runCases(t, "patch-overlap", []ruleCase{
		{"10..15 and 16..21", edits(put(six(), device("d", at(2, 10)), device("e", at(2, 16)))), nil},
		{"10..15 and 15..20", edits(put(six(), device("d", at(2, 10)), device("e", at(2, 15)))), []string{"device:e: e (2.15..20) and d (2.10..15) share slot 2.15"}},
		{"another universe", edits(put(six(), device("d", at(2, 10)), device("e", at(3, 10)))), nil},
		{"another space", edits(put(six(), device("d", at(2, 10)), &timeline.Device{Base: base{ID: "e"}, Type: "six", Space: "B", Starts: []timeline.Patch{at(2, 10)}})), nil},
		{"one inside another that goes on", edits(put(six(), device("d", at(2, 10)), device("e", at(2, 10)), device("f", at(2, 11)))), []string{"device:e", "device:f: d", "device:f: e"}},
		{"declared", edits(put(six(), device("d", at(2, 10)), &timeline.Device{Base: base{ID: "e"}, Type: "six", Starts: []timeline.Patch{at(2, 10)}, Shares: []timeline.ID{"d"}})), nil},
	})
	runCases(t, "shared-patch", []ruleCase{
		{"declared by one of them", edits(put(six(), device("d", at(2, 10)), &timeline.Device{Base: base{ID: "e"}, Name: "e", Type: "six", Starts: []timeline.Patch{at(2, 10)}, Shares: []timeline.ID{"d"}})), []string{"device:e: as declared"}},
		{"not declared", edits(put(six(), device("d", at(2, 10)), device("e", at(2, 10)))), nil},
	})
	runCases(t, "patch-start", []ruleCase{
		{"given", edits(put(six(), device("d", at(2, 10)))), nil},
		{"missing", edits(put(six(), device("d"))), []string{"device:d: block 1 of 6 slots has no start address"}},
		{"missing for the second block", edits(put(&timeline.DeviceType{Base: base{ID: "six"}, Slots: []timeline.Slot{{Block: 1, Number: 1}, {Block: 2, Number: 1}}}, device("d", at(2, 10)))), []string{"device:d: block 2 of 1 slot"}},
	})
	hazardous := six()
	hazardous.Hazardous = true
	runCases(t, "first-slot", []ruleCase{
		{"a hazardous device at 1", edits(put(hazardous, device("d", at(2, 1)))), []string{"device:d: starts at slot 2.1"}},
		{"and at 2", edits(put(hazardous, device("d", at(2, 2)))), nil},
		{"a harmless one at 1", edits(put(six(), device("d", at(2, 1)))), nil},
	})
}

func TestPatchFixes(t *testing.T) {
	for name, recs := range map[string][]timeline.Record{
		"patch-end":     {six(), device("d", at(2, 508)), device("e", at(2, 1))},
		"patch-overlap": {six(), device("d", at(2, 1)), device("e", at(2, 4)), device("f", at(2, 7)), device("g", at(2, 20))},
		"patch-start":   {six(), device("d"), device("e", at(1, 1)), device("f", at(1, 50))},
	} {
		s := stage(t, put(recs...))
		require.Empty(t, fixed(t, name, s, ""), name)
	}
	full := make([]timeline.Record, 0, 90)
	for i := range 85 {
		full = append(full, device(timeline.ID(fmt.Sprintf("d%02d", i)), at(7, 1+6*i)))
	}
	s := stage(t, put(append(full, six(), device("x", at(7, 3)))...))
	for _, f := range ofRule("patch-overlap", Check(timeline.Compile(s, nil), Facts{})) {
		require.Nil(t, f.Fix, "511 and 512 are free, six slots are not")
	}
}

// Overlaps against counting the slots one by one.
func TestPatchOverlapEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		recs := []timeline.Record{six()}
		slots := map[timeline.Patch][]string{}
		for i := range rapid.IntRange(0, 8).Draw(rt, "devices") {
			d := device(timeline.ID(fmt.Sprintf("d%d", i)), at(rapid.IntRange(2, 3).Draw(rt, "universe"), rapid.IntRange(1, 40).Draw(rt, "slot")))
			recs = append(recs, d)
			for k := range 6 {
				p := timeline.Patch{Universe: d.Starts[0].Universe, Slot: d.Starts[0].Slot + k}
				slots[p] = append(slots[p], string(d.ID))
			}
		}
		want, got := map[string]bool{}, map[string]bool{}
		for _, list := range slots {
			for i, a := range list {
				for _, b := range list[i+1:] {
					want[a+" "+b] = true
				}
			}
		}
		for _, f := range ofRule("patch-overlap", Check(timeline.Compile(stage(t, put(recs...)), nil), Facts{})) {
			pair := []string{string(f.Ref.ID), string(f.Others[0].ID)}
			slices.Sort(pair)
			got[pair[0]+" "+pair[1]] = true
		}
		require.Equal(rt, sortedKeys(want), sortedKeys(got))
	})
}

func TestBankAddress(t *testing.T) {
	bank := func(id timeline.ID, space string, address int) *timeline.Bank {
		return &timeline.Bank{Base: base{ID: id}, Name: string(id), Type: "relay", Space: space, Address: address}
	}
	runCases(t, "bank-address", []ruleCase{
		{"different addresses", edits(put(bank("x", "", 3), bank("y", "", 4))), nil},
		{"the same", edits(put(bank("x", "", 3), bank("y", "", 3))), []string{"bank:y: y and x both have address 3"}},
		{"in another space", edits(put(bank("x", "", 3), bank("y", "wireless", 3))), nil},
		{"none yet", edits(put(bank("x", "", 0), bank("y", "", 0))), nil},
		{"three", edits(put(bank("x", "w", 3), bank("y", "w", 3), bank("z", "w", 3))), []string{"bank:y: y and x: in w", "bank:z: z and x", "bank:z: z and y"}},
	})
	require.Empty(t, fixed(t, "bank-address", stage(t, put(bank("x", "", 3), bank("y", "", 3), bank("z", "", 3), bank("zz", "", 4))), ""))
}
