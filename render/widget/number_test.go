package widget

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Seconds at 25 frames in flicks of 1/282,240,000 s: a frame is 11,289,600.
const frame25 = flick / 25

func TestParseNumber(t *testing.T) {
	side := &NumberSpec{Units: []Unit{{"m", 1000, 1}}, Digits: 3, Min: -20_000, Max: 20_000}
	frames := &NumberSpec{Units: []Unit{{"f", 1, 1}}, Max: 250}
	ntsc := &NumberSpec{Units: []Unit{{"s", flick, 1}, {"f", 1001 * flick / 30000, 1}}, Max: 60 * flick}
	bare := &NumberSpec{}
	cases := []struct {
		spec *NumberSpec
		text string
		now  int64
		want int64
		bad  string
	}{
		{&openTime, "17.3", 0, 173 * flick / 10, ""},
		{&openTime, " 17,3 ", 0, 173 * flick / 10, ""},
		{&openTime, "1/8", 0, flick / 8, ""},
		{&openTime, "1/8 s", 0, flick / 8, ""},
		{&openTime, "3 1/2", 0, 7 * flick / 2, ""},
		{&openTime, "12f", 0, 12 * frame25, ""},
		{&openTime, "1/2f", 0, frame25 / 2, ""},
		{&openTime, "12 F", 0, 12 * frame25, ""},
		{&openTime, "250ms", 0, flick / 4, ""},
		{&openTime, "1s+2f", 0, flick + 2*frame25, ""},
		{&openTime, "1+2f", 0, flick + 2*frame25, ""},
		{&openTime, "2s-1/4", 0, 7 * flick / 4, ""},
		{&openTime, "2*1/8", 0, flick / 4, ""},
		{&openTime, "3*2f", 0, 6 * frame25, ""},
		{&openTime, "(1+2)/4", 0, 3 * flick / 4, ""},
		{&openTime, "(1+1)f", 0, 2 * frame25, ""},
		{&openTime, "+2f", flick, flick + 2*frame25, ""},
		{&openTime, "-2f", flick, flick - 2*frame25, ""},
		{&openTime, "+=2f", flick, flick + 2*frame25, ""},
		{&openTime, "-=0.5", flick, flick / 2, ""},
		{&openTime, "*2", flick, 2 * flick, ""},
		{&openTime, "/4", flick, flick / 4, ""},
		{&openTime, "*=1/2", flick, flick / 2, ""},
		{&openTime, "=3", flick, 3 * flick, ""},
		{&openTime, "0.00014", 0, flick / 10_000, ""}, // rounded to a tenth of a millisecond
		{&openTime, "-2", flick, 0, "must be from 0 s to 60 s"},
		{&openTime, "61", 0, 0, "must be from 0 s to 60 s"},
		{&openTime, "", 0, 0, "write a number as in 1.5 or 1/8, with s, f or ms; +2 adds"},
		{&openTime, "two", 0, 0, "write a number"},
		{&openTime, "1.2.3", 0, 0, "write a number"},
		{&openTime, "1,000,5", 0, 0, "write a number"},
		{&openTime, "1e9", 0, 0, "write a number"},
		{&openTime, "2 kg", 0, 0, "write a number"},
		{&openTime, "1s*2s", 0, 0, "write a number"},
		{&openTime, "1f f", 0, 0, "write a number"},
		{&openTime, "1/0", 0, 0, "cannot divide by 0"},
		{&openTime, "/0", flick, 0, "not 0, to scale by"},
		{&openTime, "*2f", flick, 0, "without a unit"},
		{&openTime, "(1+2", 0, 0, "write the )"},
		{&openTime, "99999999999999999999999999999999999999999999", 0, 0, "write a number"},
		{side, "-3", 1000, -3000, ""}, // below 0 is valid here, so a minus is no step
		{side, "−3", 1000, -3000, ""}, // a printed minus
		{side, "-=3", 1000, -2000, ""},
		{side, "+3", 1000, 4000, ""},
		{side, "=-3", 1000, -3000, ""},
		{side, "-0.0005", 0, -1, ""}, // halves away from 0
		{frames, "+2f", 24, 26, ""},
		{frames, "1/8", 24, 0, ""},
		{frames, "2.5", 24, 3, ""},
		{ntsc, "1f", 0, 9_417_408, ""}, // 1001/30000 s, exact
		{bare, "9223372036854775807", 0, 9223372036854775807, ""},
		{bare, "9223372036854775808", 0, 0, "too large"},
	}
	for _, c := range cases {
		got, err := ParseNumber(c.text, c.now, c.spec)
		if c.bad != "" {
			require.ErrorContains(t, err, c.bad, "%q", c.text)
			continue
		}
		require.NoError(t, err, "%q", c.text)
		require.Equal(t, c.want, got, "%q", c.text)
	}
}

func TestNumberText(t *testing.T) {
	cases := []struct {
		spec  *NumberSpec
		value int64
		want  string
	}{
		{&openTime, 0, "0 s"},
		{&openTime, flick / 2, "0.5 s"},
		{&openTime, flick / 3, "0.3333 s"},
		{&openTime, 2 * flick / 3, "0.6667 s"},
		{&openTime, flick - 1, "1 s"},
		{&openTime, -flick / 20, "-0.05 s"},
		{&openTime, 12 * flick, "12 s"},
		{&lead, 24, "24 f"},
		{&NumberSpec{}, -9223372036854775808, "-9223372036854775808"},
		{&NumberSpec{Format: func(b []byte, v int64) []byte { return append(b, "bar"...) }, Units: []Unit{{"s", 1, 1}}}, 1, "bar"},
	}
	for _, c := range cases {
		require.Equal(t, c.want, c.spec.Text(c.value))
	}
}

// TestNumberThereAndBack: what a field shows of a value on its quantum is read as that value again.
func TestNumberThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Int64Range(0, 600_000).Draw(t, "tenths of a millisecond") * openTime.Quantum
		got, err := ParseNumber(string(openTime.AppendText(nil, v)), 0, &openTime)
		if err != nil || got != v {
			t.Fatalf("%d shown as %s read as %d, %v", v, openTime.Text(v), got, err)
		}
	})
}

// TestNumberSums compares sums of fractions with math/big.
func TestNumberSums(t *testing.T) {
	spec := &NumberSpec{Units: []Unit{{"x", 720_720, 1}}}
	rapid.Check(t, func(t *rapid.T) {
		text, sum := "=0", new(big.Rat)
		for range rapid.IntRange(1, 6).Draw(t, "terms") {
			a, b := rapid.Int64Range(0, 99).Draw(t, "a"), rapid.Int64Range(1, 16).Draw(t, "b")
			term := big.NewRat(a, b)
			if rapid.Bool().Draw(t, "minus") {
				text, sum = text+"-"+term.String(), sum.Sub(sum, term)
			} else {
				text, sum = text+" + "+term.String(), sum.Add(sum, term)
			}
		}
		sum.Mul(sum, big.NewRat(720_720, 1)) // all of 1 to 16 divide 720,720
		got, err := ParseNumber(text, 0, spec)
		if err != nil || sum.Cmp(big.NewRat(got, 1)) != 0 {
			t.Fatalf("%s: %d, %v, want %s", text, got, err, sum)
		}
	})
}

func FuzzParseNumber(f *testing.F) {
	for _, s := range []string{"1/8", "+2f", "3 1/2", "(1+2)/4", "-=1s", "*/", "((((", "1,5", "−2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v, err := ParseNumber(text, flick, &openTime)
		if err == nil && (v < openTime.Min || v > openTime.Max || v%openTime.Quantum != 0) {
			t.Fatalf("%q gives %d", text, v)
		}
	})
}
