package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A walk of edits of nights, sets and venues: the show stays legal, every show
// before stays as it was, a refused edit leaves nothing behind, the difference
// leads exactly there and back, the tour's plan is touched by edits of its set
// alone, and no song ever crosses midnight.
func TestNightWalkIsExact(t *testing.T) { rapid.Check(t, nightWalk(t)) }

// FuzzNightWalk is the same walk, driven by the fuzzer.
func FuzzNightWalk(f *testing.F) { f.Fuzz(rapid.MakeFuzz(nightWalk(f))) }

func nightWalk(t testing.TB) func(*rapid.T) {
	base, err := swapShow(t).Edit(AddNight(Night{Base: Base{ID: "n1"}, Name: "first", Set: "main"}), AddNight(Night{Base: Base{ID: "n2"}, Name: "second"}),
		AddSet(Set{Base: Base{ID: "short"}, Name: "short", Entries: []Entry{{Song: "tide"}}}), AddVenue(NewVenue("hall", "Hall")))
	require.NoError(t, err)
	return func(r *rapid.T) {
		shows, prints := []*Show{base}, []string{fingerprint(base)}
		s, newID := base, ids("w")
		for range rapid.IntRange(1, 14).Draw(r, "steps") {
			kind := rapid.SampledFrom([]string{"night", "set", "venue", "song"}).Draw(r, "kind")
			next, err := s.Edit(nightWalkEdit(r, s, kind, newID))
			if err != nil {
				require.Nil(r, next)
				continue
			}
			legal(r, next)
			requireExact(r, s, next)
			if kind == "night" || kind == "venue" {
				require.Equal(r, Compile(s, nil).Text(), Compile(next, nil).Text(), "the tour stays as it is")
				require.Same(r, s.Rig, next.Rig)
				require.Same(r, s.Stock, next.Stock)
			}
			requireOneDay(r, next)
			s = next
			shows, prints = append(shows, s), append(prints, fingerprint(s))
		}
		for i := range shows {
			require.Equal(r, prints[i], fingerprint(shows[i]), "a show before is as it was")
		}
	}
}

// requireExact says that the difference of two shows leads there and back.
func requireExact(t require.TestingT, a, b *Show) {
	cs := Diff(a, b)
	there, err := Apply(a, cs)
	require.NoError(t, err)
	require.Equal(t, fingerprint(b), fingerprint(there))
	back, err := Apply(b, cs.Invert())
	require.NoError(t, err)
	require.Equal(t, fingerprint(a), fingerprint(back))
}

// requireOneDay says that no song claims a frame of another day, on the tour or
// on a night.
func requireOneDay(t require.TestingT, s *Show) {
	for _, n := range append([]*Night{nil}, s.Nights...) {
		c := NewCompiler()
		for _, g := range s.Songs {
			p := c.CompileSong(s, g.ID, n).Songs[0]
			if p.StartErr == nil {
				require.GreaterOrEqual(t, p.First(), int64(0))
				require.LessOrEqual(t, p.Last(), s.Head.Rate.DayFrames())
			}
		}
	}
}

func nightWalkEdit(r *rapid.T, s *Show, kind string, newID func() ID) Edit {
	switch kind {
	case "set":
		return setWalkEdit(r, s, newID)
	case "venue":
		return venueWalkEdit(r)
	case "song":
		field := rapid.SampledFrom([]string{"start", "pre-roll", "length"}).Draw(r, "field")
		text := map[string][]string{"start": {"00:00:03:00", "09:00:00:00", "23:59:40:00"}, "pre-roll": {"0", "5", "40"}, "length": {"10", "60", "86390"}}[field]
		return set("song", "", rapid.SampledFrom([]string{"ember", "tide"}).Draw(r, "song"), field, rapid.SampledFrom(text).Draw(r, "text"))
	}
	return nightlyWalkEdit(r, s, newID)
}

func nightlyWalkEdit(r *rapid.T, s *Show, newID func() ID) Edit {
	pick := func(label string, list ...string) string { return rapid.SampledFrom(list).Draw(r, label) }
	night := ID(pick("night", "n1", "n2", "gone"))
	sel := rapid.SampledFrom([]Selector{choice("family", "comet"), choice("article", "jet"), choice("placed", "k1"), choice("lane", "larm"), choice("cue", "q1"), choice("song", "tide")}).Draw(r, "chosen")
	placed, bank := ID(pick("placed", "j1", "k1", "k4", "f1", "gone")), ID(pick("bank", "old", "four", "eight", "rel", "b1", "gone"))
	switch pick("edit", "new", "cut", "swap", "out", "plug", "wire", "bank", "shift", "start", "fill", "condition", "distance", "accept", "drop", "like") {
	case "new":
		return AddNight(Night{Base: Base{ID: newID()}, Date: pick("date", "", "2031-06-01", "2031-06-31"), Venue: ID(pick("venue", "", "hall", "gone"))})
	case "like":
		if n := s.Night(night); n != nil {
			like := n.Like()
			like.ID, like.Name = newID(), "another"
			return AddNight(like)
		}
	case "cut":
		return CutTonight(night, Cut{sel, pick("why", "", "low roof")})
	case "swap":
		return SwapTonight(night, Swap{sel, ID(pick("to", "jet", "comet", "flame", "gone")), "why"})
	case "out":
		return TakeOutTonight(night, RigChange{Kind: pick("kind", "placed", "bank", "wire"), ID: rapid.SampledFrom([]ID{placed, bank}).Draw(r, "id"), Why: "dead"})
	case "plug":
		return PlugTonight(night, RigChange{Kind: "placed", ID: placed, Driver: bank, Output: rapid.IntRange(0, 20).Draw(r, "output")})
	case "wire":
		return PlugTonight(night, RigChange{Kind: "wire", ID: placed, Driver: bank, Output: rapid.IntRange(1, 9).Draw(r, "output")})
	case "bank":
		if p, err := s.Tonight(s.Night(night)).ProposeBankSwap("old", bank); err == nil && s.Night(night) != nil {
			return p.EditTonight(night, "dead")
		}
	case "shift":
		return ShiftTonight(night, Shift{Song: "ember", By: Time(rapid.Int64Range(-4000, 4000).Draw(r, "by")) * Second / 10})
	case "start":
		return ShiftTonight(night, Shift{Song: "tide", Start: &Timecode{H: uint8(rapid.IntRange(0, 23).Draw(r, "hour")), M: 59, S: 40}})
	case "fill":
		return FillTonight(night, Fill{"cyl", rapid.Float64Range(-1, 20).Draw(r, "kg")})
	case "condition":
		return ConditionTonight(night, pick("text", "", "fire watch", "walk-through"))
	case "distance":
		return DistanceTonight(night, Distance{To: ToAudience, AtLeast: rapid.Float64Range(0, 20).Draw(r, "metres"), Families: []Family{Comet}})
	case "accept":
		return AcceptTonight(night, Acceptance{Rule: "roof", Record: "placed:k1", Values: pick("digest", "", "d1", "d2"), By: pick("by", "", "R. Holm"), Reason: "seen"}, "d1", "d3")
	}
	return DropItem(Ref{Kind: "night", ID: night}, pick("list", "cuts", "swaps", "rig-changes", "shifts", "accepted", "name"), rapid.IntRange(0, 3).Draw(r, "item"))
}

func setWalkEdit(r *rapid.T, s *Show, newID func() ID) Edit {
	id := rapid.SampledFrom([]ID{"main", "short", "gone"}).Draw(r, "set")
	songs := rapid.SliceOfN(rapid.SampledFrom([]ID{"ember", "tide", "gone"}), 1, 3).Draw(r, "songs")
	n := rapid.IntRange(-1, 4).Draw(r, "n")
	return rapid.SampledFrom([]Edit{
		OrderSet(id, songs...), MoveInSet(id, songs[0], n), LeaveOut(id, songs...), BringIn(id, songs...), GapAfter(id, songs[0], Time(n)*Second, nil), EncoreInSet(id, n > 0, songs...),
		AlternativesInSet(id, songs...), NoAlternative(id, songs...), MoveEntry(id, 0, n), EditEntry(id, n, func(e *Entry) { e.Talk = "thanks" }), AddSet(Set{Base: Base{ID: newID()}, Name: "new"}),
	}).Draw(r, "edit")
}

func venueWalkEdit(r *rapid.T) Edit {
	x := rapid.Float64Range(-20, 20).Draw(r, "x")
	mark := PlanMark{Name: "singer", At: Point{x, 2}, Radius: 1, Song: rapid.SampledFrom([]ID{"", "ember", "gone"}).Draw(r, "song")}
	return rapid.SampledFrom([]Edit{
		LineInVenue("hall", PlanLine{"front", Point{-9, x}, Point{9, x}}), PerformerInVenue("hall", mark), ClearInVenue("hall", mark), BanInVenue("hall", "comet"), AllowInVenue("hall", "comet"),
		BanInVenue("hall", "laser"), ConditionInVenue("hall", "fire watch"), DistanceInVenue("hall", Distance{To: ToPersons, AtLeast: x}), AddVenue(NewVenue("hall", "Hall")),
		DropItem(Ref{Kind: "venue", ID: "hall"}, "audience", 1),
	}).Draw(r, "edit")
}
