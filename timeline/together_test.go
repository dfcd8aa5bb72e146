package timeline

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// pairs puts effects on shared outputs: two jets on one relay output, two
// comets on one igniter output.
func pairs(t testing.TB) *Show {
	d := NewDraft(small(t))
	d.Put("", &Placed{Base: Base{ID: "j9"}, Name: "jet 9", Article: "jet"}, &Placed{Base: Base{ID: "c9"}, Name: "comet 9", Article: "comet"})
	for _, w := range []Wire{*wireOf(d.Show(), "j1"), *wireOf(d.Show(), "c1")} {
		w.ID, w.Placed, w.Together = w.ID+"9", w.Placed[:1]+"9", true
		d.Put("", &w)
	}
	return d.Show()
}

func wireOf(s *Show, placed ID) *Wire {
	for _, w := range s.Rig.Wires {
		if w.Placed == placed {
			return w
		}
	}
	return nil
}

// A command comes with those of all that hangs on its outputs, at its time, and
// no command comes twice.
func TestACommandCarriesWhatSharesItsOutput(t *testing.T) {
	s := pairs(t)
	p := Compile(s, nil)
	require.Len(t, p.Units.Shared, 2)
	carried := 0
	for i := range p.Songs {
		for _, c := range p.Songs[i].Commands {
			if c.With == nil {
				continue
			}
			carried++
			require.Equal(t, strings.TrimSuffix(string(c.Unit.Placed.ID), "9"), string(c.With.Placed.ID[:1]))
			require.Equal(t, 1, len(c.Drives()))
			require.Equal(t, c.Hit-c.Lead, c.At)
		}
	}
	require.Positive(t, carried)
	plain := Compile(small(t), nil)
	require.Equal(t, plain.OnSite().Commands+carried, p.OnSite().Commands)
	require.Equal(t, plain.OnSite().Pieces+1, p.OnSite().Pieces)
	require.Equal(t, plain.OnSite().Unused, p.OnSite().Unused, "the second comet is not left over: the first one's cue fires it")
	require.Len(t, p.Songs[0].Hits(), len(plain.Songs[0].Hits()), "a hit is a cue's, however much opens")
}

// What is out of the night's rig does not open; a cut of its own cues keeps
// nothing shut.
func TestWhatOpensTonight(t *testing.T) {
	s := pairs(t)
	carried := func(n Night) (list []ID) {
		n.ID, n.Slug = "n", "n"
		d := NewDraft(s)
		d.Put("", &n)
		for _, ps := range Compile(d.Show(), d.Show().Night("n")).Songs {
			for _, c := range ps.Commands {
				if c.With != nil {
					list = append(list, c.Unit.Placed.ID)
				}
			}
		}
		return list
	}
	require.Contains(t, carried(Night{}), ID("c9"))
	require.NotContains(t, carried(Night{Rig: []RigChange{{Kind: "placed", ID: "c9", Out: true}}}), ID("c9"))
	require.NotContains(t, carried(Night{Rig: []RigChange{{Kind: "bank", ID: wireOf(s, "c9").Driver, Out: true}}}), ID("c9"))
	require.Contains(t, carried(Night{Cuts: []Cut{{Selector{"placed", "c9"}, ""}}}), ID("c9"))
	require.NotContains(t, carried(Night{Cuts: []Cut{{Selector{"placed", "c1"}, ""}}}), ID("c9"))
}

// A key of the operator's plan opens what hangs on its outputs, too.
func TestAKeyCarriesWhatSharesItsOutput(t *testing.T) {
	d := NewDraft(pairs(t))
	d.Put("", &HandCue{Base: Base{ID: "h"}, Key: 1, Presses: 1, Targets: []ID{"c1"}})
	k := Compile(d.Show(), nil).Keys[0]
	require.Len(t, k.Uses, 2)
	require.Equal(t, ID("c9"), k.Uses[1].Unit.Placed.ID)
	require.Equal(t, ID("c1"), k.Uses[1].With.Placed.ID)
}

// Devices that listen at one address open together, as do heads that one slot
// serves.
func TestSlotsOfOneAddressOpenTogether(t *testing.T) {
	typ := &DeviceType{Base: Base{ID: "one"}, Slots: []Slot{{Block: 1, Number: 1, Role: EffectSlot, From: 255, To: 255}}}
	rig := func(second Patch, space string) *Units {
		d := NewDraft(small(t))
		d.Put("", typ, &Device{Base: Base{ID: "v1"}, Type: "one", Starts: []Patch{{2, 10}}}, &Device{Base: Base{ID: "v2"}, Type: "one", Starts: []Patch{second}, Space: space},
			&Placed{Base: Base{ID: "x1"}, Article: "jet"}, &Placed{Base: Base{ID: "x2"}, Article: "jet"},
			&Wire{Base: Base{ID: "wx1"}, Placed: "x1", Driver: "v1", Output: 1}, &Wire{Base: Base{ID: "wx2"}, Placed: "x2", Driver: "v2", Output: 1})
		return Compile(d.Show(), nil).Units
	}
	u := rig(Patch{2, 10}, "")
	require.Equal(t, []*Unit{u.Of("x2")}, u.Of("x1").With)
	require.Empty(t, u.Shared, "two devices of one address are for the rules of the patch")
	require.Empty(t, rig(Patch{2, 11}, "").Of("x1").With)
	require.Empty(t, rig(Patch{2, 10}, "other").Of("x1").With)
}

// For random wirings and cues, on banks of which two have one address: a unit is
// commanded at an instant exactly where a cue opens one of its live outputs, each
// instant once, and for as long as the
// longest cue that opens it.
func TestWhatOpensEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := NewDraft(NewShow("s", "s", Rate25))
		jet := &Article{Base: Base{ID: "jet"}, Family: CO2Jet, Control: RelayControl, Open: Second}
		d.Put("", jet, &BankType{Base: Base{ID: "relay"}, Kind: RelayBank, Outputs: 4}, &Bank{Base: Base{ID: "b"}, Type: "relay", Address: 3}, &Bank{Base: Base{ID: "twin"}, Type: "relay", Address: 3}, &Bank{Base: Base{ID: "dead"}, Type: "relay", Address: 3, Dead: true},
			&SongHead{Base: Base{ID: "g"}, Slug: "g", Length: Minute}, &Set{Base: Base{ID: "main"}, Entries: []Entry{{Song: "g"}}})
		units := rapid.IntRange(1, 5).Draw(rt, "units")
		outputs := map[int]map[OutputRef]bool{} // live ones
		for i := range units {
			id := ID(fmt.Sprintf("u%d", i))
			d.Put("", &Placed{Base: Base{ID: id}, Article: "jet"})
			d.Put("g", &Lane{Base: Base{ID: id}, Target: id, Role: EffectSlot})
			outputs[i] = map[OutputRef]bool{}
			for k := range rapid.IntRange(0, 2).Draw(rt, "wires") {
				bank, o := rapid.SampledFrom([]ID{"b", "b", "twin", "dead"}).Draw(rt, "bank"), rapid.IntRange(1, 3).Draw(rt, "output")
				d.Put("", &Wire{Base: Base{ID: ID(fmt.Sprintf("w%d-%d", i, k))}, Placed: id, Driver: bank, Output: o})
				if bank != "dead" {
					outputs[i][OutputRef{"b", o}] = true // two banks of one address hear the same commands
				}
			}
		}
		type instant struct {
			unit int
			at   Time
		}
		want := map[instant]Time{}
		for n := range rapid.IntRange(0, 6).Draw(rt, "cues") {
			u, at, open := rapid.IntRange(0, units-1).Draw(rt, "unit"), Time(rapid.IntRange(1, 4).Draw(rt, "at"))*Second, Time(rapid.IntRange(1, 2).Draw(rt, "open"))*Second
			d.Put("g", &Cue{Base: Base{ID: ID(fmt.Sprintf("q%d", n))}, Lane: ID(fmt.Sprintf("u%d", u)), At: AtTime(at), Open: open})
			for other := range units {
				opens := other == u
				for o := range outputs[other] {
					opens = opens || outputs[u][o]
				}
				if opens {
					want[instant{other, at}] = max(want[instant{other, at}], open)
				}
			}
		}
		got := map[instant]Time{}
		for _, c := range Compile(d.Show(), nil).Songs[0].Commands {
			at := instant{c.Unit.Index, c.At}
			if c.With != nil {
				require.Zero(rt, got[at], "what is carried comes once, and not beside a cue of its own")
			}
			got[at] = max(got[at], c.Open)
		}
		require.Equal(rt, want, got)
	})
}
