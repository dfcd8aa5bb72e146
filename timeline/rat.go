package timeline

import (
	"fmt"
	"math/big"
	"math/bits"
	"strconv"
	"strings"
)

// Rat is an exact fraction in lowest terms, with a positive denominator. Equal
// fractions are equal under ==, and the zero value is 0.
//
// Sums and products are exact. A result whose numerator or denominator does
// not fit 64 bits panics: it must never turn into a wrong position. Operands
// within the bounds of the position grammar (numbers up to 1,000,000,
// denominators up to 9,600) cannot cause it in Add, Sub and Cmp; BarBeat.Check
// tells whether an edit has left those bounds.
type Rat struct {
	num int64
	// The denominator minus one, so that the zero value is 0/1.
	denLess1 int64
}

// Bounds of numbers in text.
const (
	maxRatDen    = 9600
	maxRatNumber = 1_000_000
)

// NewRat returns n/d in lowest terms. It panics if d is zero, or if the reduced
// fraction does not fit 64 bits, which only -1<<63 can cause.
func NewRat(n, d int64) Rat {
	if d == 0 {
		panic("timeline: fraction with denominator zero")
	}
	return reduce(magnitude(n), magnitude(d), (n < 0) != (d < 0))
}

// reduce returns the fraction of two magnitudes, d not zero, with a sign.
func reduce(n, d uint64, negative bool) Rat {
	g := gcd(n, d)
	num, okNum := signed(n/g, negative)
	den, okDen := signed(d/g, false)
	if !okNum || !okDen {
		panic("timeline: fraction does not fit 64 bits")
	}
	return Rat{num, den - 1}
}

func gcd(a, b uint64) uint64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// ratHelp ends every error about the text of a fraction.
const ratHelp = "write a whole number or a fraction such as 3, 1/2 or -7/3, numbers up to 1000000 and denominators from 1 to 9600"

// ParseRat reads a whole number or a fraction: `3`, `1/2`, `-7/3`. Numbers go
// up to 1,000,000 and denominators from 1 to 9,600.
func ParseRat(s string) (Rat, error) {
	text, negative := cutSign(s)
	num, den, isFraction := strings.Cut(text, "/")
	n, ok := parseCount(num, maxRatNumber)
	d := int64(1)
	if ok && isFraction {
		d, ok = parseCount(den, maxRatDen)
	}
	if !ok || d == 0 {
		return Rat{}, fmt.Errorf("fraction %s cannot be read: %s", quoted(s), ratHelp)
	}
	return reduce(uint64(n), uint64(d), negative), nil
}

// Num returns the numerator, which carries the sign.
func (r Rat) Num() int64 { return r.num }

// Den returns the denominator, always positive.
func (r Rat) Den() int64 { return r.denLess1 + 1 }

// IsZero reports whether r is 0.
func (r Rat) IsZero() bool { return r.num == 0 }

// Neg returns -r.
func (r Rat) Neg() Rat {
	return reduce(magnitude(r.num), uint64(r.Den()), r.num > 0)
}

// Add returns r + s.
func (r Rat) Add(s Rat) Rat {
	if r.denLess1 == 0 && s.denLess1 == 0 {
		if n := r.num + s.num; (n > r.num) == (s.num > 0) {
			return Rat{num: n}
		}
	}
	if r.isSmall() && s.isSmall() {
		return NewRat(r.num*s.Den()+s.num*r.Den(), r.Den()*s.Den())
	}
	return fromBig(new(big.Rat).Add(r.big(), s.big()))
}

// Sub returns r - s.
func (r Rat) Sub(s Rat) Rat {
	if r.isSmall() && s.isSmall() {
		return NewRat(r.num*s.Den()-s.num*r.Den(), r.Den()*s.Den())
	}
	return fromBig(new(big.Rat).Sub(r.big(), s.big()))
}

// Mul returns r * s.
func (r Rat) Mul(s Rat) Rat {
	if r.isSmall() && s.isSmall() {
		return NewRat(r.num*s.num, r.Den()*s.Den())
	}
	return fromBig(new(big.Rat).Mul(r.big(), s.big()))
}

// isSmall reports whether products of two such fractions' parts, and their
// sum, surely fit 64 bits.
func (r Rat) isSmall() bool {
	const limit = 1 << 30
	return -limit <= r.num && r.num <= limit && r.denLess1 < limit
}

func (r Rat) big() *big.Rat { return big.NewRat(r.num, r.Den()) }

func fromBig(b *big.Rat) Rat {
	if !b.Num().IsInt64() || !b.Denom().IsInt64() {
		panic("timeline: fraction does not fit 64 bits")
	}
	return NewRat(b.Num().Int64(), b.Denom().Int64())
}

// Cmp returns -1, 0 or 1 as r is less than, equal to or greater than s. It is
// exact for all values.
func (r Rat) Cmp(s Rat) int {
	if (r.num < 0) != (s.num < 0) {
		if r.num < 0 {
			return -1
		}
		return 1
	}
	aHi, aLo := bits.Mul64(magnitude(r.num), uint64(s.Den()))
	bHi, bLo := bits.Mul64(magnitude(s.num), uint64(r.Den()))
	c := compareWords(aHi, aLo, bHi, bLo)
	if r.num < 0 {
		return -c
	}
	return c
}

func compareWords(aHi, aLo, bHi, bLo uint64) int {
	switch {
	case aHi == bHi && aLo == bLo:
		return 0
	case aHi < bHi || aHi == bHi && aLo < bLo:
		return -1
	}
	return 1
}

// Floor returns the greatest integer not above r.
func (r Rat) Floor() int64 {
	return floorDiv(r.num, r.Den())
}

// floorDiv returns n/d rounded down, d positive.
func floorDiv(n, d int64) int64 {
	q := n / d
	if n%d < 0 {
		q--
	}
	return q
}

// String returns r as ParseRat reads it: `3`, `1/2`, `-7/3`.
func (r Rat) String() string {
	s := strconv.FormatInt(r.num, 10)
	if r.denLess1 == 0 {
		return s
	}
	return s + "/" + strconv.FormatInt(r.Den(), 10)
}
