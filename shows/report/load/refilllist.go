package load

import (
	"cmp"
	"fmt"
	"io"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// RefillList is every supply of a plan with its refills, where it must be
// swapped, and the refills that would keep it above its reserve instead.
type RefillList struct {
	Supplies []RefillSupply `json:"supplies"`
}

// RefillSupply is one supply.
type RefillSupply struct {
	SupplyLine
	Proposed []RefillProposal `json:"proposed"`
}

// RefillProposal is a refill in the gap before the song in which a swap would
// be needed.
type RefillProposal struct {
	SongNumber int             `json:"song_number"`
	SongTitle  string          `json:"song_title"`
	Gap        wording.Seconds `json:"gap"` // that the running order gives after it
	Item       string          `json:"item"`
}

// NewRefillList gives the list of a plan.
func NewRefillList(p *timeline.Plan) *RefillList {
	l := &RefillList{Supplies: []RefillSupply{}}
	supplies := SuppliesOf(p)
	for i, s := range p.SwapPoints() {
		line := RefillSupply{SupplyLine: supplies[i], Proposed: []RefillProposal{}}
		for k := range s.Points {
			f, ok := p.ProposeRefill(s.Supply, s.Points[k].Before.Song)
			if !ok {
				continue
			}
			ps := &p.Songs[s.Points[k].Before.Song-1]
			x := RefillProposal{ps.Number, ps.Song.FullTitle(), wording.Seconds(ps.Entry.Gap), f.String()}
			if n := len(line.Proposed); n == 0 || line.Proposed[n-1] != x {
				line.Proposed = append(line.Proposed, x)
			}
		}
		l.Supplies = append(l.Supplies, line)
	}
	return l
}

// WriteText writes the list for people.
func (l *RefillList) WriteText(w io.Writer) error {
	if len(l.Supplies) == 0 {
		_, err := fmt.Fprintln(w, "no supplies in the rig")
		return err
	}
	for i := range l.Supplies {
		s := &l.Supplies[i]
		fmt.Fprintf(w, "%s: %s of %s to draw, the plan takes %s, reserve %s; estimates\n", s.Name, wording.Mass(s.told, s.Usable), cmp.Or(s.Medium, "a medium that is not given"), wording.Mass(s.told, s.Uses), wording.Mass(s.told, s.Reserve))
		s.WriteSwaps(w)
		for _, x := range s.Proposed {
			fmt.Fprintf(w, "  or refill it after song %d %q, where the set leaves %s s: emberbeat refill SHOW %s --after %d --minutes N --by NAME\n", x.SongNumber, x.SongTitle, wording.Short(x.Gap), s.Supply, x.SongNumber)
		}
	}
	return nil
}
