package rule

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

func showSetting(rule string, change func(*timeline.Setting)) timeline.Edit {
	s := &timeline.Setting{Base: base{ID: timeline.ID(rule)}}
	change(s)
	return put(s)
}

func TestSettingsChangeARule(t *testing.T) {
	early := edits(cue("a", "j1", 10*sec), cue("a", "j1", 12*sec), cue("b", "j1", 10*sec), cue("b", "j1", 12*sec))
	check := func(more ...timeline.Edit) []Finding {
		return ofRule("recovery", Check(timeline.Compile(stage(t, append(append([]timeline.Edit{}, early...), more...)...), nil), Facts{}))
	}
	severities := func(list []Finding) (out []Severity) {
		for _, f := range list {
			out = append(out, f.Severity)
		}
		return out
	}
	require.Equal(t, []Severity{Error, Error}, severities(check()))
	require.Empty(t, check(showSetting("recovery", func(s *timeline.Setting) { s.Off = true })))
	require.Equal(t, []Severity{Note, Note}, severities(check(showSetting("recovery", func(s *timeline.Setting) { s.Severity = "note" }))))
	scopes := map[string][]Severity{
		"song=a": {Note, Error}, "song=b": {Error, Note}, "song=x": {Error, Error}, "family=co2-jet": {Note, Note}, "family=report": {Error, Error},
		"placed=j1": {Note, Note}, "placed=j2": {Error, Error},
	}
	for scope, want := range scopes {
		got := check(showSetting("recovery", func(s *timeline.Setting) { s.Severity, s.Scope = "note", []string{scope} }))
		require.Equal(t, want, severities(got), scope)
	}
	both := func(scope ...string) []Severity {
		return severities(check(showSetting("recovery", func(s *timeline.Setting) { s.Severity, s.Scope = "warning", scope })))
	}
	require.Equal(t, []Severity{Warning, Warning}, both("song=a", "song=b"), "songs are alternatives")
	require.Equal(t, []Severity{Warning, Error}, both("song=a", "placed=j1"), "song and unit must both fit")
	require.Equal(t, []Severity{Error, Error}, both("song=a", "placed=j2"))
	require.Len(t, check(showSetting("recovery", func(s *timeline.Setting) { s.Off, s.Scope = true, []string{"song=a"} })), 1)
	require.Len(t, check(showSetting("recovery", func(s *timeline.Setting) { s.Off, s.Scope = true, []string{"planet=mars"} })), 2, "a scope that cannot be read does not widen the setting")
	require.Len(t, check(showSetting("recovery", func(s *timeline.Setting) { s.Values = []string{"extra=x"} })), 2, "nor a value that cannot be read the rule")
}

func TestUnknownSettings(t *testing.T) {
	runCases(t, "unknown-setting", []ruleCase{
		{"none", nil, nil},
		{"one that is understood", edits(showSetting("recovery", func(s *timeline.Setting) {
			s.Values, s.Scope = []string{"extra=0.5"}, []string{"song=a", "family=co2-jet", "placed=j1"}
		})), nil},
		{"no such rule", edits(showSetting("moon-phase", func(*timeline.Setting) {})), []string{`setting:moon-phase: there is no rule "moon-phase"`}},
		{"no such value", edits(showSetting("recovery", func(s *timeline.Setting) { s.Values = []string{"margin=1", "extra=1"} })), []string{`setting:recovery: has no setting "margin": its settings are extra`}},
		{"a value that is a field", edits(showSetting("recovery", func(s *timeline.Setting) { s.Values = []string{"recovery=1"} })), []string{"setting:recovery: it stands in article recovery"}},
		{"no pair", edits(showSetting("recovery", func(s *timeline.Setting) { s.Values = []string{"extra"} })), []string{"setting:recovery: must be written name=value"}},
		{"no time", edits(showSetting("recovery", func(s *timeline.Setting) { s.Values = []string{"extra=soon"} })), []string{"setting:recovery: extra must be a length of time in seconds, 0 or more"}},
		{"a negative time", edits(showSetting("recovery", func(s *timeline.Setting) { s.Values = []string{"extra=-1"} })), []string{"setting:recovery: 0 or more"}},
		{"no number", edits(showSetting("dense", func(s *timeline.Setting) { s.Values = []string{"most=NaN"} })), []string{"setting:dense: most must be a number, 0 or more"}},
		{"a scope of nothing", edits(showSetting("dense", func(s *timeline.Setting) { s.Scope = []string{"song=", "planet=mars"} })), []string{"setting:dense: planet", "setting:dense: song="}},
	})
	require.Empty(t, fixed(t, "unknown-setting", stage(t, showSetting("moon-phase", func(*timeline.Setting) {}), showSetting("recovery", func(s *timeline.Setting) { s.Values = []string{"margin=1", "extra=1"} })), ""))
}

// An acceptance holds for rule, record and numbers; when a number changes, the
// finding is open again and the acceptance is noted as left over.
func TestAcceptance(t *testing.T) {
	s := stage(t, put(&timeline.Night{Base: base{ID: "n"}, Slug: "n"}), cue("a", "j1", 10*sec), cue("a", "j1", 12*sec), cue("a", "j2", 10*sec), cue("a", "j2", 12*sec))
	check := func() []Finding { return Check(timeline.Compile(s, s.Night("n")), Facts{}) }
	edit := func(list ...timeline.Edit) {
		t.Helper()
		next, err := s.Edit(list...)
		require.NoError(t, err)
		s = next
	}
	found := check()
	require.Len(t, found, 2)
	a := found[0].Acceptance("stage manager", "seen on site")
	edit(field("night", "n", "accepted", a.String()))

	found = check()
	require.Len(t, found, 2, "accepted findings stay counted")
	require.NotNil(t, found[0].Accepted)
	require.Equal(t, "stage manager", found[0].Accepted.By)
	require.Nil(t, found[1].Accepted)
	require.Nil(t, Check(timeline.Compile(s, nil), Facts{})[0].Accepted, "for that night alone")

	edit(func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "cue", Song: "a", ID: "a-j1-12000"}, "at", timeline.Value{Text: "0:12.5000"})
	})
	found = check()
	require.Len(t, found, 3)
	require.Equal(t, "stale-acceptance", found[0].Rule)
	require.Nil(t, found[1].Accepted)
	require.Nil(t, found[2].Accepted)
	edit(showSetting("stale-acceptance", func(s *timeline.Setting) { s.Off = true }))
	require.Len(t, check(), 2)
}

// What concerns another cue does not end an acceptance.
func TestDigestHoldsWhatTheFindingRestsOn(t *testing.T) {
	first := Check(timeline.Compile(stage(t, cue("a", "j1", 10*sec), cue("a", "j1", 12*sec)), nil), Facts{})
	more := Check(timeline.Compile(stage(t, cue("a", "j1", 10*sec), cue("a", "j1", 12*sec), cue("a", "j1", 40*sec)), nil), Facts{})
	other := Check(timeline.Compile(stage(t, cue("a", "j1", 10*sec), cue("a", "j1", 12*sec, sec), field("article", "jet", "recovery", "2.1")), nil), Facts{})
	require.Equal(t, first[0].Digest(), more[0].Digest())
	require.NotEqual(t, first[0].Digest(), other[0].Digest())
	require.Len(t, first[0].Digest(), 12)
}
