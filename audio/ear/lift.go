package ear

// Lift is how much louder a band is in the third of a second after a time than
// in the one before: large where a cymbal is struck, where instruments enter,
// where a part of the song begins. Such places stand on beats, mostly on the
// first of a bar.

const (
	liftNear = 0.02 // s left out around the time itself
	liftSpan = 0.35
	liftCap  = 20.0 // dB; more counts no more

	liftBlock = 10 // ms
)

// liftAt gives the squared lift of an envelope at each time, in units of 100 dB².
func liftAt(e []uint8, at []float64) []float64 {
	sum := blockSums(e)
	mean := func(from, to float64) float64 {
		a := min(max(int(from*envRate)/liftBlock, 0), len(sum)-1)
		b := min(max(int(to*envRate)/liftBlock, 0), len(sum)-1)
		if b <= a {
			return 0
		}
		return float64(sum[b]-sum[a]) / float64((b-a)*liftBlock) * envStep
	}
	out := make([]float64, len(at))
	for i, t := range at {
		d := mean(t+liftNear, t+liftSpan) - mean(t-liftSpan, t-liftNear)
		d = min(max(d, 0), liftCap)
		out[i] = d * d / 100
	}
	return out
}

// blockSums gives running sums of an envelope, one a block.
func blockSums(e []uint8) []int64 {
	sum := make([]int64, len(e)/liftBlock+1)
	for i := range len(sum) - 1 {
		sum[i+1] = sum[i]
		for _, v := range e[i*liftBlock : (i+1)*liftBlock] {
			sum[i+1] += int64(v)
		}
	}
	return sum
}
