package ear

const (
	attackReach = 45 // ms searched on each side of the flux peak
	attackPre   = 8  // ms averaged before a step
	attackPost  = 4  // ms averaged after it
	attackStep  = 6 / envStep
)

// timeAttack finds the instant of the steepest step in the attack envelopes
// near an onset's frame. The step is the mean of the next few milliseconds over
// the mean of those before, added over the bands by how much each rose.
func (f *features) timeAttack(o *onset, d []float32) {
	centre := o.frame * envRate / fluxRate
	n := len(f.env[0])
	var weight [envCount]float64
	weight[envLow] = o.bands[bandLow]
	weight[envMid] = o.bands[bandLowMid] + o.bands[bandMid]
	weight[envHigh] = o.bands[bandHigh] + o.bands[bandMid]*0.5
	best, at, bestStep := 0.0, centre, 0.0
	lo, hi := max(attackPre, centre-attackReach), min(n-attackPost, centre+attackReach)
	for t := lo; t <= hi; t++ {
		score, top := 0.0, 0.0
		for b := range f.env {
			s := stepAt(f.env[b], t)
			if s > 0 {
				score += weight[b] * s
				top = max(top, s)
			}
		}
		if score > best {
			best, at, bestStep = score, t, top
		}
	}
	if bestStep < attackStep {
		o.at = (float64(o.frame) + parabola(d, o.frame)) / fluxRate
		o.sigma = 0.020
		return
	}
	o.at = float64(at) / envRate
	o.sigma = 0.003
	o.attack = true
}

func stepAt(e []uint8, t int) float64 {
	var pre, post int
	for _, v := range e[t-attackPre : t] {
		pre += int(v)
	}
	for _, v := range e[t : t+attackPost] {
		post += int(v)
	}
	return float64(post)/attackPost - float64(pre)/attackPre
}

// parabola gives the offset of the true peak from the sample i, within ±0.5.
func parabola(d []float32, i int) float64 {
	if i < 1 || i+1 >= len(d) {
		return 0
	}
	a, b, c := float64(d[i-1]), float64(d[i]), float64(d[i+1])
	if den := a - 2*b + c; den < 0 {
		return min(max(0.5*(a-c)/den, -0.5), 0.5)
	}
	return 0
}
