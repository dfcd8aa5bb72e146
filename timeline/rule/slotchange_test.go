package rule

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// The bar of the stage with its third slot left open: nothing arms it until the
// show says that this slot does.
func TestSlotsWithAMeaning(t *testing.T) {
	open := field("devicetype", "bar", "slots", "1.1 head=1;1.2 head=2;1.3 role=open;1.4 role=condition on=128..255")
	means := field("device", "bar1", "slot-changes", "1.3 role=arm on=64..127")
	fan := cue("a", "fan", 8*sec, 10*sec)
	runCases(t, "open-slot", []ruleCase{
		{"left open", edits(open), []string{"device:bar1: bar 1: 1 slot without a meaning: 1.3"}},
		{"given a meaning", edits(open, means), nil},
		{"said to be spare", edits(open, field("device", "bar1", "slot-changes", "1.3 role=spare")), nil},
		{"named alone", edits(open, field("device", "bar1", "slot-changes", "1.3 name=third")), []string{"device:bar1"}},
		{"drives nothing", edits(open, remove("wire", "w-f1"), remove("wire", "w-f2")), nil},
		{"out of service", edits(open, field("device", "bar1", "dead", "true")), nil},
	})
	runCases(t, "arm-up", []ruleCase{
		{"no arm known", edits(open, fan, cue("a", "f1", 10*sec)), nil},
		{"an arm that is not up", edits(open, means, fan, cue("a", "f1", 10*sec)), []string{"cue:a/a-f1-10000: f1 (DMX 1.12): arm is not on"}},
		{"and one that is", edits(open, means, fan, cue("a", "arm", 9*sec, 5*sec), cue("a", "f1", 10*sec)), nil},
	})
}

// A moved slot is where the show says, for every rule of the patch: devices may
// share it if they say so.
func TestMovedSlots(t *testing.T) {
	move := func(id, to string) timeline.Edit { return field("device", timeline.ID(id), "slot-changes", to) }
	second := put(&timeline.Device{Base: base{ID: "bar2"}, Name: "bar 2", Type: "bar", Starts: []timeline.Patch{{Universe: 1, Slot: 40}}})
	runCases(t, "patch-overlap", []ruleCase{
		{"moved away", edits(second, move("bar1", "1.4 at=1.44")), nil},
		{"onto another device", edits(second, move("bar1", "1.4 at=1.43")), []string{"device:bar1: bar 1 (1.43..43) and bar 2 (1.40..43) share slot 1.43"}},
		{"as that one moved its own", edits(second, move("bar1", "1.4 at=1.43"), move("bar2", "1.4 at=2.1")), nil},
		{"both to one place", edits(second, move("bar1", "1.3 at=1.99"), move("bar2", "1.3 at=1.99")), []string{"device:bar2: share slot 1.99"}},
		{"as declared", edits(second, move("bar1", "1.3 at=1.99"), move("bar2", "1.3 at=1.99"), field("device", "bar2", "shares", "bar1")), nil},
	})
	s := stage(t, second, move("bar1", "1.4 at=1.43"))
	require.Empty(t, fixed(t, "patch-overlap", s, ""), "the fix moves the slot and not its block")
	s, err := s.Edit(ofRule("patch-overlap", Check(timeline.Compile(s, nil), Facts{}))[0].Fix.Edits...)
	require.NoError(t, err)
	require.Equal(t, []timeline.Patch{{Universe: 1, Slot: 10}}, s.Rig.Device("bar1").Starts)
	hurts := field("devicetype", "bar", "hazardous", "true")
	runCases(t, "first-slot", []ruleCase{
		{"an arm at the first slot", edits(hurts, move("bar1", "1.3 at=2.1")), []string{"device:bar1: can hurt and starts at slot 2.1"}},
		{"a fan there", edits(hurts, move("bar1", "1.4 at=2.1")), nil},
	})
}

// Changes that a show folder holds and the type does not have.
func TestSlotChangesOfAFolder(t *testing.T) {
	bad := func(list ...timeline.SlotChange) []Finding {
		s := asLoaded(t, func(d *timeline.Draft) error {
			v := *d.Show().Rig.Device("bar1")
			v.Slots = list
			d.Put("", &v)
			return nil
		})
		found := ofRule("slot-change", Check(timeline.Compile(s, nil), Facts{}))
		for range found {
			next, err := s.Edit(ofRule("slot-change", Check(timeline.Compile(s, nil), Facts{}))[0].Fix.Edits...)
			require.NoError(t, err)
			s = next
		}
		require.Empty(t, ofRule("slot-change", Check(timeline.Compile(s, nil), Facts{})))
		return found
	}
	requireFindings(t, []string{`device:bar1: bar 1: "1.9 name=x": has no such slot; it has 1.1, 1.2, 1.3, 1.4`}, bad(timeline.SlotChange{Block: 1, Number: 9, Name: "x"}))
	requireFindings(t, []string{`device:bar1: the role arm`}, bad(timeline.SlotChange{Block: 1, Number: 3, Role: timeline.EffectSlot}))
	requireFindings(t, nil, bad(timeline.SlotChange{Block: 1, Number: 3, Name: "arm of both"}))
	requireFindings(t, []string{`device:bar1: twice`}, bad(timeline.SlotChange{Block: 1, Number: 3, Name: "a"}, timeline.SlotChange{Block: 1, Number: 3, Name: "b"}))
}
