package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestBesideBeat(t *testing.T) {
	beats := SteadyBeatMap(0, Second/2, Metre{4, 4}, 40)
	for _, c := range []struct {
		at   Moment
		want string
	}{
		{AtBar(BarBeat{13, NewRat(0, 1)}), "13.1"},
		{AtBar(BarBeat{13, NewRat(1, 3)}), "13.1+1/3"},
		{AtBar(BarBeat{13, NewRat(3, 40)}), "13.1 + 37.5 ms"},
		{AtTime(24*Second - 40*Millisecond), "13.1 − 40 ms"},
		{AtTime(24 * Second), "13.1"},
		{AtTime(24*Second + 30*Millisecond), "13.1 + 30 ms"},
	} {
		require.Equal(t, c.want, c.at.Beside(beats))
	}
	require.Equal(t, "0:12.5000", AtTime(12500*Millisecond).Beside(nil))
}
