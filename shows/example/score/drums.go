package score

import "math"

// All drums start at their loudest within two milliseconds, so that a hit's
// time in the score is the time the ear should find.

func kick(n note) stereo {
	var body phasor
	hiss := newNoise(n.seed)
	return mono(fill(0.45, func(t float64) float64 {
		pitch := 45 + 130*fall(t, 0.02) + 500*fall(t, 0.003)
		click := 0.5 * hiss.next() * fall(t, 0.002)
		return math.Tanh(2*body.sine(pitch)*fall(t, 0.15) + click)
	}))
}

func snare(n note) stereo {
	var low, high phasor
	hiss := newNoise(n.seed)
	bright, crack := newFilter(1100, 0.7), newFilter(3800, 1.2)
	return mono(fill(0.4, func(t float64) float64 {
		h := hiss.next()
		body := low.sine(178+60*fall(t, 0.008)) + 0.5*high.sine(331)
		rattle := bright.high(h)*fall(t, 0.085) + 1.2*crack.band(h)*fall(t, 0.03)
		return math.Tanh(1.1*body*fall(t, 0.07) + 0.95*rattle)
	}))
}

// clap is a few hands, the first of them the loudest.
func clap(n note) stereo {
	hiss := newNoise(n.seed)
	palm := newFilter(1350, 1.4)
	return mono(fill(0.35, func(t float64) float64 {
		hands := fall(t, 0.006) + 0.7*late(t, 0.011, 0.006) + 0.5*late(t, 0.023, 0.07)
		return 2.2 * palm.band(hiss.next()) * hands
	}))
}

// late is a fall that begins at a time.
func late(t, from, constant float64) float64 {
	if t < from {
		return 0
	}
	return fall(t-from, constant)
}

func rim(n note) stereo {
	var a, b phasor
	return mono(fill(0.09, func(t float64) float64 {
		return math.Tanh(1.6 * (a.sine(1720) + 0.7*b.sine(812)) * fall(t, 0.012))
	}))
}

func tom(n note) stereo {
	var body phasor
	hiss := newNoise(n.seed)
	skin := newFilter(900, 0.8)
	hertz := n.keys[0].hertz()
	return mono(fill(0.7, func(t float64) float64 {
		pitch := hertz * (1 + 0.55*fall(t, 0.04))
		stick := skin.low(hiss.next()) * fall(t, 0.02)
		return math.Tanh(1.6*body.sine(pitch)*fall(t, 0.2) + 0.9*stick)
	}))
}

// boom is a low drop under a hit.
func boom(n note) stereo {
	var body phasor
	return mono(fill(2.2, func(t float64) float64 {
		return math.Tanh(1.5 * body.sine(31+52*fall(t, 0.35)) * fall(t, 0.6))
	}))
}

func shaker(n note) stereo {
	hiss := newNoise(n.seed)
	beads := newFilter(6200, 1.1)
	return mono(fill(0.12, func(t float64) float64 {
		return beads.band(hiss.next()) * (fall(t, 0.012) + 0.5*late(t, 0.02, 0.02))
	}))
}
