package timeline_test

import (
	"math"
	"math/big"
	"strings"
	"testing"

	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func rat(n, d int64) timeline.Rat { return timeline.NewRat(n, d) }

// grammarRat draws a fraction within the bounds of the position grammar.
func grammarRat(t *rapid.T, name string) timeline.Rat {
	den := rapid.OneOf(rapid.SampledFrom([]int64{1, 2, 3, 4, 8, 960}), rapid.Int64Range(1, 9600)).Draw(t, name+" den")
	return rat(rapid.Int64Range(-1_000_000*den, 1_000_000*den).Draw(t, name+" num"), den)
}

func exact(r timeline.Rat) *big.Rat { return big.NewRat(r.Num(), r.Den()) }

func TestRatIsReduced(t *testing.T) {
	require.Equal(t, rat(1, 2), rat(-3, -6))
	require.Equal(t, rat(-1, 2), rat(3, -6))
	require.Equal(t, timeline.Rat{}, rat(0, -7))
	require.True(t, timeline.Rat{}.IsZero())
	require.EqualValues(t, 1, timeline.Rat{}.Den())
	require.EqualValues(t, math.MinInt64, rat(math.MinInt64, 1).Num())
	require.Equal(t, rat(1, 1), rat(math.MinInt64, math.MinInt64))
	require.Panics(t, func() { rat(1, 0) })
	require.Panics(t, func() { rat(math.MinInt64, -1) })
	require.Panics(t, func() { rat(1, math.MinInt64) })
}

func TestRatText(t *testing.T) {
	for text, want := range map[string]timeline.Rat{
		"3": rat(3, 1), "1/2": rat(1, 2), "-7/3": rat(-7, 3), "0": {}, "1000000": rat(1_000_000, 1), "1/9600": rat(1, 9600),
	} {
		got, err := timeline.ParseRat(text)
		require.NoError(t, err, text)
		require.Equal(t, want, got, text)
		require.Equal(t, text, got.String())
	}
	lax, err := timeline.ParseRat("-04/6")
	require.NoError(t, err)
	require.Equal(t, "-2/3", lax.String())
}

func TestParseRatRefuses(t *testing.T) {
	for _, text := range []string{"", "-", "/", "1/", "/2", "1/0", "1/-2", "1/2/3", "+1", "1.5", " 1", "1000001", "1/9601", "99999999999999999999"} {
		_, err := timeline.ParseRat(text)
		require.ErrorContains(t, err, "such as 3, 1/2 or -7/3", text)
	}
}

func TestRatAgreesWithBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := grammarRat(t, "a"), grammarRat(t, "b")
		require.Zero(t, exact(a.Add(b)).Cmp(new(big.Rat).Add(exact(a), exact(b))))
		require.Zero(t, exact(a.Sub(b)).Cmp(new(big.Rat).Sub(exact(a), exact(b))))
		require.Equal(t, exact(a).Cmp(exact(b)), a.Cmp(b))
		require.Equal(t, a == b, a.Cmp(b) == 0)
		require.Equal(t, timeline.Rat{}, a.Add(a.Neg()))
		require.Equal(t, a, a.Sub(b).Add(b))
		floor := rat(a.Floor(), 1)
		require.LessOrEqual(t, floor.Cmp(a), 0)
		require.Positive(t, floor.Add(rat(1, 1)).Cmp(a))
	})
}

// agreesWithBig checks that sums and products of any size are exact, or panic
// where the result does not fit; they never turn into another number.
func agreesWithBig(t require.TestingT, a, b timeline.Rat) {
	require.Equal(t, exact(a).Cmp(exact(b)), a.Cmp(b))
	for _, op := range []struct {
		ours func(timeline.Rat, timeline.Rat) timeline.Rat
		big  func(z, x, y *big.Rat) *big.Rat
	}{
		{timeline.Rat.Add, (*big.Rat).Add}, {timeline.Rat.Sub, (*big.Rat).Sub}, {timeline.Rat.Mul, (*big.Rat).Mul},
	} {
		want := op.big(new(big.Rat), exact(a), exact(b))
		if want.Num().IsInt64() && want.Denom().IsInt64() {
			require.Zero(t, want.Cmp(exact(op.ours(a, b))), "%s and %s", a, b)
		} else {
			require.Panics(t, func() { op.ours(a, b) }, "%s and %s", a, b)
		}
	}
}

func TestRatOfAnySize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) timeline.Rat {
			return rat(rapid.Int64Range(-math.MaxInt64, math.MaxInt64).Draw(t, name+" num"), rapid.Int64Range(1, math.MaxInt64).Draw(t, name+" den"))
		}
		agreesWithBig(t, draw("a"), draw("b"))
	})
	// Around the sizes at which products stop to fit.
	var parts []int64
	for power := 29; power <= 33; power++ {
		parts = append(parts, 1<<power-1, 1<<power+1)
	}
	for _, n := range parts {
		for _, d := range parts {
			agreesWithBig(t, rat(n, d), rat(-d-2, n))
			agreesWithBig(t, rat(-n, d), rat(-n-2, d+2))
			agreesWithBig(t, rat(n, d), rat(n, 2))
		}
	}
	require.Panics(t, func() { rat(math.MaxInt64, 1).Add(rat(1, 1)) })
	require.Panics(t, func() { rat(math.MinInt64, 1).Sub(rat(1, 1)) })
	require.Panics(t, func() { rat(math.MinInt64, 1).Neg() })
	require.Equal(t, rat(-math.MaxInt64, 1), rat(math.MaxInt64, 1).Neg())
}

func TestRatProducts(t *testing.T) {
	require.Equal(t, rat(1, 2), rat(3, 4).Mul(rat(2, 3)))
	require.Equal(t, timeline.Rat{}, rat(3, 4).Mul(timeline.Rat{}))
	require.Equal(t, rat(1, 1), rat(1<<62, 3).Mul(rat(3, 1<<62)))
}

func FuzzParseRat(f *testing.F) {
	for _, s := range []string{"3", "1/2", "-7/3", "1000000/9600", "-0", "1/0", "010/08"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r, err := timeline.ParseRat(s)
		if err != nil {
			return
		}
		// Each part by itself: big.Rat takes a leading zero for base eight.
		num, den, isFraction := strings.Cut(s, "/")
		if !isFraction {
			den = "1"
		}
		n, okNum := new(big.Int).SetString(num, 10)
		d, okDen := new(big.Int).SetString(den, 10)
		require.True(t, okNum && okDen)
		require.Zero(t, new(big.Rat).SetFrac(n, d).Cmp(exact(r)))
		back, err := timeline.ParseRat(r.String())
		require.NoError(t, err)
		require.Equal(t, r, back)
	})
}
