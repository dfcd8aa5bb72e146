package shows_test

import (
	"testing"

	"emberbeat/shows"
	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestChangesSurviveTheirText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawShow(t), drawShow(t)
		line, err := shows.EncodeChanges(timeline.Diff(a, b))
		require.NoError(t, err)
		require.NotContains(t, string(line), "\n")
		cs, err := shows.DecodeChanges(line)
		require.NoError(t, err)
		c, err := timeline.Apply(a, cs)
		require.NoError(t, err)
		require.Empty(t, timeline.Diff(b, c))
		back, err := timeline.Apply(b, cs.Invert())
		require.NoError(t, err)
		require.Empty(t, timeline.Diff(a, back))
	})
}

func TestDecodeChangesRefuses(t *testing.T) {
	for _, line := range []string{
		``, `{`, `[{}]`, `[{"kind":"nothing","id":"a","after":{}}]`,
		`[{"kind":"cue","id":"a"}]`,
		`[{"kind":"cue","id":"a","after":{"text":{"no-such":"1"}}}]`,
		`[{"kind":"cue","id":"a","after":{"text":{"level":"101"}}}]`,
	} {
		_, err := shows.DecodeChanges([]byte(line))
		require.Error(t, err, line)
	}
}
