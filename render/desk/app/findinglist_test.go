package app

import (
	"fmt"
	"image"
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

// The page shows a card for each cause: keys walk and open, H leaves a place out of the fix, the button makes the change for those that are ticked as
// one step, and severities can be hidden.
func TestFindingsAsCards(t *testing.T) {
	h := withRepeats(t)
	h.size = image.Pt(1440, 1000)
	h.a.turn("findings")
	h.step()
	h.step()
	l, b := h.a.listed(), h.a.listed().Board()
	groups := h.a.work.Groups()
	require.Len(t, b.Boxes, len(groups))
	at := slices.IndexFunc(l.Rows, func(r findings.Row) bool {
		return groups[r.Group].Rule == "recovery" && groups[r.Group].Fix != nil && len(groups[r.Group].Found) > 4
	})
	require.GreaterOrEqual(t, at, 0)
	g := groups[l.Rows[at].Group]
	for i := 0; l.Sel.Cursor != at || !l.Sel.Has(at); i++ {
		require.Less(t, i, 60)
		h.key("Down")
	}
	require.Contains(t, h.a.why(h.a.byID("disable")), "choose a line")
	h.key("Right", "Down")
	require.Equal(t, g.Found[0], l.Rows[l.Sel.Cursor].Finding)
	require.Contains(t, textsOf(h.frame.Panels), fmt.Sprintf("takes %d of %d", g.Open(), g.Open()))
	h.key("H")
	require.Contains(t, textsOf(h.frame.Panels), fmt.Sprintf("takes %d of %d", g.Open()-1, g.Open()))
	left := h.a.work.Findings[g.Found[0]].Fix.On
	was := h.a.work.Session.Show()
	h.key("Up")
	require.Equal(t, fmt.Sprintf("move %d cues", g.Open()-1), l.Group().Fix.Label)
	h.key("Ctrl+Shift+F8")
	is := h.a.work.Session.Show()
	require.NotSame(t, was, is)
	changed := timeline.Diff(was, is)
	require.Len(t, changed, g.Open()-1)
	for _, c := range changed {
		require.NotEqual(t, left, c.Ref, "what was left out stays")
	}
	h.key("Ctrl+Z")
	require.Same(t, was, h.a.work.Session.Show(), "one step")
	h.checked()

	errors := 0
	for i := range groups {
		if groups[i].Severity == "error" {
			errors++
		}
	}
	h.button("show-error")
	require.Len(t, b.Boxes, len(groups)-errors)
	h.later()
	h.button("show-error")
	require.Len(t, b.Boxes, len(groups))
	h.later()
	h.button("By rule")
	for i := 1; i < len(l.Rows); i++ {
		require.LessOrEqual(t, groups[l.Rows[i-1].Group].Rule, groups[l.Rows[i].Group].Rule)
	}
	h.later()
	h.tap(middle(b.Boxes[0].Button))
	require.True(t, h.a.panel.visited || h.a.work.Session.Show() != was, "a button goes there or makes the change")
}

// A place that is gone to is the one whose line is used.
func TestLineOfACardLeadsThere(t *testing.T) {
	h := withRepeats(t)
	h.a.turn("findings")
	h.step()
	h.step()
	l := h.a.listed()
	h.key("Right", "Down", "Down", "Enter")
	require.True(t, h.a.panel.visited)
	require.Equal(t, h.a.work.Groups()[0].Found[1], h.a.panel.finding)
	require.NotEmpty(t, l.Rows)
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
