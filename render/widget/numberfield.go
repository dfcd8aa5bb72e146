package widget

import (
	"image"
	"math"
	"math/bits"
	"strconv"

	"emberbeat/render"
)

// NumberEvent is what became of a number field.
type NumberEvent struct {
	Value   int64 // base units; with Changed
	Changed bool
	Step    bool // by an arrow, a button or the wheel: steps that follow quickly belong together
}

// Number draws a number with its unit. It can be typed in the grammar of ParseNumber, stepped with the arrow keys, PgUp and PgDn, and by
// the wheel while it has the focus; Shift steps finely.
func (u *UI) Number(key string, r image.Rectangle, value int64, spec *NumberSpec) NumberEvent {
	c := u.control("number", key, r, reachPress)
	t := u.textOf(c.id)
	var e NumberEvent
	if c.focus {
		u.stepNumber(c, t, value, spec, &e)
	}
	if e.Changed {
		value = e.Value
	}
	u.scratch = spec.AppendText(u.scratch[:0], value)
	if t.base != string(u.scratch) || e.Changed || t.version == 0 { // comparing makes no garbage
		u.refreshNumber(t, string(u.scratch), e.Changed)
	}
	text := u.field(c, t.base, &TextSpec{Hint: spec.Hint, Unit: spec.unit().Name, Error: spec.Error, Check: u.numberCheck(spec, value)})
	if text.Committed {
		if v, err := ParseNumber(text.Text, value, spec); err == nil {
			e = NumberEvent{Value: v, Changed: v != value}
			u.refreshNumber(t, string(spec.AppendText(nil, v)), true)
		}
	}
	return e
}

// numberCheck gives the check of a number field. It is made anew each frame, because the value a step counts from may have changed.
func (u *UI) numberCheck(spec *NumberSpec, value int64) func(string) error {
	return func(text string) error {
		_, err := ParseNumber(text, value, spec)
		return err
	}
}

// refreshNumber takes a new text for the value into the field, unless something is being typed there.
func (u *UI) refreshNumber(t *textState, text string, force bool) {
	if t.draft && t.String() != t.base && !force {
		return
	}
	draft := t.draft
	t.Set(text)
	t.base, t.draft, t.bad = text, draft, ""
	if t.focused {
		t.SelectAll()
	}
}

// stepNumber steps a focused number by keys and wheel. What stands typed in the field is where the step starts from.
func (u *UI) stepNumber(c control, t *textState, value int64, spec *NumberSpec, e *NumberEvent) {
	by := spec.steps(u)
	if c.hot && u.in.Wheel.Y != 0 {
		by -= int64(u.in.Wheel.Y) * spec.step(u.in.Mods&Shift != 0)
		u.in.Wheel.Y = 0
	}
	if by == 0 {
		return
	}
	if t.focused && t.draft && t.String() != t.base {
		if v, err := ParseNumber(t.String(), value, spec); err == nil {
			value = v
		}
	}
	v := value + by
	if spec.bounded() {
		v = min(max(v, spec.Min), spec.Max)
	}
	*e = NumberEvent{Value: v, Changed: true, Step: true}
}

// steps adds up what the keys of this frame ask for.
func (spec *NumberSpec) steps(u *UI) int64 {
	by := int64(0)
	for _, k := range []struct {
		key  Key
		mods Mods
		by   int64
	}{
		{KeyUp, 0, spec.step(false)}, {KeyDown, 0, -spec.step(false)}, {KeyUp, Shift, spec.step(true)}, {KeyDown, Shift, -spec.step(true)},
		{KeyPageUp, 0, spec.big()}, {KeyPageDown, 0, -spec.big()},
	} {
		for u.take(k.key, k.mods) {
			by += k.by
		}
	}
	return by
}

func (spec *NumberSpec) step(fine bool) int64 {
	step := spec.Step
	if step == 0 {
		step = max(spec.unit().Num/spec.unit().Den, 1)
	}
	if !fine {
		return step
	}
	if spec.Fine != 0 {
		return spec.Fine
	}
	return max(step/10, spec.Quantum, 1)
}

func (spec *NumberSpec) big() int64 {
	if spec.Big != 0 {
		return spec.Big
	}
	return 10 * spec.step(false)
}

// Text gives a value as the field shows it, with its unit.
func (spec *NumberSpec) Text(value int64) string {
	b := spec.AppendText(nil, value)
	if u := spec.unit(); u.Name != "" && spec.Format == nil {
		b = append(append(b, ' '), u.Name...)
	}
	return string(b)
}

// AppendText appends a value as the field shows it, without unit: rounded to Digits decimals, without noughts at the end.
func (spec *NumberSpec) AppendText(b []byte, value int64) []byte {
	if spec.Format != nil {
		return spec.Format(b, value)
	}
	u, scale := spec.unit(), uint64(1)
	for range spec.Digits {
		scale *= 10
	}
	size := uint64(value)
	if value < 0 {
		b, size = append(b, '-'), -size
	}
	n := scaled(size, uint64(u.Den)*scale, uint64(u.Num))
	b = strconv.AppendUint(b, n/scale, 10)
	low := n % scale
	if low == 0 {
		return b
	}
	for b = append(b, '.'); low > 0; low %= scale {
		scale /= 10
		b = append(b, byte('0'+low/scale))
	}
	return b
}

// scaled gives v·by/over, rounded to the nearest, halves up. What does not fit is brought to the largest number.
func scaled(v, by, over uint64) uint64 {
	hi, lo := bits.Mul64(v, by)
	lo, carry := bits.Add64(lo, over/2, 0)
	if hi += carry; hi >= over {
		return math.MaxUint64
	}
	n, _ := bits.Div64(hi, lo, over)
	return n
}

// NumberWidth gives the logical width that a number field needs for its longest value.
func (u *UI) NumberWidth(spec *NumberSpec) int {
	f := u.Scene().Face(render.TypeLabel)
	w := max(f.Measure(spec.Text(spec.Min)), f.Measure(spec.Text(spec.Max)))
	return w*100/int(u.Scene().Scale) + 30
}
