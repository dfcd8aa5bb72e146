package ear

// Lift is how much louder a band is in the third of a second after a time than
// in the one before: large where a cymbal is struck, where instruments enter,
// where a part of the song begins. Such places stand on beats, mostly on the
// first of a bar.

const (
	liftNear = 0.02 // s left out around the time itself
	liftSpan = 0.35
	liftCap  = 20.0 // dB; more counts no more
)

// liftAt gives the squared lift of an envelope at each time, in units of 100 dB².
func liftAt(e []uint8, at []float64) []float64 {
	sum := make([]int32, len(e)+1)
	for i, v := range e {
		sum[i+1] = sum[i] + int32(v)
	}
	mean := func(from, to float64) float64 {
		a := min(max(int(from*envRate), 0), len(e))
		b := min(max(int(to*envRate), 0), len(e))
		if b <= a {
			return 0
		}
		return float64(sum[b]-sum[a]) / float64(b-a) * envStep
	}
	out := make([]float64, len(at))
	for i, t := range at {
		d := mean(t+liftNear, t+liftSpan) - mean(t-liftSpan, t-liftNear)
		d = min(max(d, 0), liftCap)
		out[i] = d * d / 100
	}
	return out
}
