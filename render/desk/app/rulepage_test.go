package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// openRule opens the page of rules with one of them chosen.
func openRule(t *testing.T, name string) *hand {
	t.Helper()
	h := withExample(t)
	require.True(t, h.a.Use("book-rules"))
	h.checked()
	h.a.tableOf("rules").Choose(name)
	h.step()
	return h
}

// foundBy gives the findings of a rule.
func (h *hand) foundBy(name string) []rule.Finding {
	var list []rule.Finding
	for _, f := range h.a.work.Findings {
		if f.Rule == name {
			list = append(list, f)
		}
	}
	return list
}

// Tuning a rule says first which findings go, and then they are gone.
func TestRuleIsTuned(t *testing.T) {
	h := openRule(t, "recovery")
	before := len(h.foundBy("recovery"))
	require.Positive(t, before)
	require.True(t, h.a.Use("rule-tune"))
	h.give("severity", "note", "reason", "rehearsal only")
	f := h.foreseen()
	h.step()
	require.NoError(t, f.Err)
	require.Len(t, f.Findings.Gone, before)
	require.Len(t, f.Findings.New, before, "each comes again as a note")
	require.Nil(t, h.a.work.Session.Show().Setting("recovery"), "nothing is changed before it is confirmed")
	h.button("Tune")
	h.checked()
	require.Equal(t, "note", h.a.work.Session.Show().Setting("recovery").Severity)
	for _, f := range h.foundBy("recovery") {
		require.Equal(t, rule.Note, f.Severity)
	}
	h.key("Ctrl+Z")
	require.Nil(t, h.a.work.Session.Show().Setting("recovery"))
}

// An impossible number names what would be valid, and cannot be taken.
func TestRuleRefusesNumbers(t *testing.T) {
	h := openRule(t, "lead-spread")
	require.True(t, h.a.Use("rule-tune"))
	h.give("most", "high")
	require.Equal(t, `Most: "high" must be a length of time in seconds, 0 or more`, h.form().why())
	h.give("most", "1.5", "scope", "stage=left")
	require.Contains(t, h.form().why(), `"stage" is none of song, family, placed`)
	h.give("scope", "family=comet", "checked", "false")
	require.Equal(t, "Reason is empty; say why the rule is not checked", h.form().why())
	h.give("checked", "true")
	require.Empty(t, h.form().why())
	h.button("Tune")
	require.Equal(t, timeline.Setting{Base: timeline.Base{ID: "lead-spread"}, Values: []string{"most=1.5"}, Scope: []string{"family=comet"}}, *h.a.work.Session.Show().Setting("lead-spread"))
}

// The way from a rule to its findings, and why there is none.
func TestRuleLeadsToItsFindings(t *testing.T) {
	h := openRule(t, "recovery")
	require.True(t, h.a.Use("rule-findings"))
	require.True(t, h.a.panel.list)
	h = openRule(t, "wind")
	require.Equal(t, "wind finds nothing now", h.a.why(h.a.byID("rule-findings")))
}

// A page that is found by name has the focus as one that is found by its key, so that arrow keys and Enter work there at once.
func TestPageFromThePaletteHasTheFocus(t *testing.T) {
	h := withExample(t)
	h.key("Ctrl+Shift+P")
	h.typed("Checks: Rules")
	h.key("Enter", "Down", "Down", "Down", "Enter")
	require.Equal(t, "rules", h.a.book.at)
	d, ok := h.a.dialog.(*form)
	require.True(t, ok, "Enter tunes the rule at the cursor")
	require.NotEmpty(t, d.title)
}

// The numbers of a sheet are tuned like a rule's, but it has no severity and cannot be switched off.
func TestNumbersOfASheetAreTuned(t *testing.T) {
	h := openRule(t, "manual-go")
	require.True(t, h.a.Use("rule-tune"))
	d := h.a.dialog.(*form)
	for _, name := range []string{"checked", "severity"} {
		require.Contains(t, d.field(name).off(), "a sheet finds nothing", name)
	}
	h.give("call-gap", "3")
	h.step()
	h.button("Tune")
	h.checked()
	require.Equal(t, 3*timeline.Second, rule.CallGap.Time(h.a.work.Session.Show(), nil))
}
