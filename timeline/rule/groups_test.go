package rule

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// Every finding stands in one group, with those of its rule that rest on the same record and are solved alike; the gravest and largest is first.
func TestGroupsAreOfOneCause(t *testing.T) {
	found := Check(timeline.Compile(wrongStage(t), nil), Facts{})
	require.Greater(t, len(found), 40)
	groups := Groups(found)
	require.Less(t, len(groups), len(found)/3, "they say less than the list")
	seen := map[int]bool{}
	for n, g := range groups {
		require.True(t, slices.IsSorted(g.Found))
		for _, i := range g.Found {
			require.False(t, seen[i])
			seen[i] = true
			f := &found[i]
			require.Equal(t, g.Rule, f.Rule)
			require.Equal(t, g.Severity, f.Severity)
			require.Equal(t, g.Changes == "", f.Fix == nil)
			if len(f.Grounds) > 0 {
				require.Equal(t, g.Cause, f.Grounds[0].Ref)
			}
		}
		if n > 0 {
			a, b := groups[n-1], g
			require.True(t, a.Severity.rank() < b.Severity.rank() || a.Severity == b.Severity && a.Open() >= b.Open(), "%s before %s", a.Rule, b.Rule)
			require.False(t, a.Rule == b.Rule && a.Cause == b.Cause && a.Changes == b.Changes && a.Severity == b.Severity, "parted for nothing: %s", a.Rule)
		}
	}
	require.Len(t, seen, len(found))
}

// wrongStage is the stage with most of what can be wrong in songs, many times over.
func wrongStage(t *testing.T) *timeline.Show {
	t.Helper()
	var list []timeline.Edit
	for i := range 8 {
		at := timeline.Time(7*i+3) * sec
		for _, song := range []timeline.ID{"a", "b"} {
			list = append(list, cue(song, "j1", at), cue(song, "j1", at+sec), cue(song, "c1", at), cue(song, "f1", at), cue(song, "f2", at+2*sec))
		}
	}
	return stage(t, append(list, cue("a", "arm", 50*sec, 20*sec), cue("b", "fan", 5*sec, 5*sec), cue("b", "j2", 59*sec+sec/2), cue("a", "j2", -12*sec))...)
}

// groupOf gives the one group of a rule.
func groupOf(t *testing.T, found []Finding, name string) *Group {
	t.Helper()
	var of []Group
	for _, g := range Groups(found) {
		if g.Rule == name {
			of = append(of, g)
		}
	}
	require.Len(t, of, 1)
	return &of[0]
}

// One fix solves a group as one change, and leaves out what the night has accepted.
func TestGroupIsFixedAtOnce(t *testing.T) {
	var list []timeline.Edit
	for i := range 5 {
		at := timeline.Time(10*i+3) * sec
		list = append(list, cue("a", "j1", at), cue("a", "j1", at+sec))
	}
	s := stage(t, list...)
	found := Check(timeline.Compile(s, nil), Facts{})
	g := groupOf(t, found, "recovery")
	require.Len(t, g.Found, 5)
	require.Equal(t, timeline.Ref{Kind: "article", ID: "jet"}, g.Cause)
	fix := g.FixAll(found)
	require.Equal(t, "move 5 cues", fix.Label)
	after, err := s.Edit(fix.Edits...)
	require.NoError(t, err)
	require.Empty(t, ofRule("recovery", Check(timeline.Compile(after, nil), Facts{})))

	f := &found[g.Found[2]]
	night := put(&timeline.Night{Base: base{ID: "n"}, Name: "night", Slug: "night", Accepted: []timeline.Acceptance{f.Acceptance("somebody", "it is seen")}})
	s = stage(t, append(list, night)...)
	found = Check(timeline.Compile(s, s.Night("n")), Facts{})
	g = groupOf(t, found, "recovery")
	require.Equal(t, 4, g.Open())
	require.Equal(t, "move 4 cues", g.FixAll(found).Label)
}

// What is looked at one by one is not solved in bulk, whatever its findings offer.
func TestWhatIsRequiredIsNotSolvedInBulk(t *testing.T) {
	for _, name := range unfixed {
		_, known := Lookup(name)
		require.True(t, known, name)
		require.False(t, Fixes(name))
		one := []Finding{{Rule: name, Severity: Error, Fix: fixField("x", timeline.Ref{Kind: "cue", Song: "a", ID: "x"}, "open", "1")}}
		require.Nil(t, Groups(one)[0].FixAll(one))
	}
	require.True(t, Fixes("recovery"))
}

// Fixes that would write one list are not made together: the second would undo the first.
func TestGroupWhoseFixesMeetHasNone(t *testing.T) {
	on := rigRef("night", "n")
	cut := func(label, item string) Finding {
		return Finding{Rule: "banned-here", Severity: Error, Fix: fixList(label, on, "cuts", []string{item})}
	}
	one := []Finding{cut("cut a tonight", "article=a")}
	require.Equal(t, "cut a tonight", Groups(one)[0].FixAll(one).Label)
	two := append(one, cut("cut b tonight", "article=b"))
	require.Len(t, Groups(two), 1)
	require.Nil(t, Groups(two)[0].FixAll(two))

	// One field that both set to the same is written once, one that they set otherwise not at all.
	open := func(text string) Finding {
		return Finding{Rule: "arm-early", Severity: Error, Fix: fixField("open "+text, timeline.Ref{Kind: "cue", Song: "a", ID: "x"}, "open", text)}
	}
	same := []Finding{open("3"), open("3")}
	require.Len(t, Groups(same)[0].FixAll(same).Edits, 1)
	other := []Finding{open("3"), open("4")}
	require.Nil(t, Groups(other)[0].FixAll(other))
	none := []Finding{{Rule: "wind", Severity: Note}, {Rule: "wind", Severity: Note}}
	require.Nil(t, Groups(none)[0].FixAll(none))
}

// required are the fields that a rule asks for: what people, places and things need. No fix writes them; whoever knows better does.
var required = map[string][]string{
	"article": nil, "devicetype": nil, "venue": nil, "ruleset": nil, "circuit": nil, "position": nil, "supply": nil, "banktype": nil,
	"night": {"cuts", "refills"}, "placed": {"article"},
}

// TestFixesLeaveAloneWhatIsRequired makes every fix that is offered for a large show and for the stage with everything wrong with it.
func TestFixesLeaveAloneWhatIsRequired(t *testing.T) {
	shows := []*timeline.Show{bigShow(t, 3, 300, 5), wrongStage(t)}
	made := map[string]bool{}
	for _, s := range shows {
		found := Check(timeline.Compile(s, nil), Facts{})
		for i := range found {
			f := &found[i]
			if f.Fix == nil || made[f.Fix.changes()] {
				continue
			}
			made[f.Fix.changes()] = true
			after, err := s.Edit(f.Fix.Edits...)
			require.NoError(t, err, f.Text)
			for _, c := range timeline.Diff(s, after) {
				may, guarded := required[c.Ref.Kind]
				for _, field := range c.Fields() {
					require.True(t, !guarded || slices.Contains(may, field.Field), "%s: %s writes %s of %s", f.Rule, f.Fix.Label, field.Field, c.Ref)
				}
				require.Equal(t, f.Fix.On, c.Ref, "%s says what it is done to", f.Fix.Label)
			}
		}
	}
	require.Greater(t, len(made), 3)
}
