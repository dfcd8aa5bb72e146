package timeline

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func drivesOf(s *Show, night *Night, placed ID) string {
	var list []string
	for _, d := range Compile(s, night).Units.Of(placed).Drives {
		text := d.Label(EffectSlot)
		if d.Dead {
			text += " dead"
		}
		list = append(list, text)
	}
	return strings.Join(list, ", ")
}

// A night plugs effects elsewhere; the tour, and other nights, keep the wiring.
func TestPlugTonight(t *testing.T) {
	s, err := withNight(t).Edit(PlugTonight("n1", RigChange{Kind: "placed", ID: "c1", Driver: "b2", Output: 9, Why: "damp"}), PlugTonight("n1", RigChange{Kind: "wire", ID: "w1", Driver: "b1", Output: 7}))
	require.NoError(t, err)
	n := s.Night("n1")
	require.Equal(t, `placed=c1 unit=b2 output=9 why=damp; wire=w1 unit=b1 output=7`, KindOf("night").Field("rig-changes").Get(n).String())
	require.Equal(t, []string{"bank 2 output 9", "bank 1 output 7", "bank 2 output 1", "bank 1 output 1"},
		[]string{drivesOf(s, n, "c1"), drivesOf(s, n, "j1"), drivesOf(s, nil, "c1"), drivesOf(s, nil, "j1")})

	again, err := s.Edit(PlugTonight("n1", RigChange{Kind: "placed", ID: "c1", Driver: "b2", Output: 3}))
	require.NoError(t, err)
	require.Equal(t, "bank 2 output 3", drivesOf(again, again.Night("n1"), "c1"))

	// A flame that is played by a jet tonight needs a relay, which it does not on tour.
	jet := RigChange{Kind: "placed", ID: "f1", Driver: "b1", Output: 5}
	_, err = s.Edit(PlugTonight("n1", jet))
	require.ErrorContains(t, err, `"bank 1": has relay outputs, and flame 1 (flame) needs slots`)
	swapped, err := s.Edit(SwapTonight("n1", Swap{choice("family", "propane-flame"), "jet", "banned"}), PlugTonight("n1", jet))
	require.NoError(t, err)
	require.Equal(t, "bank 1 output 5", drivesOf(swapped, swapped.Night("n1"), "f1"))

	for want, c := range map[string]RigChange{
		`"z": names no placed effect`: {Kind: "placed", ID: "z", Driver: "b2", Output: 1}, `"z": names no wire`: {Kind: "wire", ID: "z", Driver: "b2", Output: 1},
		`"z": names no bank or device`: {Kind: "placed", ID: "c1", Driver: "z", Output: 1}, `is past the last output; bank 2 has 1 to 16`: {Kind: "placed", ID: "c1", Driver: "b2", Output: 17},
		`is plugged in where?`: {Kind: "placed", ID: "c1", Driver: "b2"}, `only placed= and wire= are plugged in`: {Kind: "bank", ID: "b1", Driver: "b2", Output: 1},
		`is out and plugged in`: {Kind: "placed", ID: "c1", Out: true, Driver: "b2", Output: 1}, `changes nothing`: {Kind: "placed", ID: "c1"},
	} {
		_, err := s.Edit(PlugTonight("n1", c))
		require.ErrorContains(t, err, want)
	}
}

// A bank that dies on a night is replaced on that night alone, and no cue is
// touched; what is plugged there for the night moves with the rest.
func TestBankSwapTonight(t *testing.T) {
	base, err := swapShow(t).Edit(AddNight(Night{Base: Base{ID: "n1"}, Name: "first", Set: "main"}), PlugTonight("n1", RigChange{Kind: "placed", ID: "c2", Driver: "old", Output: 2}))
	require.NoError(t, err)
	tour := Compile(base, nil).Text()
	p, err := base.Tonight(base.Night("n1")).ProposeBankSwap("old", "eight")
	require.NoError(t, err)
	require.Empty(t, p.Homeless)
	s, err := base.Edit(p.EditTonight("n1", "dead at sound-check"))
	require.NoError(t, err)
	require.Equal(t, tour, Compile(s, nil).Text())
	for _, c := range Diff(base, s) {
		require.Equal(t, Ref{Kind: "night", ID: "n1"}, c.Ref)
	}
	n := s.Night("n1")
	require.Equal(t, []string{"Eight output 1", "Eight output 3", "Eight output 2", "Old output 1"},
		[]string{drivesOf(s, n, "k0"), drivesOf(s, n, "k1"), drivesOf(s, n, "c2"), drivesOf(s, nil, "k0")})
	for _, u := range Compile(s, n).Units.All {
		for _, d := range u.Drives {
			require.False(t, d.Dead, u.Placed.Name)
		}
	}

	few, err := base.Tonight(base.Night("n1")).ProposeBankSwap("old", "four")
	require.NoError(t, err)
	require.NotEmpty(t, few.Homeless)
	s, err = base.Edit(few.EditTonight("n1", "dead"))
	require.NoError(t, err)
	require.Contains(t, drivesOf(s, s.Night("n1"), few.Homeless[0].Wires[0].Placed), "dead", "what finds no place stays where the rules find it")
}
