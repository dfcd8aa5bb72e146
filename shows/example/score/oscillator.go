package score

import "math"

// phasor runs from 0 to 1 at a frequency.
type phasor float64

func (p *phasor) step(hertz float64) (phase, stride float64) {
	phase, stride = float64(*p), hertz/SampleRate
	next := phase + stride
	if next >= 1 {
		next--
	}
	*p = phasor(next)
	return phase, stride
}

// rounding is the correction that keeps a jump of the wave from aliasing: a
// polynomial over the two samples around it (V. Välimäki, A. Huovilainen,
// "Antialiasing oscillators in subtractive synthesis", 2007; from memory).
func rounding(phase, stride float64) float64 {
	if phase < stride {
		x := phase / stride
		return 2*x - x*x - 1
	}
	if phase > 1-stride {
		x := (phase - 1) / stride
		return x*x + 2*x + 1
	}
	return 0
}

func (p *phasor) saw(hertz float64) float64 {
	phase, stride := p.step(hertz)
	return 2*phase - 1 - rounding(phase, stride)
}

// pulse has the given share of its period above zero.
func (p *phasor) pulse(hertz, width float64) float64 {
	phase, stride := p.step(hertz)
	second := phase + 1 - width
	if second >= 1 {
		second--
	}
	y := -1.0
	if phase < width {
		y = 1
	}
	return y + rounding(phase, stride) - rounding(second, stride)
}

func (p *phasor) sine(hertz float64) float64 {
	phase, _ := p.step(hertz)
	return math.Sin(2 * math.Pi * phase)
}
