package timeline

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// fourSongs is a show with a set of songs a to c, of which b is left out, and a
// song d that the set does not hold.
func fourSongs(t testing.TB) *Show {
	t.Helper()
	s, err := NewShow("show1", "x", Rate25).Edit(func(d *Draft) error {
		for i, id := range []ID{"a", "b", "c", "d"} {
			d.Put("", &SongHead{Base: Base{ID: id}, Title: strings.ToUpper(string(id)), Slug: string(id), Length: Minute, Start: Timecode{H: uint8(i + 1)}})
		}
		d.Put("", &Set{Base: Base{ID: "m"}, Name: "main", Entries: []Entry{{Song: "a", Gap: Second}, {Song: "b", Out: true}, {Song: "c", Encore: true}}})
		return nil
	})
	require.NoError(t, err)
	return s
}

func entries(s *Show) string { return KindOf("set").Field("entries").Get(s.Set("m")).String() }

func TestSetEdits(t *testing.T) {
	talk := "thanks"
	for _, c := range []struct {
		name string
		edit Edit
		want string
	}{
		{"order", OrderSet("m", "c", "d"), "c encore; d; a gap=1.0000 out; b out"},
		{"order brings in", OrderSet("m", "b", "a"), "b; a gap=1.0000; c encore out"},
		{"move down", MoveInSet("m", "a", 2), "b out; c encore; a gap=1.0000"},
		{"move up", MoveInSet("m", "c", 1), "c encore; a gap=1.0000; b out"},
		{"move nowhere", MoveInSet("m", "c", 2), "a gap=1.0000; c encore; b out"},
		{"out", LeaveOut("m", "a", "c"), "a gap=1.0000 out; b out; c encore out"},
		{"in", BringIn("m", "b", "d"), "a gap=1.0000; b; c encore; d"},
		{"gap", GapAfter("m", "a", 30*Second, nil), "a gap=30.0000; b out; c encore"},
		{"encore", EncoreInSet("m", true, "a", "b"), "a gap=1.0000 encore; b encore out; c encore"},
		{"no encore", EncoreInSet("m", false, "c"), "a gap=1.0000; b out; c"},
		{"alternatives", AlternativesInSet("m", "a", "c"), "a gap=1.0000 alt=a; b out; c alt=a encore"},
		{"an entry", EditEntry("m", 1, func(e *Entry) { e.Out, e.Talk = false, "x y" }), `a gap=1.0000; b talk="x y"; c encore`},
		{"move an entry", MoveEntry("m", 2, 0), "c encore; a gap=1.0000; b out"},
		{"move an entry down", MoveEntry("m", 0, 2), "b out; c encore; a gap=1.0000"},
		{"talk", GapAfter("m", "c", 0, &talk), "a gap=1.0000; b out; c talk=thanks encore"},
	} {
		next, err := fourSongs(t).Edit(c.edit)
		require.NoError(t, err, c.name)
		require.Equal(t, c.want, entries(next), c.name)
	}
}

func TestSetEditsRefused(t *testing.T) {
	s := fourSongs(t)
	for want, edit := range map[string]Edit{
		`set:x: there is no such record`:                                   LeaveOut("x", "a"),
		`set entries: "A": is named twice`:                                 OrderSet("m", "a", "c", "a"),
		`set entries: "z": names no song of this show`:                     OrderSet("m", "z"),
		`set entries: "D": is not in the set; bring it in first`:           MoveInSet("m", "d", 1),
		`set entries: "B": is left out of the set; bring it in first`:      MoveInSet("m", "b", 1),
		`set entries: "0": is no place in the order; the set plays 1 to 2`: MoveInSet("m", "a", 0),
		`set entries: "3": is no place in the order; the set plays 1 to 2`: MoveInSet("m", "a", 3),
		`set entries: "D": is not in the set, so it cannot be left out`:    LeaveOut("m", "a", "d"),
		`set entries: "D": is not in the set, so there is no gap after it`: GapAfter("m", "d", 0, nil),
		`set entries: "D": is not in the set; bring it in`:                 EncoreInSet("m", true, "d"),
		`set entries: "1": is no choice`:                                   AlternativesInSet("m", "a"),
		`set entries: "4": is no place in the set, which has 3`:            EditEntry("m", 3, func(*Entry) {}),
		`set entries: "0": is no place in the set, which has 3`:            MoveEntry("m", 0, -1),
		`set:m is there already`:                                           AddSet(Set{Base: Base{ID: "m"}, Name: "x"}),
		`set entries: "-1.0000": is no gap; write 0 or more seconds`:       GapAfter("m", "a", -Second, nil),
	} {
		next, err := s.Edit(edit)
		require.ErrorContains(t, err, want)
		require.Nil(t, next)
	}
	require.Equal(t, "a gap=1.0000; b out; c encore", entries(s), "nothing half applied")
}

// An alternative that is left alone is one no more, and a new choice takes a
// word of its own.
func TestAlternatives(t *testing.T) {
	s, err := fourSongs(t).Edit(BringIn("m", "d"), AlternativesInSet("m", "a", "c"), AlternativesInSet("m", "b", "d"))
	require.NoError(t, err)
	require.Equal(t, "a gap=1.0000 alt=a; b alt=b out; c alt=a encore; d alt=b", entries(s))
	taken, err := s.Edit(AlternativesInSet("m", "a", "b"))
	require.NoError(t, err)
	require.Equal(t, "a gap=1.0000 alt=c; b alt=c out; c encore; d", entries(taken))
	none, err := s.Edit(NoAlternative("m", "a"))
	require.NoError(t, err)
	require.Equal(t, "a gap=1.0000; b alt=b out; c encore; d alt=b", entries(none))
}

// A song that is moved to n is played n-th, the others keep their order, and no
// entry is lost; any order can be taken.
func TestSetEditsKeepEntries(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := fourSongs(t)
		for i := range rapid.IntRange(1, 8).Draw(rt, "edits") {
			song := rapid.SampledFrom([]ID{"a", "b", "c", "d"}).Draw(rt, fmt.Sprint("song", i))
			n := rapid.IntRange(1, 4).Draw(rt, "n")
			before := s.Set("m").Order()
			next, err := s.Edit(rapid.SampledFrom([]Edit{MoveInSet("m", song, n), LeaveOut("m", song), BringIn("m", song), OrderSet("m", song)}).Draw(rt, "edit"))
			if err != nil {
				continue
			}
			moved, err := s.Edit(MoveInSet("m", song, n))
			if err == nil {
				after := moved.Set("m").Order()
				require.Equal(rt, song, after[n-1].Song)
				require.Equal(rt, leavingOut(before, song), leavingOut(after, song))
			}
			require.GreaterOrEqual(rt, len(next.Set("m").Entries), len(s.Set("m").Entries))
			s = next
		}
	})
}

func leavingOut(list []Entry, song ID) (rest []Entry) {
	for _, e := range list {
		if e.Song != song {
			rest = append(rest, e)
		}
	}
	return rest
}
