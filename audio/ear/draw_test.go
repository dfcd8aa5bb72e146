package ear_test

import (
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/ear"
)

func TestDrawShowsBarsAndDoubt(t *testing.T) {
	b := newBand(22050, 40)
	b.play(rock, 18, steady(120, 0.5))
	a := hear(t, b.source(), ear.Options{})
	peaks := audio.NewBuilder(22050, 1)
	require.NoError(t, peaks.Write(b.x))
	img := ear.Draw(a, peaks.Finish())
	count := func(c color.RGBA) (n int) {
		for y := range img.Bounds().Dy() {
			for x := range img.Bounds().Dx() {
				if img.RGBAAt(x, y) == c {
					n++
				}
			}
		}
		return n
	}
	red := count(color.RGBA{190, 40, 40, 255})
	require.GreaterOrEqual(t, red, 18*40, "a red line for every bar")
	doubtless := count(color.RGBA{250, 250, 247, 255})

	noise := newBand(22050, 40)
	noise.tone(0, 40, func(float64) float64 { return 0.2 * noise.rnd.NormFloat64() })
	img = ear.Draw(hear(t, noise.source(), ear.Options{}), nil)
	require.Less(t, count(color.RGBA{250, 250, 247, 255}), doubtless, "doubt is underlaid")

	require.NotPanics(t, func() { ear.Draw(&ear.Analysis{}, nil) })
}

func TestMixClickSoundsOnEveryBeat(t *testing.T) {
	const rate = 44100
	p := &audio.PCM{Rate: rate, Channels: 2, Samples: make([]int16, 2*3*rate)}
	a := &ear.Analysis{Beats: []float64{0.5, 1, 1.5, 2.999}, Downbeats: []float64{0.5}}
	a.MixClick(p)
	loudest := func(from, to float64) (top float64) {
		for i := int(from*rate) * 2; i < int(to*rate)*2; i++ {
			top = max(top, math.Abs(float64(p.Samples[i])))
		}
		return top
	}
	for _, beat := range a.Beats[:3] {
		require.Greater(t, loudest(beat, beat+0.01), 8000.0)
		require.Zero(t, loudest(beat-0.1, beat-0.001))
	}
	require.NotEqual(t, p.Samples[rate+20:rate+400], p.Samples[2*rate+20:2*rate+400], "the bar's first beat sounds apart")
}
