package rule

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

func TestSettingEdits(t *testing.T) {
	s := stage(t)
	s, err := s.Edit(SetNumber("longest-gap", "most", "40"), SetSeverity("longest-gap", Warning), GiveReason("longest-gap", "ballads"))
	require.NoError(t, err)
	set := s.Setting("longest-gap")
	require.Equal(t, []string{"most=40"}, set.Values)
	require.Equal(t, "warning", set.Severity)
	require.Equal(t, "ballads", set.Reason)

	again, err := s.Edit(SetNumber("longest-gap", "most", "50"), LimitTo("longest-gap", "song=a"))
	require.NoError(t, err)
	require.Equal(t, []string{"most=50"}, again.Setting("longest-gap").Values)
	require.Equal(t, []string{"most=40"}, set.Values, "the old snapshot keeps it")

	none, err := s.Edit(SetNumber("longest-gap", "most", ""), SetSeverity("longest-gap", ""))
	require.NoError(t, err)
	require.Nil(t, none.Setting("longest-gap"), "a setting that sets nothing goes")

	off, err := stage(t).Edit(Switch("recovery", false, "measured by hand"))
	require.NoError(t, err)
	require.True(t, off.Setting("recovery").Off)
	on, err := off.Edit(Switch("recovery", true, ""))
	require.NoError(t, err)
	require.Nil(t, on.Setting("recovery"))

	for want, edit := range map[string]timeline.Edit{
		`there is no rule "gravity"`:                           SetNumber("gravity", "g", "9.81"),
		`longest-gap has no setting "hours"; its settings are`: SetNumber("longest-gap", "hours", "1"),
		`longest-gap most: "soon"`:                             SetNumber("longest-gap", "most", "soon"),
		`it stands in article recovery`:                        SetNumber("recovery", "recovery", "2"),
		`recovery reason: "": is empty`:                        Switch("recovery", false, " "),
		`must be error, warning or note`:                       SetSeverity("recovery", "grave"),
		`scope "here" must be written song=`:                   LimitTo("recovery", "here"),
	} {
		next, err := s.Edit(edit)
		require.ErrorContains(t, err, want)
		require.Nil(t, next)
	}
}
