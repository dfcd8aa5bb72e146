package timeline

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// swapShow has comets wired to bank old (type of 8) and banks of other sizes.
func swapShow(t testing.TB) *Show {
	s := small(t)
	s, err := s.Edit(func(d *Draft) error {
		d.Put("", &BankType{Base: Base{ID: "t8"}, Kind: IgniterBank, Outputs: 8, Latency: FromMillis(5), Volts: 24},
			&BankType{Base: Base{ID: "t4"}, Kind: IgniterBank, Outputs: 4, Latency: FromMillis(8), Volts: 12, Amps: 5},
			&BankType{Base: Base{ID: "r9"}, Kind: RelayBank, Outputs: 9})
		d.Put("", &Bank{Base: Base{ID: "old"}, Name: "Old", Type: "t8"}, &Bank{Base: Base{ID: "four"}, Name: "Four", Type: "t4"},
			&Bank{Base: Base{ID: "eight"}, Name: "Eight", Type: "t8"}, &Bank{Base: Base{ID: "rel"}, Name: "Relays", Type: "r9"})
		d.Put("", &Circuit{Base: Base{ID: "pair"}, Name: "pair", Joining: InSeries, Igniters: 2, Ohms: 1.5, AllFire: 2, Cable: 50, Section: 0.5})
		for i, o := range []int{1, 3, 6, 7, 8, 8} {
			id := ID(fmt.Sprintf("k%d", i))
			d.Put("", &Placed{Base: Base{ID: id}, Name: "comet k" + fmt.Sprint(i), Article: "comet"})
			w := &Wire{Base: Base{ID: id}, Placed: id, Driver: "old", Output: o}
			if o == 8 {
				w.Circuit = "pair"
			}
			d.Put("", w)
		}
		return nil
	})
	require.NoError(t, err)
	return s
}

func movesText(p *BankSwap) (text string) {
	for _, m := range p.Moves {
		text += fmt.Sprintf("%d→%d ", m.From, m.To)
	}
	for _, m := range p.Homeless {
		text += fmt.Sprintf("%d→none ", m.From)
	}
	return text
}

// Outputs keep their number where they can; with fewer outputs the others move
// up and the last find no place; of another kind none finds one.
func TestBankSwap(t *testing.T) {
	s := swapShow(t)
	for bank, want := range map[ID]string{
		"eight": "1→1 3→3 6→6 7→7 8→8 ",
		"four":  "1→1 3→3 6→2 7→4 8→none ",
		"b2":    "1→2 3→3 6→6 7→7 8→8 ", // output 1 of b2 is taken
		"rel":   "1→none 3→none 6→none 7→none 8→none ",
	} {
		p, err := s.ProposeBankSwap("old", bank)
		require.NoError(t, err)
		require.Equal(t, want, movesText(p), bank)
	}
	p, err := s.ProposeBankSwap("old", "rel")
	require.NoError(t, err)
	require.Equal(t, "Relays has relay outputs, and comet k0 (comet) needs igniter", p.Homeless[0].Why)
}

// Lead and current differences are said.
func TestBankSwapWarnings(t *testing.T) {
	s := swapShow(t)
	p, err := s.ProposeBankSwap("old", "eight")
	require.NoError(t, err)
	require.Empty(t, p.Warnings)
	s, err = s.Edit(set("wire", "", "k0", "circuit", "pair"))
	require.NoError(t, err)
	p, err = s.ProposeBankSwap("old", "four")
	require.NoError(t, err)
	require.Equal(t, []string{
		"lead: latency 0.0050 s becomes 0.0080 s, so that every command on it goes out 0.0030 s earlier",
		"output 1, circuit pair: current through each igniter was 3.48 A and becomes 1.74 A", // 24 and 12 V over 6.9 ohm
		"output 1, circuit pair: 1.74 A through each igniter is less than the 2 A each needs",
	}, p.Warnings)
}

// No swap touches a cue, and no wire is lost: whatever the banks, every wire is
// on its new output or still on the old one, and outputs stay apart.
func TestBankSwapTouchesNoCue(t *testing.T) {
	base := swapShow(t)
	rapid.Check(t, func(r *rapid.T) {
		from := rapid.SampledFrom([]ID{"old", "b1", "b2"}).Draw(r, "from")
		to := rapid.SampledFrom([]ID{"four", "eight", "rel", "b2"}).Draw(r, "to")
		p, err := base.ProposeBankSwap(from, to)
		if from == to {
			require.Error(r, err)
			return
		}
		require.NoError(r, err)
		next, err := base.Edit(p.Edit())
		require.NoError(r, err)
		for i, g := range base.Songs {
			require.Same(r, g, next.Songs[i]) // not even copied
		}
		for _, c := range Diff(base, next) {
			require.Contains(r, []string{"wire", "bank"}, c.Ref.Kind)
		}
		require.Len(r, next.Rig.Wires, len(base.Rig.Wires))
		together := map[OutputRef]OutputRef{} // new output to the old one it came from
		for i, w := range next.Rig.Wires {
			was := base.Rig.Wires[i]
			now, before := OutputRef{w.Driver, w.Output}, OutputRef{was.Driver, was.Output}
			if other, ok := together[now]; ok {
				require.Equal(r, other, before)
			}
			together[now] = before
		}
		require.True(r, next.Rig.Bank(from).Dead)
	})
}

func TestBankSwapRefuses(t *testing.T) {
	s, err := swapShow(t).Edit(set("bank", "", "eight", "dead", "true"))
	require.NoError(t, err)
	for _, c := range []struct {
		from, to ID
		want     string
	}{
		{"gone", "four", `bank id: "gone": names no bank`}, {"old", "gone", `add it first`}, {"old", "old", `name another one`}, {"old", "eight", `Eight is out of service itself`},
	} {
		_, err := s.ProposeBankSwap(c.from, c.to)
		require.ErrorContains(t, err, c.want)
	}
}
