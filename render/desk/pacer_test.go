package desk

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// Where pictures cost much of a processor there are fewer of them, until they cost no more than they may; where they cost little, as many as there can be.
func TestStepKeepsToItsShare(t *testing.T) {
	for _, c := range []struct {
		picture time.Duration // of processor time
		want    time.Duration
	}{{time.Millisecond, moveStep}, {8 * time.Millisecond, moveStep}, {25 * time.Millisecond, 83 * time.Millisecond}, {200 * time.Millisecond, mostStep}} {
		var p pacer
		now, spent := time.Second, time.Duration(0)
		for range 40 {
			p.thrift(now, spent)
			n := int64(time.Second / p.step)
			now, spent = now+time.Second, spent+time.Duration(n)*c.picture
		}
		require.InDelta(t, float64(c.want), float64(p.step), float64(12*time.Millisecond), "%v a picture", c.picture)
		share := float64(c.picture) / float64(p.step)
		require.True(t, share <= 0.33 || p.step == mostStep, "%v a picture: %.2f", c.picture, share)
		for range 40 { // it costs nothing any more
			now += time.Second
			p.thrift(now, spent)
		}
		require.Equal(t, moveStep, p.step)
		p.thrift(now+time.Hour, spent+time.Hour)
		require.Equal(t, moveStep, p.step, "what was done while nothing moved does not count")
	}
}

// A picture is made when the step is over, and not before.
func TestPicturesOfWhatMoves(t *testing.T) {
	var p pacer
	require.True(t, p.move(time.Second))
	require.False(t, p.move(time.Second+moveStep/2))
	require.True(t, p.move(time.Second+mostStep))
}
