package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A walk of edits of stock, rig and phrases: the show before each stays as it
// was, a refused edit leaves nothing behind, and the difference leads exactly
// there and back.
func TestRigWalkIsExact(t *testing.T) {
	base := swapShow(t)
	rapid.Check(t, func(r *rapid.T) {
		s, newID := base, ids("n")
		for range rapid.IntRange(1, 12).Draw(r, "steps") {
			before, copied := s, Compile(s, nil)
			edit := rigEdit(r, s, newID)
			if edit == nil {
				continue
			}
			next, err := s.Edit(edit)
			if err != nil {
				require.Nil(r, next)
				continue
			}
			require.Equal(r, copied.Songs[0].Commands, Compile(before, nil).Songs[0].Commands)
			cs := Diff(before, next)
			there, err := Apply(before, cs)
			require.NoError(r, err)
			require.Empty(r, Diff(there, next))
			back, err := Apply(next, cs.Invert())
			require.NoError(r, err)
			require.Empty(r, Diff(back, before))
			s = next
		}
	})
}

// rigEdit draws one edit; nil where a proposal was refused.
func rigEdit(r *rapid.T, s *Show, newID func() ID) Edit {
	one := func(k string) ID {
		list := KindOf(k).List(s, "")
		return list[rapid.IntRange(0, len(list)-1).Draw(r, k)].RecordID()
	}
	switch rapid.SampledFrom([]string{"devices", "move", "banks", "wire", "swap", "phrase", "lead"}).Draw(r, "edit") {
	case "devices":
		return AddDevices(DeviceRun{Type: "bar", Count: rapid.IntRange(1, 90).Draw(r, "count"), Name: "bar"}, newID)
	case "move":
		return MoveDevices([]ID{one("device")}, []Patch{{1, rapid.IntRange(1, 513).Draw(r, "slot")}})
	case "banks":
		return AddBanks(BankRun{Type: one("banktype"), Count: rapid.IntRange(0, 3).Draw(r, "count"), Name: "bank"}, newID)
	case "wire":
		p, err := s.ProposeWires(WireRun{Placed: []ID{one("placed")}, Units: []ID{one("bank")}, Rewire: true})
		if err != nil {
			return nil
		}
		return p.Edit(newID)
	case "swap":
		p, err := s.ProposeBankSwap(one("bank"), one("bank"))
		if err != nil {
			return nil
		}
		return p.Edit()
	case "phrase":
		return PutPhrase("ember", &Phrase{Base: Base{ID: "p"}, Lane: "ljet", Group: "jets", Shape: rapid.SampledFrom(Shapes()).Draw(r, "shape"), At: bar(rapid.IntRange(5, 9).Draw(r, "at")),
			Until: bar(rapid.IntRange(5, 12).Draw(r, "until")), Every: Stride{Beats: rapid.SampledFrom(commonDivisions).Draw(r, "every")}}, newID)
	}
	return KeepLead(one("article"), Measurement{Frames: []int{rapid.IntRange(0, 9).Draw(r, "frames")}, PerSec: 50})
}
