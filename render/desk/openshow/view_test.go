package openshow

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/timeline"
)

// However it is zoomed and moved, some of the song stays in view and the stretch is neither empty nor much longer than the song.
func TestViewKeepsTheSongInSight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := render.Span{From: -timeline.Second, To: timeline.Time(rapid.Int64Range(1, 4*3600).Draw(t, "seconds")) * timeline.Second}
		v := newView()
		for range rapid.IntRange(1, 30).Draw(t, "steps") {
			now := v.Shown(whole)
			switch rapid.IntRange(0, 2).Draw(t, "what") {
			case 0:
				v.Zoom(whole, now.From+(now.To-now.From)/3, rapid.Float64Range(0.1, 10).Draw(t, "factor"))
			case 1:
				v.Pan(whole, timeline.Time(rapid.Int64Range(-int64(whole.To), int64(whole.To)).Draw(t, "by")))
			case 2:
				v.Reveal(whole, timeline.Time(rapid.Int64Range(0, int64(whole.To)).Draw(t, "at")))
			}
			now = v.Shown(whole)
			require.Less(t, now.From, whole.To)
			require.Greater(t, now.To, whole.From)
			require.GreaterOrEqual(t, now.To-now.From, min(closest, whole.To-whole.From))
			require.LessOrEqual(t, now.To-now.From, 2*(whole.To-whole.From))
		}
	})
}
