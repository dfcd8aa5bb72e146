package audio_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/testsound"
)

// pure gives a second of a tone at half of full scale.
func pure(rate, channels int, hertz float64) *audio.PCM {
	p := &audio.PCM{Rate: rate, Channels: channels}
	for i := range rate {
		for range channels {
			p.Samples = append(p.Samples, int16(16000*math.Sin(2*math.Pi*hertz*float64(i)/float64(rate))))
		}
	}
	return p
}

// level gives how much of a tone is in small sound, of full scale.
func level(t *testing.T, wav []byte, hertz float64) float64 {
	t.Helper()
	src, err := testsound.Open(wav)
	require.NoError(t, err)
	got, err := testsound.Drain(src)
	require.NoError(t, err)
	var re, im float64
	for i, v := range got {
		a := 2 * math.Pi * hertz * float64(i) / audio.SmallRate
		re, im = re+float64(v)*math.Cos(a), im+float64(v)*math.Sin(a)
	}
	return 2 * math.Hypot(re, im) / float64(len(got))
}

// A tone stays as loud as it is, in phase; one that small sound cannot carry is left
// out and comes back as no other.
func TestSmallWAV(t *testing.T) {
	for _, rate := range []int{44100, 48000, 96000, 11025, 8000} {
		for _, channels := range []int{1, 2, 6} {
			p := pure(rate, channels, 1000)
			if channels == 6 {
				p.Leave([]int{1, 2}) // what is mixed of six is another matter
			}
			wav := audio.SmallWAV(p)
			require.InDelta(t, 16000.0/32768, level(t, wav, 1000), 0.02, "%d Hz, %d channels", rate, channels)
		}
	}
	for _, hertz := range []float64{6000, 8000, 10000, 12000, 20000} {
		wav := audio.SmallWAV(pure(48000, 2, hertz))
		folded := math.Abs(hertz - audio.SmallRate*math.Round(hertz/audio.SmallRate))
		require.Less(t, level(t, wav, folded), 0.004, "%v Hz", hertz)
	}
}

// What is quieter than a step of 8 bits is heard all the same.
func TestSmallWAVKeepsWhatIsQuiet(t *testing.T) {
	p := pure(44100, 1, 200)
	for i := range p.Samples {
		p.Samples[i] /= 200 // a third of a step
	}
	require.InDelta(t, 80.0/32768, level(t, audio.SmallWAV(p), 200), 20.0/32768)
}

// A click is heard when it sounds in the song.
func TestSmallWAVKeepsTime(t *testing.T) {
	for _, rate := range []int{44100, 48000} {
		p := &audio.PCM{Rate: rate, Channels: 1, Samples: make([]int16, 3*rate)}
		for i := range 40 {
			p.Samples[2*rate+i-20] = 30000
		}
		wav := audio.SmallWAV(p)
		var sum, at float64
		for i, b := range wav[44 : 44+3*audio.SmallRate] {
			if v := float64(b) - 128; v > 30 {
				sum, at = sum+v, at+v*float64(i)
			}
		}
		require.InDelta(t, 2*audio.SmallRate, at/sum, 0.5, "at %d Hz", rate)
		require.Equal(t, 3*audio.SmallRate, len(wav)-44-1, "as long as the song, and even")
	}
	require.Len(t, audio.SmallWAV(&audio.PCM{Rate: 44100, Channels: 2}), 44)
}

// Another program reads it.
func TestSmallWAVForSox(t *testing.T) {
	path := filepath.Join(t.TempDir(), "small.wav")
	require.NoError(t, os.WriteFile(path, audio.SmallWAV(pure(44100, 2, 500)), 0o644))
	said := strings.Join(strings.Fields(string(testsound.Output(t, "sox", "--i", path))), " ")
	for _, part := range []string{"Channels : 1", "Sample Rate : 11025", "Precision : 8-bit", "11025 samples"} {
		require.Contains(t, said, part)
	}
}
