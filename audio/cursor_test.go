package audio

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Going on in many steps must lead to the same place as in one, and until must
// name the first device frame that is at a song frame or past it.
func TestCursorIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rates := rapid.SampledFrom([]int64{8000, 11025, 22050, 44100, 48000, 96000, 192000})
		r := newRatio(rates.Draw(t, "song"), rates.Draw(t, "device"))
		start := cursor{pos: rapid.Int64Range(-1000, 1<<34).Draw(t, "start")}
		a, b := rapid.Int64Range(0, 1<<30).Draw(t, "a"), rapid.Int64Range(0, 1<<30).Draw(t, "b")
		require.Equal(t, start.advance(a+b, r), start.advance(a, r).advance(b, r))

		c := start.advance(a, r)
		frame := c.pos + rapid.Int64Range(1, 1<<20).Draw(t, "ahead")
		n := c.until(frame, r)
		require.GreaterOrEqual(t, c.advance(n, r).pos, frame)
		require.Less(t, c.advance(n-1, r).pos, frame)
	})
}
