package score

import "math"

// pluck is a plucked string: a delay of one period filled with hiss and fed
// back through an average (K. Karplus, A. Strong, "Digital Synthesis of
// Plucked-String and Drum Timbres", Computer Music Journal 7(2), 1983; from
// memory).
type pluck struct {
	ring              []float64
	at                int
	fraction          float64 // of a sample that the period exceeds the ring
	last, lastDelayed float64
	loss              float64
}

// newPluck tunes a string. Soft is 0 for a hard pick to 1 for a thumb; after
// ringTime seconds a thousandth of its strength is left.
func newPluck(hertz, soft, ringTime float64, seed uint64) *pluck {
	period := SampleRate/hertz - 0.5 // the average adds half a sample
	p := &pluck{
		ring:     make([]float64, int(period)),
		fraction: period - math.Floor(period),
		loss:     math.Pow(0.001, 1/(hertz*ringTime)),
	}
	p.excite(newNoise(seed), soft)
	return p
}

func (p *pluck) excite(hiss *noise, soft float64) {
	smooth := 0.0
	for i := range p.ring {
		smooth += (1 - 0.9*soft) * (hiss.next() - smooth)
		p.ring[i] = smooth * (1 + 1.5*soft)
	}
}

func (p *pluck) step() float64 {
	y := p.ring[p.at]
	delayed := (1-p.fraction)*y + p.fraction*p.last
	p.ring[p.at] = p.loss * 0.5 * (delayed + p.lastDelayed)
	p.last, p.lastDelayed = y, delayed
	p.at = (p.at + 1) % len(p.ring)
	return y
}

// pluckedString is a string under a thumb, a little to one side of each ear.
func pluckedString(n note) stereo {
	p := newPluck(n.keys[0].hertz(), 0.35, 3.2, n.seed)
	held := contour{rise: 0.001, decay: 1, level: 1, release: 0.09}
	length := max(n.length.Seconds(), 0.9)
	return mono(fill(held.total(length), func(t float64) float64 {
		return 0.9 * p.step() * held.at(t, length)
	}))
}

// drivenString is a chord on two guitars, one at each side; the strip's drive
// bends the sum. The strings follow each other by two milliseconds.
func drivenString(n note) stereo {
	return stereo{chordOfStrings(n, 2*n.seed), chordOfStrings(n, 2*n.seed+1)}
}

func chordOfStrings(n note, seed uint64) []float64 {
	const strum = 0.002
	held := contour{rise: 0.001, decay: 1, level: 1, release: 0.025}
	length := n.length.Seconds()
	sum := make([]float64, int(held.total(length)*SampleRate))
	for i, k := range n.keys {
		p := newPluck(k.hertz(), 0.15, 4, seed*8+uint64(i))
		for j := int(strum * float64(i) * SampleRate); j < len(sum); j++ {
			sum[j] += 0.5 * p.step() * held.at(float64(j)/SampleRate, length)
		}
	}
	fadeEnd(sum)
	return sum
}

// pickedBass is a steel string with a hard pick.
func pickedBass(n note) stereo {
	hertz := n.keys[0].hertz()
	p := newPluck(hertz, 0.3, 5, n.seed)
	var under phasor
	held := contour{rise: 0.002, decay: 0.6, level: 0.7, release: 0.03}
	length := n.length.Seconds()
	return mono(fill(held.total(length), func(t float64) float64 {
		return (1.1*p.step() + 0.5*under.sine(hertz)) * held.at(t, length)
	}))
}
