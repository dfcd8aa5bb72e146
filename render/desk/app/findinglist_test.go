package app

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/page/findings"
	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// withRepeats opens the example with a jet asked again far too soon, many times over: one cause, many findings.
func withRepeats(t *testing.T) *hand {
	t.Helper()
	h := withExample(t)
	song := h.a.work.InView()
	var lane *timeline.Lane
	for _, l := range song.Lanes {
		if u, _ := h.a.work.Plan.Units.Target(l.Target); l.Role == timeline.EffectSlot && len(u) > 0 && u[0].Article != nil && u[0].Article.Recovery >= timeline.Second && !u[0].Article.SingleUse {
			lane = l
		}
	}
	require.NotNil(t, lane, "an effect that has to recover")
	var edits []timeline.Edit
	for i := range 8 {
		for k := range 2 {
			at := timeline.Time(i)*12*timeline.Second + timeline.Time(k)*timeline.Second/2 + 4*timeline.Second
			edits = append(edits, func(d *timeline.Draft) error {
				d.Put(song.ID, &timeline.Cue{Base: timeline.Base{ID: timeline.ID("again" + string(rune('a'+2*i+k)))}, Lane: lane.ID, At: timeline.AtTime(at)})
				return nil
			})
		}
	}
	require.True(t, h.a.do(change{"ask again", edits}))
	h.checked()
	return h
}

// The list shows a row for each cause, worst first; opening one shows its findings, and one press solves all of them as one step.
func TestFindingsStandInGroups(t *testing.T) {
	h := withRepeats(t)
	h.key("F7")
	groups := h.a.work.Groups()
	l := h.a.listed()
	require.Len(t, l.Rows, len(groups))
	require.Less(t, len(groups), len(h.a.work.Findings))
	at := slices.IndexFunc(l.Rows, func(r findings.Row) bool { return groups[r.Group].Rule == "recovery" && len(groups[r.Group].Found) > 4 })
	require.GreaterOrEqual(t, at, 0)
	g := groups[l.Rows[at].Group]
	require.NotNil(t, g.Fix)

	// By keys: open it, close it.
	l.Sel.Only(at)
	h.a.ui.Focus("findings")
	h.step()
	require.Contains(t, textsOf(h.frame.Panels), "Fix all: "+g.Fix.Label)
	require.Contains(t, h.a.why(h.a.byID("fix")), "go to a finding first", "a group is none")
	h.key("Right")
	require.Len(t, l.Rows, len(groups)+len(g.Found))
	require.Equal(t, g.Found[0], l.Rows[at+1].Finding)
	h.key("Left")
	require.Len(t, l.Rows, len(groups))

	// What it would do is told before, by the rules, and comes.
	h.until(func() bool { f := h.a.work.Foreseen(); return f != nil && f.Done && f.Key == g.Key() })
	require.NoError(t, h.a.work.Foreseen().Err)
	foretold := h.a.work.Foreseen().Findings
	require.GreaterOrEqual(t, len(foretold.Gone), len(g.Found))
	before := h.a.work.Session.Show()
	h.key("Ctrl+Shift+F8")
	h.checked()
	told := func(list []report.FindingLine) (texts []string) {
		for i := range list {
			texts = append(texts, list[i].Short())
		}
		return texts
	}
	require.Equal(t, told(foretold.Gone), told(h.a.work.Delta.Gone), "what was foretold came")
	require.Equal(t, told(foretold.New), told(h.a.work.Delta.New))
	left := 0
	for _, x := range h.a.work.Groups() {
		if x.Key() == g.Key() {
			left = len(x.Found)
		}
	}
	require.Equal(t, len(g.Found)-len(foretold.Gone)+len(foretold.New), left, "cues that were moved may meet others, and that was told")
	h.key("Ctrl+Z")
	require.True(t, before == h.a.work.Session.Show(), "one step")
}

// A finding that is gone to is seen in the list, in its group.
func TestFindingGoneToIsSeenInItsGroup(t *testing.T) {
	h := withRepeats(t)
	i := slices.IndexFunc(h.a.work.Groups(), func(g report.FindingGroup) bool { return len(g.Found) > 4 })
	at := h.a.work.Groups()[i].Found[3]
	h.a.goFinding(at)
	h.step()
	l := h.a.listed()
	require.Equal(t, at, l.Rows[l.Sel.Cursor].Finding)
	require.True(t, l.Sel.Has(l.Sel.Cursor))
	require.Equal(t, h.a.work.Findings[at].Rule, h.a.chosenFinding().Rule)
}
