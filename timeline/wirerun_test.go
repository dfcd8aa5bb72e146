package timeline

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// row is a show with n comets across the stage, wired to nothing, and two
// igniter banks of 4 and a relay bank.
func row(t testing.TB, n int) (*Show, []ID) {
	t.Helper()
	var names []ID
	s, err := NewShow("row", "Row", Rate25).Edit(func(d *Draft) error {
		d.Put("", &Article{Base: Base{ID: "comet"}, Name: "Comet", Family: Comet, Control: IgniterControl, SingleUse: true, Stock: 5, Open: Second})
		d.Put("", &BankType{Base: Base{ID: "ign4"}, Kind: IgniterBank, Outputs: 4}, &BankType{Base: Base{ID: "rel"}, Kind: RelayBank, Outputs: 4})
		d.Put("", &Bank{Base: Base{ID: "a"}, Name: "A", Type: "ign4"}, &Bank{Base: Base{ID: "b"}, Name: "B", Type: "ign4"}, &Bank{Base: Base{ID: "r"}, Name: "R", Type: "rel"})
		for i := range n {
			id := ID(fmt.Sprintf("c%d", i+1))
			d.Put("", &StagePosition{Base: Base{ID: id}, X: float64(i)}, &Placed{Base: Base{ID: id}, Name: "comet " + fmt.Sprint(i+1), Article: "comet", Position: id})
			names = append(names, id)
		}
		return nil
	})
	require.NoError(t, err)
	return s, names
}

func wiresText(p *WireProposal) (text string) {
	for _, w := range p.Wires {
		text += fmt.Sprintf("%s:%s%d ", w.Placed, w.Driver, w.Output)
	}
	return text
}

func TestWirePatterns(t *testing.T) {
	for _, c := range []struct {
		pattern WirePattern
		n, from int
		units   []ID
		want    string
	}{
		{WireStraight, 5, 0, []ID{"a", "b"}, "c1:a1 c2:a2 c3:a3 c4:a4 c5:b1 "},
		{"", 2, 3, []ID{"b"}, "c1:b3 c2:b4 "},
		{WireAlternate, 5, 0, []ID{"a", "b"}, "c1:a1 c2:b1 c3:a2 c4:b2 c5:a3 "},
		{WireFan, 5, 0, []ID{"a", "b"}, "c3:a1 c2:a2 c4:a3 c1:a4 c5:b1 "},
		{WireMirror, 4, 0, []ID{"a"}, "c1:a1 c4:a2 c2:a3 c3:a4 "},
	} {
		s, placed := row(t, c.n)
		p, err := s.ProposeWires(WireRun{Placed: placed, Units: c.units, From: c.from, Pattern: c.pattern})
		require.NoError(t, err, c.pattern)
		require.Equal(t, c.want, wiresText(p), c.pattern)
	}
}

// Spare outputs and counts against the stock are said; what is used is passed
// over, and rewiring takes the old wires away.
func TestWireCountsAndSpares(t *testing.T) {
	s, placed := row(t, 6)
	p, err := s.ProposeWires(WireRun{Placed: placed, Units: []ID{"a", "b"}, Pattern: WireAlternate})
	require.NoError(t, err)
	require.Equal(t, []OutputRef{{"a", 4}, {"b", 4}}, p.Spare)
	require.Len(t, p.Counts, 1)
	require.Equal(t, 6, p.Counts[0].Wired)
	require.Equal(t, 1, p.Counts[0].Over())
	s, err = s.Edit(p.Edit(ids("w")))
	require.NoError(t, err)
	require.Len(t, s.Rig.Wires, 6)

	_, err = s.ProposeWires(WireRun{Placed: placed[:1], Units: []ID{"a"}})
	require.ErrorContains(t, err, `wire placed: "comet 1": is wired to output 1 of A already`)
	p, err = s.ProposeWires(WireRun{Placed: placed[:3], Units: []ID{"a", "b"}, Rewire: true})
	require.NoError(t, err)
	require.Equal(t, "c1:a1 c2:a2 c3:a4 ", wiresText(p)) // a3 stays with c5
	s, err = s.Edit(p.Edit(ids("x")))
	require.NoError(t, err)
	require.Len(t, s.Rig.Wires, 6)
}

func TestWireRefuses(t *testing.T) {
	s, placed := row(t, 6)
	for _, c := range []struct {
		run  WireRun
		want string
	}{
		{WireRun{Placed: placed, Units: []ID{"a"}}, `wire output: "6": placed effects need as many outputs, and A has 4 free from output 1 on; 2 too few`},
		{WireRun{Placed: placed[:1], Units: []ID{"r"}}, `wire unit: "R": has relay outputs, and comet 1 (Comet) needs igniter`},
		{WireRun{Placed: placed[:1], Units: []ID{"a"}, From: 5}, `must be from 1 to 4, the outputs of A`},
		{WireRun{Placed: placed[:1], Units: []ID{"a"}, Pattern: "zigzag"}, `is not one of: straight, fan, mirror, alternate`},
		{WireRun{Placed: []ID{"gone"}, Units: []ID{"a"}}, `names no placed of this show`},
		{WireRun{Placed: []ID{"c1", "c1"}, Units: []ID{"a"}}, `is named twice`},
		{WireRun{Placed: placed[:1], Units: []ID{"gone"}}, `names no bank or device`},
		{WireRun{Placed: placed[:1]}, `name a bank or device`},
		{WireRun{Units: []ID{"a"}}, `name one placed effect or more`},
	} {
		_, err := s.ProposeWires(c.run)
		require.ErrorContains(t, err, c.want)
	}
}

// However it is wired: every effect once, no output twice, spares are what is
// left over.
func TestWiringUsesEachOutputOnce(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s, placed := row(t, rapid.IntRange(1, 8).Draw(r, "n"))
		from := rapid.IntRange(1, 4).Draw(r, "from")
		run := WireRun{Placed: placed, Units: []ID{"a", "b"}, From: from, Pattern: rapid.SampledFrom(WirePatterns()).Draw(r, "pattern")}
		p, err := s.ProposeWires(run)
		if len(placed) > 2*(5-from) {
			require.Error(r, err)
			return
		}
		require.NoError(r, err)
		effects, outputs := map[ID]bool{}, map[OutputRef]bool{}
		for _, w := range p.Wires {
			effects[w.Placed], outputs[OutputRef{w.Driver, w.Output}] = true, true
		}
		for _, o := range p.Spare {
			outputs[o] = true
		}
		require.Len(r, effects, len(placed))
		require.Len(r, outputs, 2*(5-from))
	})
}

func TestArrange(t *testing.T) {
	s, placed := row(t, 5)
	mixed := []ID{"c4", "c1", "c5", "c2", "c3"}
	for order, want := range map[Order][]ID{
		OrderAll: mixed, OrderLeftToRight: placed, OrderRightToLeft: {"c5", "c4", "c3", "c2", "c1"}, OrderOdd: {"c1", "c3", "c5"},
		OrderEven: {"c2", "c4"}, OrderInsideOut: {"c3", "c2", "c4", "c1", "c5"}, OrderOutsideIn: {"c1", "c5", "c2", "c4", "c3"},
	} {
		got, err := s.Rig.Arrange(mixed, order)
		require.NoError(t, err)
		require.Equal(t, want, got, order)
	}
	_, err := s.Rig.Arrange(mixed, "random")
	require.ErrorContains(t, err, `group order: "random": is not one of: all, left-to-right`)
}
