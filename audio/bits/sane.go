package bits

// loudest is the largest float sample that is believed: 120 dB above full
// scale. What lies beyond is damage, and would spoil every sum it entered.
const loudest = 1e6

// Sane gives silence for what is not a number, or beyond all loudness.
func Sane(v float32) float32 {
	if v >= -loudest && v <= loudest {
		return v + 0 // no negative zero: the same sound has the same bits
	}
	return 0
}
