package widget

import (
	"errors"
	"math/big"
	"strings"
)

// sum reads terms with + and − between them.
func (p *numberParser) sum() (amount, error) {
	a, err := p.product()
	for err == nil {
		minus := false
		switch {
		case p.skip("+"):
		case p.skip("-"), p.skip("−"):
			minus = true
		default:
			return a, nil
		}
		var b amount
		if b, err = p.product(); err != nil {
			break
		}
		a = p.add(a, b, minus)
	}
	return a, err
}

// add adds two amounts; where one has a unit, the plain one is in the unit shown.
func (p *numberParser) add(a, b amount, minus bool) amount {
	if a.plain != b.plain {
		a, b = amount{v: p.inBase(a)}, amount{v: p.inBase(b)}
	}
	if minus {
		a.v.Sub(a.v, b.v)
	} else {
		a.v.Add(a.v, b.v)
	}
	return a
}

// product reads factors with * and / between them, at most one of which has a unit.
func (p *numberParser) product() (amount, error) {
	a, err := p.factor()
	for err == nil {
		over := false
		switch {
		case p.skip("*"), p.skip("×"):
		case p.skip("/"):
			over = true
		default:
			return a, nil
		}
		var b amount
		if b, err = p.factor(); err != nil {
			break
		}
		a, err = p.times(a, b, over)
	}
	return a, err
}

func (p *numberParser) times(a, b amount, over bool) (amount, error) {
	switch {
	case over && b.v.Sign() == 0:
		return a, errors.New("cannot divide by 0: " + p.spec.example())
	case !a.plain && !b.plain:
		return a, p.fail()
	case over && !b.plain && a.v.IsInt():
		// 1/8 s: the unit belongs to the whole fraction
		u := p.lastUnit
		a.v.Quo(a.v, b.v)
		a.v.Mul(a.v, new(big.Rat).Mul(u, u))
		return amount{v: a.v}, nil
	case over && !b.plain:
		return a, p.fail()
	case over:
		a.v.Quo(a.v, b.v)
	default:
		a.v.Mul(a.v, b.v)
	}
	a.plain = a.plain && b.plain
	return a, nil
}

// factor reads a number with its unit, a bracket, or either with a sign.
func (p *numberParser) factor() (amount, error) {
	switch {
	case p.skip("-"), p.skip("−"):
		a, err := p.factor()
		if err == nil {
			a.v.Neg(a.v)
		}
		return a, err
	case p.skip("("):
		a, err := p.sum()
		if err == nil && !p.skip(")") {
			err = errors.New("a bracket is open: write the )")
		}
		if err != nil {
			return a, err
		}
		return p.withUnit(a)
	}
	a, err := p.digits()
	if err != nil {
		return a, err
	}
	return p.withUnit(a)
}

// digits reads a decimal number, and a fraction after a gap: 3 1/2.
func (p *numberParser) digits() (amount, error) {
	n := strings.IndexFunc(p.rest, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != ',' })
	if n < 0 {
		n = len(p.rest)
	}
	text := strings.Replace(p.rest[:n], ",", ".", 1)
	v, ok := new(big.Rat).SetString(text)
	if !ok || n > 40 || strings.Contains(text, ",") {
		return amount{}, p.fail()
	}
	gap := n < len(p.rest) && p.rest[n] == ' '
	p.rest = strings.TrimLeft(p.rest[n:], " ")
	if gap && v.IsInt() && p.rest != "" && p.rest[0] >= '0' && p.rest[0] <= '9' {
		return p.mixed(v)
	}
	return amount{v, true}, nil
}

// mixed reads the fraction of a mixed number.
func (p *numberParser) mixed(whole *big.Rat) (amount, error) {
	top, err := p.digits()
	if err != nil || !p.skip("/") {
		return amount{}, p.fail()
	}
	low, err := p.digits()
	if err != nil || low.v.Sign() == 0 {
		return amount{}, p.fail()
	}
	return amount{whole.Add(whole, top.v.Quo(top.v, low.v)), true}, nil
}

// withUnit reads the unit after a number, if there is one.
func (p *numberParser) withUnit(a amount) (amount, error) {
	n := strings.IndexFunc(p.rest, func(r rune) bool { return strings.ContainsRune("+-−*×/() ", r) || r >= '0' && r <= '9' })
	if n < 0 {
		n = len(p.rest)
	}
	if n == 0 {
		return a, nil
	}
	name := p.rest[:n]
	for _, u := range p.spec.Units {
		if strings.EqualFold(u.Name, name) && a.plain {
			p.rest = strings.TrimLeft(p.rest[n:], " ")
			p.lastUnit = big.NewRat(u.Num, u.Den)
			return amount{v: new(big.Rat).Mul(a.v, p.lastUnit)}, nil
		}
	}
	return a, p.fail()
}
