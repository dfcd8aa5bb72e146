package widget

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
)

// Unit is a unit that a number may be given in: one of it is Num/Den of what the value counts.
type Unit struct {
	Name     string
	Num, Den int64
}

// NumberSpec says what a number field holds. Its value is a whole number of base units, as in timeline.Time; nothing is ever a float.
type NumberSpec struct {
	Units    []Unit // the first is the one shown and the one a bare number is in; none means that the value counts ones
	Digits   int    // most decimals shown
	Min, Max int64  // base units; both 0 is no bound
	Step     int64  // by an arrow key or a notch of the wheel; 0 is one shown unit
	Fine     int64  // the step with Shift; 0 is ten times finer, but at least one
	Big      int64  // the step of PgUp and PgDn; 0 is ten times Step
	Quantum  int64  // values are rounded to whole multiples of it; 0 is 1
	Hint     string
	Error    string // what is wrong with the value, "" where nothing is

	// Parse and Format replace the grammar below for values of another kind, such as bar and beat. now is the value that steps count
	// from.
	Parse  func(text string, now int64) (int64, error)
	Format func(b []byte, value int64) []byte
}

// longestNumber is the most bytes of a number that are read at all.
const longestNumber = 200

// ParseNumber reads a number that a person typed:
//
//	1.5   1,5   1/8   3 1/2      a value in the first unit
//	2f   250ms   1/4 s           a value in a named unit
//	1s+2f   2*1/8   (1+2)/4      a sum, product or quotient
//	+2f   -1/8                   a step from now; a leading minus is a step only where values below 0 are not valid
//	+=2   -=2   *2   /2          always a step
//	=-3                          always a value
//
// The result is rounded to the quantum, halves away from 0. The error says what would be valid.
func ParseNumber(text string, now int64, spec *NumberSpec) (int64, error) {
	if spec.Parse != nil {
		return spec.Parse(text, now)
	}
	p := numberParser{rest: strings.TrimSpace(text), spec: spec, now: big.NewRat(now, 1)}
	if len(p.rest) > longestNumber {
		return 0, p.fail()
	}
	v, err := p.whole()
	if err != nil {
		return 0, err
	}
	n, err := spec.round(v)
	if err != nil {
		return 0, err
	}
	if spec.bounded() && (n < spec.Min || n > spec.Max) {
		return 0, fmt.Errorf("must be from %s to %s", spec.Text(spec.Min), spec.Text(spec.Max))
	}
	return n, nil
}

// round gives the multiple of the quantum nearest to v, halves away from 0.
func (spec *NumberSpec) round(v *big.Rat) (int64, error) {
	q := max(spec.Quantum, 1)
	v = new(big.Rat).Quo(v, big.NewRat(q, 1))
	twice := new(big.Int).Mul(v.Num(), big.NewInt(2))
	den := new(big.Int).Mul(v.Denom(), big.NewInt(2))
	if v.Sign() < 0 {
		twice.Sub(twice, v.Denom())
	} else {
		twice.Add(twice, v.Denom())
	}
	n := twice.Quo(twice, den)
	n.Mul(n, big.NewInt(q))
	if !n.IsInt64() {
		return 0, errors.New("is too large: " + spec.example())
	}
	return n.Int64(), nil
}

func (spec *NumberSpec) bounded() bool { return spec.Min != 0 || spec.Max != 0 }

// unit gives the unit shown.
func (spec *NumberSpec) unit() Unit {
	if len(spec.Units) == 0 {
		return Unit{Num: 1, Den: 1}
	}
	return spec.Units[0]
}

// example says what would be valid.
func (spec *NumberSpec) example() string {
	s := "write a number as in 1.5 or 1/8"
	for i, u := range spec.Units {
		switch {
		case i == 0:
			s += ", with " + u.Name
		case i == len(spec.Units)-1:
			s += " or " + u.Name
		default:
			s += ", " + u.Name
		}
	}
	return s + "; +2 adds"
}

// numberParser reads the grammar by descent. Values are in base units; a factor without a unit is kept apart until its sum is known.
type numberParser struct {
	rest string
	spec *NumberSpec
	now  *big.Rat

	lastUnit *big.Rat // of the factor read last that had one
}

// amount is a number that is in base units already, or plain: without a unit so far.
type amount struct {
	v     *big.Rat
	plain bool
}

func (p *numberParser) fail() error { return errors.New(p.spec.example()) }

// whole reads all of the text.
func (p *numberParser) whole() (*big.Rat, error) {
	step := p.stepSign()
	a, err := p.sum()
	if err != nil {
		return nil, err
	}
	if p.rest != "" {
		return nil, p.fail()
	}
	if step == '*' || step == '/' {
		return p.scaled(a, step)
	}
	v := p.inBase(a)
	switch step {
	case '+':
		v.Add(p.now, v)
	case '-':
		v.Sub(p.now, v)
	}
	return v, nil
}

// scaled gives now times or by a plain factor.
func (p *numberParser) scaled(a amount, step byte) (*big.Rat, error) {
	if !a.plain || step == '/' && a.v.Sign() == 0 {
		return nil, errors.New("write a number without a unit, not 0, to scale by, as in *2 or /2")
	}
	if step == '/' {
		return a.v.Quo(p.now, a.v), nil
	}
	return a.v.Mul(p.now, a.v), nil
}

// stepSign reads what says that the text is a step: '+', '-', '*' or '/', 0 where it is a value.
func (p *numberParser) stepSign() byte {
	for _, s := range []string{"+=", "-=", "*=", "/=", "+", "*", "/"} {
		if p.skip(s) {
			return s[0]
		}
	}
	if p.skip("=") {
		return 0
	}
	if p.spec.Min >= 0 && p.spec.bounded() && p.skip("-") {
		return '-'
	}
	return 0
}

// skip reads a sign and the gap after it.
func (p *numberParser) skip(sign string) bool {
	rest, ok := strings.CutPrefix(p.rest, sign)
	if ok {
		p.rest = strings.TrimLeft(rest, " ")
	}
	return ok
}

// inBase gives an amount in base units: a plain one is in the unit shown.
func (p *numberParser) inBase(a amount) *big.Rat {
	if a.plain {
		u := p.spec.unit()
		return new(big.Rat).Mul(a.v, big.NewRat(u.Num, u.Den))
	}
	return a.v
}
