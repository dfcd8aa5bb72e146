package score

import "math"

// formants are the resonances of a sung open vowel, in hertz, with their
// strengths; values of the usual order for an alto's "ah", set by ear.
var formants = [4]struct{ hertz, quality, gain float64 }{
	{720, 6, 1}, {1180, 8, 0.55}, {2750, 11, 0.22}, {3600, 12, 0.12},
}

// vox is a sung vowel: a saw and breath through the formants.
func vox(n note) stereo {
	left := sing(n, 1.0025, 2*n.seed)
	right := sing(n, 0.9975, 2*n.seed+1)
	return stereo{left, right}
}

func sing(n note, detune float64, seed uint64) []float64 {
	hertz := n.keys[0].hertz() * detune
	var cords phasor
	breath := newNoise(seed)
	var mouth [len(formants)]*filter
	for i, f := range formants {
		mouth[i] = newFilter(f.hertz, f.quality)
	}
	shape := contour{rise: 0.03, decay: 0.5, level: 0.85, release: 0.07}
	length := n.length.Seconds()
	return fill(shape.total(length), func(t float64) float64 {
		scoop := 1 - 0.03*fall(t, 0.03)
		x := cords.saw(hertz*scoop*vibrato(t, 22)) + 0.06*breath.next()
		y := 0.12 * x
		for i, f := range formants {
			y += f.gain * mouth[i].band(x)
		}
		return 0.8 * y * shape.at(t, length)
	})
}

// tine is a sine whose phase is pushed by another one at a multiple of its
// frequency (J. Chowning, "The Synthesis of Complex Audio Spectra by Means of
// Frequency Modulation", JAES 21(7), 1973; from memory).
type tine struct{ carrier, push phasor }

func (x *tine) step(hertz, multiple, depth float64) float64 {
	phase, _ := x.carrier.step(hertz)
	return math.Sin(2*math.Pi*phase + depth*x.push.sine(hertz*multiple))
}

func electricPiano(n note) stereo {
	shape := contour{rise: 0.002, decay: 0.9, level: 0.25, release: 0.12}
	length := n.length.Seconds()
	out := silence(int(shape.total(length) * SampleRate))
	for _, k := range n.keys {
		var body, ting tine
		hertz := k.hertz()
		out.each(func(i int, l, r float64) (float64, float64) {
			t := float64(i) / SampleRate
			y := body.step(hertz, 1, 1.6*n.force*fall(t, 0.4)) +
				0.3*ting.step(hertz, 14, 0.8*fall(t, 0.08))*fall(t, 0.12)
			y *= 0.3 * shape.at(t, length)
			sway := 0.2 * math.Sin(2*math.Pi*3.1*t)
			return l + y*(1+sway), r + y*(1-sway)
		})
	}
	fadeEnd(out.left)
	fadeEnd(out.right)
	return out
}

func bell(n note) stereo {
	hertz := n.keys[0].hertz()
	var body, shine tine
	return mono(fill(1.8, func(t float64) float64 {
		return 0.5*body.step(hertz, 3.5, 2*fall(t, 0.3))*fall(t, 0.5) +
			0.25*shine.step(2*hertz, 1.41, 0.6*fall(t, 0.1))*fall(t, 0.25)
	}))
}
