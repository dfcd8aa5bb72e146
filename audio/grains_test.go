package audio

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// stretched gives n device frames of a song played at a tempo, from its start on.
func stretched(t *testing.T, p *PCM, rate, num, den, n int) []float64 {
	t.Helper()
	tr := NewTransport(p, rate)
	require.NoError(t, tr.SetTempo(num, den))
	tr.Play()
	out := make([]float64, 0, n)
	block := make([][2]float64, 512)
	for len(out) < n {
		tr.Stream(block)
		for _, s := range block {
			out = append(out, s[0])
		}
	}
	return out
}

// sineSong is a tone of some seconds.
func sineSong(rate int, hz float64, seconds int) *PCM {
	p := &PCM{Rate: rate, Channels: 1}
	for i := range seconds * rate {
		p.Samples = append(p.Samples, int16(12000*math.Sin(2*math.Pi*hz*float64(i)/float64(rate))))
	}
	return p
}

// pitchOf gives how often a second a signal rises through zero.
func pitchOf(x []float64, rate int) float64 {
	first, last, n := -1.0, 0.0, 0
	for i := 1; i < len(x); i++ {
		if x[i-1] < 0 && x[i] >= 0 {
			at := float64(i-1) + x[i-1]/(x[i-1]-x[i])
			if first < 0 {
				first = at
			} else {
				n++
			}
			last = at
		}
	}
	return float64(n) / (last - first) * float64(rate)
}

func TestTempoKeepsThePitch(t *testing.T) {
	const device = 48000
	for _, rate := range []int{44100, 48000} {
		for _, tempo := range [][2]int{{1, 2}, {3, 4}} {
			x := stretched(t, sineSong(rate, 440, 4), device, tempo[0], tempo[1], 4*device)
			got := pitchOf(x[device/2:7*device/2], device)
			cents := 1200 * math.Log2(got/440)
			require.Less(t, math.Abs(cents), 5.0, "%d at %v: %.3f Hz", rate, tempo, got)
			// it is as loud as the song all through: pieces go on from each other
			want := 12000.0 / (1 << 15)
			for i := device / 2; i < 7*device/2; i += device / 50 {
				top := 0.0
				for _, v := range x[i : i+device/50] {
					top = math.Max(top, math.Abs(v))
				}
				require.InDelta(t, want, top, 0.12*want, "%d at %v", rate, tempo)
			}
		}
	}
}

// clickSong is silence with clicks, the first after a second and each so many frames and a few on.
func clickSong(rate, seconds, every int) (song *PCM, clicks []int64) {
	song = &PCM{Rate: rate, Channels: 1, Samples: make([]int16, rate*seconds)}
	for at := int64(rate); at < int64(len(song.Samples)-rate); at += int64(every) + 123 {
		clicks = append(clicks, at)
		for i := range rate * 6 / 1000 {
			s := float64(i) / float64(rate)
			song.Samples[at+int64(i)] = int16(20000 * math.Exp(-s*667) * math.Cos(2*math.Pi*1273*s))
		}
	}
	return song, clicks
}

// farthestClick plays a song and gives by how many seconds of what is heard a click is off at most from where it is told to be heard.
func farthestClick(t *testing.T, song *PCM, clicks []int64, device, num, den int) (worst float64) {
	t.Helper()
	tr := NewTransport(song, device)
	require.NoError(t, tr.SetTempo(num, den))
	tr.Play()
	block := make([][2]float64, 512)
	next, top, topAt := 0, 0.0, int64(0)
	for n := int64(0); tr.Playing() && next < len(clicks); n += int64(len(block)) {
		tr.Stream(block)
		for i, s := range block {
			if v := math.Abs(s[0]); v > top {
				top, topAt = v, n+int64(i)
			}
		}
		if tr.Heard(n) > clicks[next]+int64(song.Rate)/4 { // the loudest since the one before was the click
			require.Greater(t, top, 0.2, "click %d of %d", next, len(clicks))
			off := math.Abs(float64(tr.Heard(topAt)-clicks[next])) / float64(song.Rate)
			worst = max(worst, off*float64(den)/float64(num))
			next, top = next+1, 0
		}
	}
	require.Equal(t, len(clicks), next)
	return worst
}

// Clicks in a recording are heard within 5 ms of where Heard says they are, and no later one is farther off than the first: over an hour of
// stream nothing adds up.
func TestTempoDoesNotDrift(t *testing.T) {
	const rate = 4000 // few frames, so that an hour of them is worked out fast
	for _, tempo := range [][2]int{{1, 2}, {3, 4}} {
		song, clicks := clickSong(rate, 3600*tempo[0]/tempo[1], 30*rate)
		require.Greater(t, len(clicks), 50)
		worst := farthestClick(t, song, clicks, rate, tempo[0], tempo[1])
		require.Less(t, worst, 0.005, "%v: seconds of what is heard", tempo)
		t.Logf("%v: %d clicks, at most %.2f ms off", tempo, len(clicks), 1000*worst)
	}
}

// The same holds at the rates of recordings and devices.
func TestTempoAtRatesOfDevices(t *testing.T) {
	for _, c := range []struct{ rate, device, num, den int }{{44100, 48000, 1, 2}, {44100, 48000, 3, 4}, {48000, 48000, 3, 4}} {
		song, clicks := clickSong(c.rate, 8, c.rate/2)
		require.Greater(t, len(clicks), 10)
		worst := farthestClick(t, song, clicks, c.device, c.num, c.den)
		require.Less(t, worst, 0.005, "%v: seconds of what is heard", c)
		t.Logf("%v: %d clicks, at most %.2f ms off", c, len(clicks), 1000*worst)
	}
}

func TestTempoThatIsNone(t *testing.T) {
	tr := NewTransport(sineSong(8000, 440, 1), 8000)
	for _, tempo := range [][2]int{{0, 1}, {1, 0}, {-1, 2}, {1, 5}, {5, 2}} {
		require.Error(t, tr.SetTempo(tempo[0], tempo[1]))
	}
	require.NoError(t, tr.SetTempo(1, 1))
	require.Nil(t, tr.kernel.plain)
}
