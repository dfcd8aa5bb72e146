package timeline

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The fast 128-bit division is compared with its slow twin.
func TestRoundDivAgreesWithBig(t *testing.T) {
	// A quarter of the range leaves room for the sum of two products.
	edge := rapid.OneOf(
		rapid.Int64Range(-1<<62, 1<<62),
		rapid.SampledFrom([]int64{0, 1, -1, 2, 3, TicksPerSecond, 1 << 62, -1 << 62}),
		rapid.Int64Range(-1000, 1000),
	)
	rapid.Check(t, func(t *rapid.T) {
		a, b, c, d := edge.Draw(t, "a"), edge.Draw(t, "b"), edge.Draw(t, "c"), edge.Draw(t, "d")
		by := edge.Draw(t, "by")
		got, ok := mul64(a, b).add(mul64(c, d)).roundDiv(by)
		if by <= 0 {
			require.False(t, ok)
			return
		}
		sum := new(big.Int).Mul(big.NewInt(a), big.NewInt(b))
		sum.Add(sum, new(big.Int).Mul(big.NewInt(c), big.NewInt(d)))
		want := roundBig(new(big.Rat).SetFrac(sum, big.NewInt(by)))
		if ok {
			require.Equal(t, want, got)
		} else {
			require.Contains(t, []int64{math.MaxInt64, math.MinInt64}, want)
		}
	})
}

func TestRoundBig(t *testing.T) {
	for _, c := range []struct{ n, d, want int64 }{
		{1, 2, 1}, {-1, 2, -1}, {1, 3, 0}, {2, 3, 1}, {-2, 3, -1}, {7, 1, 7}, {0, 5, 0}, {5, 2, 3}, {-5, 2, -3},
	} {
		require.Equal(t, c.want, roundBig(big.NewRat(c.n, c.d)), "%d/%d", c.n, c.d)
	}
	over := new(big.Rat).SetFloat64(1e30)
	require.EqualValues(t, math.MaxInt64, roundBig(over))
	require.EqualValues(t, math.MinInt64, roundBig(over.Neg(over)))
}

func TestMagnitudeOfTheSmallest(t *testing.T) {
	require.Equal(t, uint64(1)<<63, magnitude(math.MinInt64))
	q, ok := mulRoundDiv(math.MinInt64, 1, 1)
	require.True(t, ok)
	require.EqualValues(t, math.MinInt64, q)
	_, ok = mulRoundDiv(math.MinInt64, -1, 1)
	require.False(t, ok)
}
