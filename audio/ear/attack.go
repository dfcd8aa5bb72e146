package ear

import "math"

const (
	attackReach = 20          // ms searched on each side of the flux peak
	attackTrust = 5           // ms; standard deviation of the peak about the attack
	attackPre   = 16          // ms averaged before a step
	attackPost  = 5           // ms averaged after it
	attackLate  = 2           // ms by which the peak of the flux follows a slow attack
	attackStep  = 8 / envStep // a smaller step is no attack
)

// timeAttack finds the instant of the steepest step in the attack envelopes
// near an onset's frame. The step is the mean of the next few milliseconds over
// the mean of those before, added over the bands by how much each rose. Where
// nothing steps, the peak of the detection function has to do.
func (f *features) timeAttack(o *onset, d []float32) {
	peak := (float64(o.frame) + parabola(d, o.frame)) * envRate / fluxRate
	weight := [envCount]float64{
		envLow:  o.bands[bandLow],
		envMid:  o.bands[bandLowMid] + o.bands[bandMid],
		envHigh: o.bands[bandHigh] + 0.5*o.bands[bandMid],
	}
	centre := o.frame * envRate / fluxRate
	best, at, step := 0.0, centre, 0.0
	from, to := max(0, centre-attackReach), min(len(f.env[0])-attackPost, centre+attackReach)
	for t := from; t <= to; t++ {
		score, top := 0.0, 0.0
		for b := range f.env {
			if s := stepAt(f.env[b], t); s > 0 {
				score += weight[b] * s
				top = max(top, s)
			}
		}
		x := (float64(t) - peak) / attackTrust
		if score *= math.Exp(-x * x / 2); score > best {
			best, at, step = score, t, top
		}
	}
	if step < attackStep {
		o.at, o.sigma = max(0, (peak-attackLate)/envRate), 0.020
		return
	}
	o.attack = true
	o.at = float64(at) / envRate
	o.sigma = 0.0015 + 0.006*math.Exp(-(step-attackStep)*envStep/10)
}

// stepAt is the rise of an envelope at t in steps of envStep; before the first
// sample there is silence.
func stepAt(e []uint8, t int) float64 {
	var pre, post int
	for _, v := range e[max(0, t-attackPre):t] {
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
