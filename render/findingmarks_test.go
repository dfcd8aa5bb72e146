package render

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// The findings of a song become marks at their cues and lanes; those of other
// songs and accepted ones do not.
func TestMarks(t *testing.T) {
	s := testshow.Small(t)
	p := timeline.Compile(s, nil)
	cue := timeline.Ref{Kind: "cue", Song: "ember", ID: "q1"}
	at := 4 * timeline.Second
	m := MarksOf(s, &p.Songs[0], []rule.Finding{
		{Rule: "recovery", Severity: rule.Error, Ref: cue, Song: "ember", HasTime: true, At: at, Frame: p.Songs[0].FrameAt(at), HasBar: true, Bar: timeline.BarBeat{Bar: 3}, Text: "too soon"},
		{Rule: "arm-up", Severity: rule.Warning, Ref: timeline.Ref{Kind: "lane", Song: "ember", ID: "larm"}, Song: "ember"},
		{Rule: "patch", Severity: rule.Note, Ref: timeline.Ref{Kind: "device", ID: "d1"}, Song: "ember"},
		{Rule: "recovery", Severity: rule.Error, Ref: timeline.Ref{Kind: "cue", Song: "tide", ID: "q1"}, Song: "tide"},
		{Rule: "recovery", Severity: rule.Error, Ref: cue, Song: "ember", Accepted: &timeline.Acceptance{}},
	})
	require.Equal(t, [3]int{1, 1, 1}, m.Count)
	require.Equal(t, Mark{Severity: SevError, Rule: "recovery", At: Instant{At: at, On: true}, Lane: "ljet", Cue: "q1",
		Where: "bar 3 beat 1, 01:00:04:00", Text: "too soon"}, m.List[0])
	require.Equal(t, timeline.ID("larm"), m.List[1].Lane)
	n, _ := rule.AskedOf(s)
	require.Equal(t, fmt.Sprintf("%d rules asked, 1 finding accepted", n), m.Checked)
	s, err := s.Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.Setting{Base: timeline.Base{ID: "recovery"}, Off: true, Reason: "looked at by hand"}, &timeline.Setting{Base: timeline.Base{ID: "dense"}, Off: true, Scope: []string{"song=ember"}, Reason: "loud"})
		return nil
	})
	require.NoError(t, err)
	require.Equal(t, fmt.Sprintf("%d rules asked, 1 off", n-1), MarksOf(s, &p.Songs[0], nil).Checked, "what is off everywhere is not asked")
}

func TestHeadLine(t *testing.T) {
	s := testshow.Small(t)
	require.Equal(t, "Test Tour · first night · 2031-05-09 · Lantern Hall · revision C · timecode 25 · planning document, not permission to fire",
		report.HeadOf(timeline.Compile(s, s.Night("n1"))).Line())
	require.Equal(t, "Test Tour · timecode 25 · planning document, not permission to fire", report.HeadOf(timeline.Compile(s, nil)).Line())
}

// The rules for other programs are the rules there are.
func TestRuleLines(t *testing.T) {
	lines := report.RuleLines()
	require.Len(t, lines, len(rule.Tunable()))
	for _, l := range lines {
		require.NotEmpty(t, l.Summary, l.Rule)
		require.NotNil(t, l.Settings, l.Rule)
	}
}
