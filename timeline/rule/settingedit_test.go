package rule

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

func TestSettingEdits(t *testing.T) {
	s := stage(t)
	s, err := s.Edit(Tune(Tuning{Rule: "longest-gap", Numbers: []string{"most=40"}, Severity: new("warning"), Reason: new("ballads")}))
	require.NoError(t, err)
	set := s.Setting("longest-gap")
	require.Equal(t, []string{"most=40"}, set.Values)
	require.Equal(t, "warning", set.Severity)
	require.Equal(t, "ballads", set.Reason)

	again, err := s.Edit(Tune(Tuning{Rule: "longest-gap", Numbers: []string{"most=50"}, Scope: &[]string{"song=a"}}))
	require.NoError(t, err)
	require.Equal(t, []string{"most=50"}, again.Setting("longest-gap").Values)
	require.Equal(t, []string{"most=40"}, set.Values, "the old snapshot keeps it")

	none, err := s.Edit(Tune(Tuning{Rule: "longest-gap", Numbers: []string{"most="}, Severity: new("")}))
	require.NoError(t, err)
	require.Nil(t, none.Setting("longest-gap"), "a setting that sets nothing goes")

	off, err := stage(t).Edit(Tune(Tuning{Rule: "recovery", Off: true, Reason: new("measured by hand")}))
	require.NoError(t, err)
	require.True(t, off.Setting("recovery").Off)
	on, err := off.Edit(Tune(Tuning{Rule: "recovery", On: true}))
	require.NoError(t, err)
	require.Nil(t, on.Setting("recovery"))

	for want, edit := range map[string]timeline.Edit{
		`there is no rule "gravity"`:                           Tune(Tuning{Rule: "gravity", Numbers: []string{"g=9.81"}}),
		`longest-gap has no setting "hours"; its settings are`: Tune(Tuning{Rule: "longest-gap", Numbers: []string{"hours=1"}}),
		`longest-gap most: "soon"`:                             Tune(Tuning{Rule: "longest-gap", Numbers: []string{"most=soon"}}),
		`it stands in article recovery`:                        Tune(Tuning{Rule: "recovery", Numbers: []string{"recovery=2"}}),
		`recovery reason: "": is empty`:                        Tune(Tuning{Rule: "recovery", Off: true, Reason: new(" ")}),
		`must be error, warning or note`:                       Tune(Tuning{Rule: "recovery", Severity: new("grave")}),
		`scope "here" must be written song=`:                   Tune(Tuning{Rule: "recovery", Scope: &[]string{"here"}}),
	} {
		next, err := s.Edit(edit)
		require.ErrorContains(t, err, want)
		require.Nil(t, next)
	}
}

// All that is given at once is kept: a rule that is left out keeps the scope
// given with that, and one taken in again what else the show says of it.
func TestTuningAtOnce(t *testing.T) {
	off, err := stage(t).Edit(Tune(Tuning{Rule: "recovery", Off: true, Scope: &[]string{"song=a"}, Reason: new("measured by hand")}))
	require.NoError(t, err)
	require.Equal(t, []string{"song=a"}, off.Setting("recovery").Scope)
	on, err := off.Edit(Tune(Tuning{Rule: "recovery", On: true, Severity: new("note")}))
	require.NoError(t, err)
	require.Equal(t, timeline.Setting{Base: timeline.Base{ID: "recovery"}, Severity: "note", Scope: []string{"song=a"}}, *on.Setting("recovery"))
}
