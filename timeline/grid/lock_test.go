package grid

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

func TestLocksAreReadAsTheyAreWritten(t *testing.T) {
	texts := []string{"bpm=123.98", "bar-one=0.5120", "metre=6/8", "tap=1.0000", "tap=1.5000", "stretch=62.0000..75.5000", "mood=blue"}
	l, err := ReadLocks(texts)
	require.NoError(t, err)
	require.Equal(t, texts, l.Texts(), "what is not known is kept")
	require.Equal(t, []string{"metre 6/8", "tempo 123.98", "bar 1 at 0.51 s", "1:02.0 to 1:15.5"}, l.Words())
	for _, what := range Lockables() {
		require.True(t, l.Has(what))
		l.Unlock(what)
		require.False(t, l.Has(what))
	}
	require.Equal(t, []string{"mood=blue"}, l.Texts())
	for _, bad := range []string{"bpm=fast", "bar-one=x", "metre=5", "stretch=5", "stretch=7..6", "tap="} {
		_, err := ReadLocks([]string{bad})
		require.ErrorContains(t, err, bad)
	}
}

func TestWhatIsLockedIsWhatTheGridHas(t *testing.T) {
	m := mapOf(t, "1.1 at=0.75 metre=6/8; 9.1 at=16.75")
	var l Locks
	for _, what := range Lockables() {
		require.NoError(t, l.Lock(what, m, Stretch{seconds(1), seconds(3)}))
	}
	require.Equal(t, []string{"bpm=60", "bar-one=0.7500", "metre=6/8", "stretch=1.0000..3.0000"}, l.Texts(), "the tempo is that of felt beats")
	require.Error(t, l.Lock(LockStretch, m, Stretch{}))
	require.Error(t, l.Lock(LockTempo, nil, Stretch{}))
}

// A stretch that is locked keeps its old bars to the unit of time, and what is heard stands around it.
func TestLockedStretchKeepsItsGrid(t *testing.T) {
	old, heard := mapOf(t, "1.1 at=0.1 metre=4/4; 21.1 at=40.1"), mapOf(t, "1.1 at=0.3 metre=4/4; 21.1 at=42.3")
	got, err := Joined(old, heard, []Stretch{{seconds(9), seconds(17)}}, seconds(50))
	require.NoError(t, err)
	for bar := 6; bar <= 9; bar++ { // old lines at 10.1 … 16.1
		p := got.Snap(old.BarStart(bar), timeline.Rat{})
		require.Equal(t, old.BarStart(bar), got.BarStart(p.Bar))
	}
	for _, at := range []float64{0.3, 2.4, 4.5, 6.6, 19.2, 25.5} {
		p := got.Snap(seconds(at), timeline.Rat{})
		require.InDelta(t, at, got.BarStart(p.Bar).Seconds(), 1e-6)
	}
	require.InDelta(t, 0.3, got.BarStart(1).Seconds(), 1e-6)
	same, err := Joined(old, heard, nil, seconds(50))
	require.NoError(t, err)
	require.Same(t, heard, same)
}
