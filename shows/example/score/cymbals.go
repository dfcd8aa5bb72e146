package score

// plate is a struck sheet of metal: six square waves that share no overtone,
// with hiss, above a cut-off.
type plate struct {
	waves [6]phasor
	hiss  *noise
	edge  *filter
}

var plateTones = [6]float64{317, 421.7, 556.3, 739.1, 871.9, 1153}

func newPlate(seed uint64, cutOff float64) *plate {
	return &plate{hiss: newNoise(seed), edge: newFilter(cutOff, 0.7)}
}

func (p *plate) step(stretch, metal float64) float64 {
	sum := 0.0
	for i := range p.waves {
		sum += p.waves[i].pulse(plateTones[i]*stretch, 0.5)
	}
	return p.edge.high(metal*sum/3 + (1-metal)*p.hiss.next())
}

func closedHat(n note) stereo {
	p := newPlate(n.seed, 7400)
	return mono(fill(0.16, func(t float64) float64 {
		return 1.5 * p.step(1.37, 0.45) * fall(t, 0.022)
	}))
}

func openHat(n note) stereo {
	p := newPlate(n.seed, 6600)
	return mono(fill(0.6, func(t float64) float64 {
		return 1.4 * p.step(1.37, 0.45) * fall(t, 0.14)
	}))
}

func ride(n note) stereo {
	p := newPlate(n.seed, 4800)
	var ping phasor
	return mono(fill(1.1, func(t float64) float64 {
		return 0.6*p.step(1.11, 0.6)*fall(t, 0.3) + 0.25*ping.sine(3130)*fall(t, 0.05)
	}))
}

// crash differs from side to side, as a wide cymbal under two microphones.
func crash(n note) stereo {
	return stereo{crashSide(n.seed * 2), crashSide(n.seed*2 + 1)}
}

func crashSide(seed uint64) []float64 {
	p := newPlate(seed, 2600)
	return fill(2.6, func(t float64) float64 {
		return p.step(0.93, 0.3) * (0.6*fall(t, 0.05) + 0.7*fall(t, 0.65))
	})
}

// reverseCrash swells over the note's length and ends with it.
func reverseCrash(n note) stereo {
	x := stereo{crashSide(n.seed * 2), crashSide(n.seed*2 + 1)}
	length := min(n.length.Sample(), x.len())
	return stereo{backwards(x.left[:length]), backwards(x.right[:length])}
}

func backwards(x []float64) []float64 {
	y := make([]float64, len(x))
	for i := range x {
		y[len(x)-1-i] = x[i]
	}
	fadeEnd(y)
	return y
}

// riser is a band of hiss that climbs and grows until the note ends.
func riser(n note) stereo { return stereo{riserSide(n, 2*n.seed), riserSide(n, 2*n.seed+1)} }

func riserSide(n note, seed uint64) []float64 {
	hiss := newNoise(seed)
	band := newFilter(300, 1.5)
	length := n.length.Seconds()
	i := 0
	return fill(length, func(t float64) float64 {
		p := t / length
		if i%retuneEvery == 0 {
			band.tune(350+8500*p*p*p, 1.5)
		}
		i++
		return 1.6 * band.band(hiss.next()) * p * p
	})
}
