package render

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The window around the page takes 28, 40 and 24, the fixed rows of the page 56, 30, 22, 20, 21 and 26.
const aroundLanes = 28 + 40 + 24 + 56 + 30 + 22 + 20 + 21 + 26

func TestFreeHeight(t *testing.T) {
	for _, c := range []struct {
		name              string
		high, lanes, lane int
		want              Heights
	}{
		{"1440×900", 900, 10, 0, Heights{181, 40, 44}},
		{"1366×768", 768, 10, 0, Heights{132, 34, 24}},
		{"1280×720", 720, 10, 0, Heights{132, 29, 24}},
		{"lanes scroll", 480, 10, 0, Heights{96, 26, 24}},
		{"hardly anything", 100, 10, 0, Heights{96, 26, 24}},
		{"all that there is, then waveform", 1440, 10, 0, Heights{1440 - aroundLanes - 480 - 96, 48, 96}},
		{"density last", 267 + 260 + 480 + 60, 10, 0, Heights{260, 48, 60}},
		{"no lane is as one", 900, 0, 0, Heights{900 - aroundLanes - 48 - 96, 48, 96}},
		{"lanes as the user has them", 900, 10, 30, Heights{260, 30, 73}},
		{"lanes as the user has them, too high", 768, 10, 60, Heights{96, 60, 24}},
	} {
		require.Equal(t, c.want, FreeHeight(c.high-aroundLanes, c.lanes, c.lane), c.name)
	}
}

// More height never makes anything smaller, never more is given than there is, and of what is left nothing could have been given.
func TestFreeHeightGrowsWithThePage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lanes := rapid.IntRange(0, 60).Draw(t, "lanes")
		free := rapid.IntRange(0, 3000).Draw(t, "free")
		a, b := FreeHeight(free, lanes, 0), FreeHeight(free+1, lanes, 0)
		if b.Wave < a.Wave || b.Lane < a.Lane || b.Density < a.Density {
			t.Fatalf("%v became %v", a, b)
		}
		used := a.Wave + a.Lane*max(lanes, 1) + a.Density
		if a != leastHeights && used > free {
			t.Fatalf("%v is %d of %d", a, used, free)
		}
		if a != leastHeights && free-used > max(lanes, 1) {
			t.Fatalf("%v leaves %d of %d", a, free-used, free)
		}
	})
}

func ExampleFreeHeight() {
	fmt.Println(FreeHeight(633, 10, 0))
	// Output: {181 40 44}
}
