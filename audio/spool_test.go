package audio_test

import (
	"context"
	"io"
	"os"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
)

// made is a recording that is made as it is read: each channel's samples tell their frame.
type made struct {
	rate, channels int
	frames, at     int64
}

// value is the sample of a frame: of channel c another one.
func value(frame int64, c int) int16 { return int16(frame%30011 - 15000 + int64(c)*7) }

func (m *made) Info() audio.Info {
	return audio.Info{Format: audio.WAV, Rate: m.rate, Channels: m.channels, Frames: m.frames}
}

func (m *made) Read(dst []float32) (int, error) {
	n := min(int64(len(dst)/m.channels), m.frames-m.at)
	if n == 0 {
		return 0, io.EOF
	}
	for i := range n {
		for c := range m.channels {
			dst[i*int64(m.channels)+int64(c)] = float32(value(m.at+i, c)) / (1 << 15)
		}
	}
	m.at += n
	return int(n), nil
}

func (m *made) Close() error { return nil }

func spooled(t *testing.T, m *made, heard []int) *audio.Spool {
	t.Helper()
	dir := t.TempDir()
	w, err := audio.NewSpool(dir, m.rate, m.channels)
	require.NoError(t, err)
	require.NoError(t, audio.Run(context.Background(), m, 0, w.Write))
	s := w.Finish(heard)
	t.Cleanup(func() {
		require.NoError(t, s.Close())
		left, err := os.ReadDir(dir)
		require.NoError(t, err)
		require.Empty(t, left, "nothing stays behind")
	})
	return s
}

// A recording of more than an hour plays sample for sample wherever it is begun, over the ends of what is held and at slower speeds, and what is
// held of it stays small while it is read and while it is played.
func TestRecordingOverAnHourPlaysFromASpool(t *testing.T) {
	const rate, seconds = 4000, 3700
	heap := func() int64 {
		var m runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m)
		return int64(m.HeapAlloc)
	}
	before, most := heap(), int64(0)
	look := func() { most = max(most, heap()-before) }
	s := spooled(t, &made{rate: rate, channels: 2, frames: rate * seconds}, []int{1, 2})
	look()
	require.EqualValues(t, rate*seconds, s.Frames())
	tr := audio.NewTransport(s, rate)
	for _, at := range []int64{0, 65536 - 100, 65536, 3605 * rate, 1800*rate + 17, 65536*100 - 1, rate*seconds - 500} {
		s.Fetch(at)
		tr.Begin(at, at, nil)
		out := make([][2]float64, 2000)
		tr.Stream(out)
		for i := 300; i < len(out); i++ { // what was heard before has faded
			if frame := at + int64(i); frame < s.Frames() {
				require.InDelta(t, float64(value(frame, 0))/(1<<15), out[i][0], 1e-9, "frame %d", frame)
				require.InDelta(t, float64(value(frame, 1))/(1<<15), out[i][1], 1e-9, "frame %d", frame)
			}
		}
		look()
	}
	require.NoError(t, tr.SetTempo(3, 4))
	s.Fetch(3650 * rate)
	tr.Begin(3650*rate, 3650*rate, nil)
	tr.Stream(make([][2]float64, rate))
	require.EqualValues(t, 3650*rate+rate*3/4, tr.Position())
	look()
	require.Less(t, most, int64(rate*seconds*4/8), "an eighth of its samples and less")
	require.NoError(t, s.Err())
	t.Logf("%.1f MB of samples, at most %.1f MB held", float64(rate*seconds*4)/1e6, float64(most)/1e6)
}

// What comes is held before it is played, what was played is let go of, and where a loop goes back to is kept.
func TestSpoolReadsAhead(t *testing.T) {
	const page = 1 << 16
	s := spooled(t, &made{rate: 8000, channels: 1, frames: 20 * page}, []int{1})
	wait := func(what string, holds func() bool) {
		for begun := time.Now(); !holds(); time.Sleep(time.Millisecond) {
			require.Less(t, time.Since(begun), time.Minute, what)
		}
	}
	held := func(i int64) bool { return s.Holds(i * page) }
	s.Hold(2 * page)
	s.Fetch(8 * page)
	require.True(t, held(8) && held(9) && held(2) && held(3))
	require.NotNil(t, s.Span(8*page+5, 100))
	s.Span(10*page, 1)
	wait("what comes", func() bool { return held(10) && held(14) })
	s.Span(12*page, 1)
	wait("what was", func() bool { return !held(8) })
	require.True(t, held(2), "the loop's start")
	s.Fetch(16 * page)
	s.Span(18*page, 1) // a jump: what was heard before it fades out there
	wait("what was before", func() bool { return !held(11) })
	require.True(t, held(16), "that which fades out")
	s.Fetch(10 * page)
	require.Equal(t, value(10*page+3, 0), s.Span(10*page+3, 1)[0])
	require.Nil(t, s.Span(5*page, 1), "not there yet: silence, and nobody waits")
	wait("what was asked for", func() bool { return s.Span(5*page, 1) != nil })
	wait("all of that", func() bool { return held(4) }) // no more is read then
	require.Zero(t, testing.AllocsPerRun(100, func() { s.Span(5*page, 1) }))
}

// Of channels that are not heard nothing is played.
func TestSpoolPlaysWhatIsHeard(t *testing.T) {
	s := spooled(t, &made{rate: 8000, channels: 2, frames: 1000}, []int{2})
	_, channels := s.Shape()
	require.Equal(t, 1, channels)
	s.Fetch(0)
	require.Equal(t, value(10, 1), s.Span(10, 1)[0])
	none := spooled(t, &made{rate: 8000, channels: 1, frames: 1000}, nil)
	none.Fetch(0)
	require.Zero(t, none.Span(10, 1)[0])
	_, err := audio.NewSpool("/dev/null/no", 8000, 1)
	require.Error(t, err)
}
