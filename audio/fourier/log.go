package fourier

import "math"

// Log2 is the base-2 logarithm of a positive normal number, exact to 1e-5:
// the exponent is read off the bits and the mantissa goes through a polynomial.
func Log2(x float32) float32 {
	bits := math.Float32bits(x)
	exp := float32(int32(bits>>23) - 127)
	m := math.Float32frombits(bits&0x007fffff | 0x3f800000)
	// least-squares fit of log2 over [1, 2), pinned to 0 at 1 and 1 at 2
	t := m - 1
	return exp + t*(1.4425017+t*(-0.7176681+t*(0.4557429+t*(-0.2748323+t*(0.1193814-t*0.0251256)))))
}
