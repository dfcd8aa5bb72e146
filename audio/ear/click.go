package ear

import (
	"math"

	"emberbeat/audio"
)

// The click that is laid over a song.
const (
	clickSeconds = 0.03
	clickHz      = 1100
	barHz        = 1650
	clickLevel   = 0.5
	songLevel    = 0.5
)

// MixClick lays a click on every beat over the song in p, higher on the first
// beat of a bar, and halves the song to make room for it.
func (a *Analysis) MixClick(p *audio.PCM) {
	for i, v := range p.Samples {
		p.Samples[i] = int16(float64(v) * songLevel)
	}
	bar := 0
	for _, t := range a.Beats {
		hz := float64(clickHz)
		for bar < len(a.Downbeats) && a.Downbeats[bar] < t-1e-6 {
			bar++
		}
		if bar < len(a.Downbeats) && math.Abs(a.Downbeats[bar]-t) < 1e-6 {
			hz = barHz
		}
		addClick(p, t, hz)
	}
}

func addClick(p *audio.PCM, at, hz float64) {
	from := int64(math.Round(at * float64(p.Rate)))
	for i := range int64(clickSeconds * float64(p.Rate)) {
		if from+i >= p.Frames() {
			return
		}
		s := float64(i) / float64(p.Rate)
		v := clickLevel * math.Sin(2*math.Pi*hz*s) * math.Exp(-s*5/clickSeconds)
		for c := range p.Channels {
			k := (from+i)*int64(p.Channels) + int64(c)
			p.Samples[k] = audio.ToPCM(float32(v) + float32(p.Samples[k])/(1<<15))
		}
	}
}
