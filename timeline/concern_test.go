package timeline

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestConcerned(t *testing.T) {
	s, err := withNight(t).Edit(AddVenue(NewVenue("hall", "Hall")), AddSet(Set{Base: Base{ID: "short"}, Name: "short", Entries: []Entry{{Song: "tide"}}}),
		AddNight(Night{Base: Base{ID: "n2"}, Name: "second", Set: "short", Venue: "hall"}))
	require.NoError(t, err)
	for _, c := range []struct {
		name string
		edit Edit
		want string
	}{
		{"a night", CutTonight("n2", Cut{choice("family", "comet"), ""}), "n2"},
		{"nothing changes", MoveInSet("short", "tide", 1), ""},
		{"its set's gap", GapAfter("short", "tide", Second, nil), "n2"},
		{"the tour's set", GapAfter("main", "tide", Second, nil), "tour n1"},
		{"a set nobody plays", func(d *Draft) error { d.Put("", &Set{Base: Base{ID: "z"}, Name: "z"}); return nil }, "set:z"},
		{"a venue", set("venue", "", "hall", "trim", "9"), "n2"},
		{"the show", set("show", "", "show1", "pre-roll", "4"), "tour n1 n2"},
		{"another main set", set("show", "", "show1", "main-set", "short"), "tour n1 n2"},
		{"a night that takes another set", set("night", "", "n1", "set", "short"), "n1"},
		{"a cue", set("cue", "ember", "q1", "at", "4.1"), "tour"},
		{"a night that goes", func(d *Draft) error { return d.Remove(Ref{Kind: "night", ID: "n1"}) }, ""},
		{"a rule", func(d *Draft) error { d.Put("", &Setting{Base: Base{ID: "roof"}, Off: true}); return nil }, "tour n1 n2"},
	} {
		next, err := s.Edit(c.edit)
		require.NoError(t, err, c.name)
		var got []string
		for _, x := range Concerned(s, next, Diff(s, next)) {
			switch {
			case x.Is == nil:
				got = append(got, "tour")
			case x.Is.ID == "":
				got = append(got, "set:"+string(x.Is.Set))
			default:
				got = append(got, string(x.Is.ID))
			}
		}
		require.Equal(t, c.want, strings.Join(got, " "), c.name)
	}
	next, err := s.Edit(AddNight(Night{Base: Base{ID: "n3"}, Name: "third", Set: "short", Venue: "hall"}))
	require.NoError(t, err)
	require.Equal(t, []Concern{{&Night{Set: "short"}, next.Night("n3")}}, Concerned(s, next, Diff(s, next)), "a new night beside the bare set")
}
