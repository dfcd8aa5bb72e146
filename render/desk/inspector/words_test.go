package inspector

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
	"emberbeat/timeline/given"
)

const ms = timeline.Millisecond

func TestWordsOfTimes(t *testing.T) {
	for want, got := range map[string]string{
		"130 ms": millis(130 * ms), "37.5 ms": millis(375 * ms / 10), "0 ms": millis(0),
		"− 11.3 ms": signed(-113 * ms / 10), "+ 4 ms": signed(4 * ms), "on the frame": signed(ms / 100),
		"1.94 s": seconds(1936 * ms), "2 s": seconds(2 * timeline.Second), "0 s": seconds(0),
		"100 to 150 ms": millisBetween(given.Between{Least: 100 * ms, Most: 150 * ms}), "0.4 to 2 s": secondsBetween(given.Between{Least: 400 * ms, Most: 2 * timeline.Second}),
		"0.4 s": secondsBetween(given.Between{Least: 400 * ms, Most: 400 * ms}),
	} {
		require.Equal(t, want, got)
	}
}

func TestWordsOfWhatDiffers(t *testing.T) {
	with := func(unit string) func(string) string { return func(text string) string { return text + unit } }
	require.Equal(t, "not given", spread(nil, false, with(" s")))
	require.Equal(t, "0.4 s", spread([]string{"0.4", "0.4"}, false, with(" s")))
	require.Equal(t, "9 to 10 %", spread([]string{"10", "9", "10"}, false, with(" %")), "by value, not by letter")
	require.Equal(t, "2 differ", spread([]string{"jet", "flame", "jet"}, true, with("")))
}

// Each origin has words of its own.
func TestWordsOfSources(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range []timeline.Ref{{}, {Kind: "lane", ID: "l"}, {Kind: "placed", ID: "p"}, {Kind: "article", ID: "a"}, {Kind: "article"}, {Kind: "night"}} {
		seen[sourceWords(given.Value{From: r, Mark: timeline.Measured})] = true
	}
	require.Len(t, seen, 6)
	require.Contains(t, seen, "article · measured")
}
