package timeline

import (
	"math"
	"math/big"
	"math/bits"
)

// int128 is a signed 128-bit number in two's complement. It holds the product
// of two int64 exactly, which is what keeps conversions free of rounding until
// their one final division.
type int128 struct {
	hi int64
	lo uint64
}

// mul64 returns a*b; it cannot overflow.
func mul64(a, b int64) int128 {
	hi, lo := bits.Mul64(magnitude(a), magnitude(b))
	p := int128{int64(hi), lo}
	if (a < 0) != (b < 0) {
		return p.neg()
	}
	return p
}

func (a int128) neg() int128 {
	lo, borrow := bits.Sub64(0, a.lo, 0)
	return int128{int64(-uint64(a.hi) - borrow), lo}
}

// add returns a+b. The callers' products leave room for one addition.
func (a int128) add(b int128) int128 {
	lo, carry := bits.Add64(a.lo, b.lo, 0)
	return int128{int64(uint64(a.hi) + uint64(b.hi) + carry), lo}
}

// roundDiv returns a/d to the nearest integer, halves away from zero. It
// reports false if the quotient does not fit or d is not positive.
func (a int128) roundDiv(d int64) (int64, bool) {
	if d <= 0 {
		return 0, false
	}
	negative := a.hi < 0
	if negative {
		a = a.neg()
	}
	lo, carry := bits.Add64(a.lo, uint64(d)/2, 0)
	hi := uint64(a.hi) + carry
	if hi >= uint64(d) {
		return 0, false
	}
	q, _ := bits.Div64(hi, lo, uint64(d))
	return signed(q, negative)
}

// mulRoundDiv returns a*b/d to the nearest integer, halves away from zero.
func mulRoundDiv(a, b, d int64) (int64, bool) {
	if hi, lo := bits.Mul64(magnitude(a), magnitude(b)); d > 0 && hi == 0 && lo <= math.MaxInt64-uint64(d)/2 { // as nearly all are
		if d > 1 {
			lo = (lo + uint64(d)/2) / uint64(d)
		}
		return signed(lo, (a < 0) != (b < 0))
	}
	return mul64(a, b).roundDiv(d)
}

// signed puts a sign on a magnitude and reports whether it fits an int64.
func signed(m uint64, negative bool) (int64, bool) {
	if negative {
		return -int64(m), m <= 1<<63
	}
	return int64(m), m <= math.MaxInt64
}

// magnitude returns |n|, right for the smallest int64 as well.
func magnitude(n int64) uint64 {
	if n < 0 {
		return -uint64(n)
	}
	return uint64(n)
}

// clampInt64 returns the int64 at the end of the range on the given side.
func clampInt64(negative bool) int64 {
	if negative {
		return math.MinInt64
	}
	return math.MaxInt64
}

// roundBig returns r to the nearest integer, halves away from zero, clamped
// to the range of int64. It is the slow twin of roundDiv.
func roundBig(r *big.Rat) int64 {
	n := new(big.Int).Abs(r.Num())
	n.Lsh(n, 1).Add(n, r.Denom())
	n.Quo(n, new(big.Int).Lsh(r.Denom(), 1))
	if r.Sign() < 0 {
		n.Neg(n)
	}
	if n.IsInt64() {
		return n.Int64()
	}
	return clampInt64(n.Sign() < 0)
}
