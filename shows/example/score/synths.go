package score

import "math"

// sawCloud is a few saws around one key, spread over the two sides.
type sawCloud struct {
	saws   []phasor
	ratios []float64
}

// newSawCloud detunes an odd number of saws evenly within cents of the key.
func newSawCloud(count int, cents float64, seed uint64) *sawCloud {
	c := &sawCloud{saws: make([]phasor, count), ratios: make([]float64, count)}
	start := newNoise(seed)
	for i := range c.saws {
		offset := 2*float64(i)/float64(count-1) - 1
		c.saws[i] = phasor(0.5 + 0.5*start.next())
		c.ratios[i] = math.Exp2(cents * offset / 1200)
	}
	return c
}

func (c *sawCloud) step(hertz float64) (left, right float64) {
	for i := range c.saws {
		y := c.saws[i].saw(hertz * c.ratios[i])
		side := float64(i) / float64(len(c.saws)-1)
		if i%2 == 1 {
			side = 1 - side
		}
		left += (1 - 0.7*side) * y
		right += (0.3 + 0.7*side) * y
	}
	return left, right
}

// sawChord plays the note's keys as clouds through a low pass on each side,
// whose cut-off in hertz follows a function of the time.
func sawChord(n note, cents float64, shape contour, cutOff func(t float64) float64) stereo {
	length := n.length.Seconds()
	out := silence(int(shape.total(length) * SampleRate))
	for i, k := range n.keys {
		addCloud(out, newSawCloud(5, cents, n.seed*16+uint64(i)), k.hertz())
	}
	left, right := newFilter(1000, 0.8), newFilter(1000, 0.8)
	gain := 0.42 / math.Sqrt(float64(len(n.keys)))
	out.each(func(i int, l, r float64) (float64, float64) {
		t := float64(i) / SampleRate
		if i%retuneEvery == 0 {
			left.tune(cutOff(t), 0.8)
			right.tune(cutOff(t), 0.8)
		}
		y := gain * shape.at(t, length)
		return left.low(l) * y, right.low(r) * y
	})
	fadeEnd(out.left)
	fadeEnd(out.right)
	return out
}

func addCloud(out stereo, c *sawCloud, hertz float64) {
	out.each(func(_ int, l, r float64) (float64, float64) {
		dl, dr := c.step(hertz)
		return l + dl, r + dr
	})
}

func pad(n note) stereo {
	shape := contour{rise: 0.12, decay: 1, level: 0.9, release: 0.18}
	return sawChord(n, 14, shape, func(t float64) float64 {
		return 700 + 1500*n.force*min(t/0.8, 1)
	})
}

// bowed is a slower pad that opens wide.
func bowed(n note) stereo {
	shape := contour{rise: 0.2, decay: 1, level: 1, release: 0.25}
	return sawChord(n, 9, shape, func(t float64) float64 {
		return 600 + 2600*n.force*min(t/1.2, 1)
	})
}

func stab(n note) stereo {
	shape := contour{rise: 0.002, decay: 0.25, level: 0.45, release: 0.06}
	return sawChord(n, 18, shape, func(t float64) float64 {
		return 1200 + 6500*n.force*fall(t, 0.18)
	})
}

func sequence(n note) stereo {
	shape := contour{rise: 0.002, decay: 0.09, level: 0.15, release: 0.05}
	return sawChord(n, 8, shape, func(t float64) float64 {
		return 500 + 4200*n.force*fall(t, 0.07)
	})
}

func synthBass(n note) stereo {
	hertz := n.keys[0].hertz()
	var saw, square, under phasor
	low := newFilter(400, 1.1)
	shape := contour{rise: 0.003, decay: 0.3, level: 0.75, release: 0.02}
	length := n.length.Seconds()
	i := 0
	return mono(fill(shape.total(length), func(t float64) float64 {
		if i%retuneEvery == 0 {
			low.tune(160+1900*n.force*fall(t, 0.14), 1.1)
		}
		i++
		raw := 0.5*saw.saw(hertz*1.004) + 0.4*square.pulse(hertz, 0.42)
		return math.Tanh(1.3*low.low(raw)+0.55*under.sine(hertz)) * shape.at(t, length)
	}))
}

// vibrato is a factor for the pitch that sets in after a while.
func vibrato(t, cents float64) float64 {
	depth := cents * min(max(t-0.18, 0)/0.25, 1)
	return math.Exp2(depth * math.Sin(2*math.Pi*5.4*t) / 1200)
}

func lead(n note) stereo {
	hertz := n.keys[0].hertz()
	cloud := newSawCloud(3, 9, n.seed)
	var square phasor
	left, right := newFilter(3200, 0.9), newFilter(3200, 0.9)
	shape := contour{rise: 0.006, decay: 0.3, level: 0.75, release: 0.06}
	length := n.length.Seconds()
	out := silence(int(shape.total(length) * SampleRate))
	out.each(func(i int, _, _ float64) (float64, float64) {
		t := float64(i) / SampleRate
		h := hertz * vibrato(t, 14)
		l, r := cloud.step(h)
		s := 0.5 * square.pulse(h, 0.3)
		y := 0.3 * shape.at(t, length)
		return left.low(l+s) * y, right.low(r+s) * y
	})
	fadeEnd(out.left)
	fadeEnd(out.right)
	return out
}
