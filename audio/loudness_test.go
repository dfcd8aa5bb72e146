package audio_test

import (
	"math"
	"testing"

	"emberbeat/audio"

	"github.com/stretchr/testify/require"
)

// tone is one part of a test signal: a 1 kHz sine whose amplitude is that many
// dB below full scale in each channel, as EBU Tech 3341 counts ("-23.0 dBFS"
// is the level of the peaks).
type tone struct {
	seconds float64
	dbfs    []float64
}

func all(channels int, dbfs float64) []float64 {
	levels := make([]float64, channels)
	for i := range levels {
		levels[i] = dbfs
	}
	return levels
}

// measure plays tones to a meter, in blocks of an odd size.
func measure(rate int, tones ...tone) *audio.Loudness {
	channels := len(tones[0].dbfs)
	m := audio.NewLoudness(rate, channels)
	block, n := make([]float32, 0, 1111*channels), 0
	for _, t := range tones {
		gain := make([]float64, channels)
		for c, db := range t.dbfs {
			gain[c] = math.Pow(10, db/20)
		}
		for range int(t.seconds*float64(rate) + 0.5) {
			v := math.Sin(2 * math.Pi * 1000 * float64(n%rate) / float64(rate))
			for _, g := range gain {
				block = append(block, float32(g*v))
			}
			if n++; len(block) == cap(block) {
				m.Write(block)
				block = block[:0]
			}
		}
	}
	m.Write(block)
	return m
}

// The cases 1 to 6 of EBU Tech 3341 (2016) table 1, "minimum requirements",
// from memory: signals and expected values with a tolerance of 0.1 LU.
func TestIntegratedLoudnessOfEBUTech3341(t *testing.T) {
	st := func(seconds, dbfs float64) tone { return tone{seconds, all(2, dbfs)} }
	for _, c := range []struct {
		name  string
		tones []tone
		want  float64
	}{
		{"1: sine at -23", []tone{st(20, -23)}, -23},
		{"2: sine at -33", []tone{st(20, -33)}, -33},
		{"3: relative gate", []tone{st(10, -36), st(60, -23), st(10, -36)}, -23},
		{"4: absolute gate", []tone{st(10, -72), st(10, -36), st(60, -23), st(10, -36), st(10, -72)}, -23},
		{"5: overlap", []tone{st(20, -26), st(20.1, -20), st(20, -26)}, -23},
		{"6: five channels", []tone{{20, []float64{-28, -28, -24, -30, -30}}}, -23},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.InDelta(t, c.want, measure(48000, c.tones...).Integrated(), 0.1)
		})
	}
}

func TestMomentaryAndShortTermOfEBUTech3341(t *testing.T) {
	st := func(seconds, dbfs float64) tone { return tone{seconds, all(2, dbfs)} }
	repeat := func(n int, tones ...tone) (list []tone) {
		for range n {
			list = append(list, tones...)
		}
		return list
	}
	steady := measure(48000, st(20, -23))
	require.InDelta(t, -23, steady.MaxMomentary(), 0.1, "case 1")
	require.InDelta(t, -23, steady.MaxShortTerm(), 0.1, "case 1")

	short := measure(48000, repeat(5, st(1.34, -20), st(1.66, -30))...)
	for step := 30; step < short.Steps(); step++ {
		require.InDelta(t, -23, short.ShortTerm(step), 0.1, "case 9, step %d", step)
	}
	momentary := measure(48000, repeat(25, st(0.18, -20), st(0.22, -30))...)
	for step := 10; step < momentary.Steps(); step++ {
		require.InDelta(t, -23, momentary.Momentary(step), 0.1, "case 12, step %d", step)
	}
}

// The cases 1 to 4 of EBU Tech 3342 (2016) table 1, from memory: 1 LU of
// tolerance.
func TestLoudnessRangeOfEBUTech3342(t *testing.T) {
	st := func(dbfs float64) tone { return tone{20, all(2, dbfs)} }
	for _, c := range []struct {
		name  string
		tones []tone
		want  float64
	}{
		{"1", []tone{st(-20), st(-30)}, 10},
		{"2", []tone{st(-20), st(-15)}, 5},
		{"3", []tone{st(-40), st(-20)}, 20},
		{"4", []tone{st(-50), st(-35), st(-20), st(-35), st(-50)}, 15},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.InDelta(t, c.want, measure(48000, c.tones...).Range(), 1)
		})
	}
}

func TestLoudnessIsTheSameAtEveryRate(t *testing.T) {
	for _, rate := range []int{8000, 11025, 22050, 44100, 88200, 96000, 192000} {
		m := measure(rate, tone{5, all(2, -23)})
		require.InDelta(t, -23, m.Integrated(), 0.1, "%d Hz", rate)
		require.Equal(t, 50, m.Steps(), "%d Hz", rate)
		require.InDelta(t, -23, m.Peak(), 0.1)
	}
}

func TestSilenceHasNoLoudness(t *testing.T) {
	m := audio.NewLoudness(48000, 1)
	require.Equal(t, audio.Silent, m.Integrated())
	m.Write(make([]float32, 480000))
	require.Equal(t, audio.Silent, m.Integrated())
	require.Equal(t, audio.Silent, m.ShortTerm(99))
	require.Zero(t, m.Range())
}

func BenchmarkLoudness(b *testing.B) { benchSink(b, audio.NewLoudness(48000, 2).Write) }
