package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A walk of edits of hand cues, refills and what is entered after shows: the
// show before each stays as it was, a refused edit leaves nothing behind, the
// difference leads exactly there and back, stock adds up at every step, and no
// step makes or moves a command.
func TestHandRefillAndAfterWalkIsExact(t *testing.T) {
	base := touring(t)
	rapid.Check(t, func(r *rapid.T) {
		s := base
		for step := range rapid.IntRange(1, 12).Draw(r, "steps") {
			before, print := s, fingerprint(s)
			edit := lifeEdit(r, s, step)
			if edit == nil {
				continue
			}
			next, err := s.Edit(edit)
			require.Equal(r, print, fingerprint(before))
			if err != nil {
				require.Nil(r, next)
				continue
			}
			legal(r, next)
			cs := Diff(before, next)
			there, err := Apply(before, cs)
			require.NoError(r, err)
			require.Equal(r, fingerprint(next), fingerprint(there))
			back, err := Apply(next, cs.Invert())
			require.NoError(r, err)
			require.Equal(r, print, fingerprint(back))
			addsUp(r, next)
			require.Equal(r, Compile(before, nil).Text(), Compile(next, nil).Text())
			s = next
		}
	})
}

// lifeEdit draws one edit; nil where what was drawn is refused beforehand.
func lifeEdit(r *rapid.T, s *Show, step int) Edit {
	night := rapid.SampledFrom([]ID{"n1", "n2", "n3"}).Draw(r, "night")
	p := Compile(s, s.Night(night))
	switch rapid.SampledFrom([]string{"key", "unkey", "refill", "after", "propose"}).Draw(r, "edit") {
	case "key":
		h := &HandCue{Base: Base{ID: ID([]string{"h1", "h2", "h3"}[step%3])}, Key: rapid.IntRange(0, 9).Draw(r, "key"), Presses: rapid.IntRange(1, 3).Draw(r, "presses"),
			Targets: []ID{rapid.SampledFrom([]ID{"jets", "c1", "f1", "gone"}).Draw(r, "target")}, Song: rapid.SampledFrom([]ID{"", "ember", "gone"}).Draw(r, "song")}
		return func(d *Draft) error { d.Put("", h); return nil }
	case "unkey":
		return func(d *Draft) error { return d.Remove(Ref{Kind: "handcue", ID: "h1"}) }
	case "refill":
		f := Refill{Supply: rapid.SampledFrom([]ID{"cyl", "gone"}).Draw(r, "supply"), After: rapid.SampledFrom([]ID{"ember", "tide", "gone"}).Draw(r, "after"), Minutes: float64(rapid.IntRange(0, 9).Draw(r, "minutes"))}
		if rapid.Bool().Draw(r, "tour") {
			p = Compile(s, nil)
		}
		return p.PlanRefill(f)
	case "propose":
		f, ok := p.ProposeRefill(s.Rig.Supply("cyl"), 1)
		if !ok {
			return nil
		}
		return p.PlanRefill(f)
	}
	edit, err := p.AfterShow(drawEntry(r))
	if err != nil {
		return nil
	}
	return edit
}

// The levels with refills and keys against adding up draw by draw: in each
// stretch between refills what is left is what was put in, less every press and
// every command before.
func TestSupplyRunEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		songs := rapid.IntRange(1, 4).Draw(r, "songs")
		hits := make([]int, songs)
		var entries []Entry
		for i := range songs {
			hits[i] = rapid.IntRange(0, 3).Draw(r, "hits")
			entries = append(entries, Entry{Song: ID("s" + string(rune('1'+i)))})
		}
		s := drawing(r, 1, 5, 0.2, entries, hits...).Show
		refilled := map[int]float64{}
		byHand := make([]int, songs)
		anyTime := rapid.IntRange(0, 2).Draw(r, "any")
		s, err := s.Edit(func(d *Draft) error {
			set := *d.Show().Set("main")
			for i := range songs {
				if rapid.IntRange(0, 2).Draw(r, "refill") == 0 {
					kg := float64(rapid.IntRange(1, 5).Draw(r, "kg"))
					refilled[i] = kg
					set.Refills = append(set.Refills, Refill{Supply: "cyl", After: entries[i].Song, Kg: kg})
				}
				if n := rapid.IntRange(0, 2).Draw(r, "presses"); n > 0 {
					byHand[i] = n
					d.Put("", &HandCue{Base: Base{ID: "h-" + entries[i].Song}, Targets: []ID{"j1"}, Presses: n, Song: entries[i].Song})
				}
			}
			if anyTime > 0 {
				d.Put("", &HandCue{Base: Base{ID: "any"}, Targets: []ID{"j2"}, Presses: anyTime})
			}
			d.Put("", &set)
			return nil
		})
		require.NoError(r, err)
		sp := Compile(s, nil).Supplies()[0]
		left, at, used := 5.0-float64(anyTime), 0, anyTime
		for i := range songs {
			left -= float64(byHand[i])
			used += byHand[i] + hits[i]
			for range hits[i] {
				left--
				require.Equal(r, i, sp.Levels[at].Song)
				require.InDelta(r, left, sp.Levels[at].LeftKg, 1e-9)
				at++
			}
			if kg, ok := refilled[i]; ok {
				left = kg - float64(anyTime)
			}
		}
		require.Len(r, sp.Levels, at)
		require.InDelta(r, float64(used), sp.Used, 1e-9)
		_, end := sp.Run().End()
		require.InDelta(r, left, float64(end)/1e6, 1e-9)
	})
}
