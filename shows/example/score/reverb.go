package score

// reverb is eight delays that feed each other through a reflection, each with
// its treble damped (after J.-M. Jot, A. Chaigne, "Digital Delay Networks for
// Designing Artificial Reverberators", AES 90, 1991; from memory).
type reverb struct {
	lines [8][]float64
	at    [8]int
	dull  [8]float64
	pre   stereo
	preAt int
}

// roomDelays are primes, in samples, so that echoes do not pile up.
var roomDelays = [8]int{1151, 1327, 1559, 1753, 1987, 2251, 2539, 2861}

const (
	roomFeedback = 0.80
	roomDamping  = 0.32
	// The room answers late, so that a hit stands clear of its own echo.
	roomPredelay = 28 * SampleRate / 1000
)

func newReverb() *reverb {
	r := &reverb{pre: silence(roomPredelay)}
	for i, n := range roomDelays {
		r.lines[i] = make([]float64, n)
	}
	return r
}

func (r *reverb) step(left, right float64) (float64, float64) {
	l, ri := r.pre.left[r.preAt], r.pre.right[r.preAt]
	r.pre.left[r.preAt], r.pre.right[r.preAt] = left, right
	r.preAt = (r.preAt + 1) % r.pre.len()

	var tap [8]float64
	sum := 0.0
	for i := range tap {
		tap[i] = r.lines[i][r.at[i]]
		sum += tap[i]
	}
	for i := range tap {
		in := l
		if i%2 == 1 {
			in = ri
		}
		y := roomFeedback * (tap[i] - sum/4)
		r.dull[i] = y + roomDamping*(r.dull[i]-y)
		r.lines[i][r.at[i]] = in + r.dull[i]
		r.at[i] = (r.at[i] + 1) % len(r.lines[i])
	}
	return 0.35 * (tap[0] + tap[2] - tap[4] + tap[6]), 0.35 * (tap[1] + tap[3] - tap[5] + tap[7])
}

// echo repeats on the other side each time, duller each time.
type echo struct {
	line    stereo
	at      int
	dull    [2]float64
	repeats float64
}

func newEcho(delay Tick) *echo {
	return &echo{line: silence(max(delay.Sample(), 1)), repeats: 0.42}
}

func (e *echo) step(left, right float64) (float64, float64) {
	l, r := e.line.left[e.at], e.line.right[e.at]
	e.dull[0] += 0.4 * (l - e.dull[0])
	e.dull[1] += 0.4 * (r - e.dull[1])
	e.line.left[e.at] = 0.7*(left+right) + e.repeats*e.dull[1]
	e.line.right[e.at] = e.repeats*e.dull[0] + 0.001*right
	e.at = (e.at + 1) % e.line.len()
	return e.dull[0], e.dull[1]
}
