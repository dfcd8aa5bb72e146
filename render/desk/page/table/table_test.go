package table

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestCompareCells(t *testing.T) {
	for _, list := range []string{"|2|10|10.5", "Jet 2|jet 10|Jet 10 left|Spark", "1.9|1.10x|2.1", "a|a1|ab", "-3|-1|0|0.12|0.5"} {
		words := strings.Split(list, "|")
		for i := 1; i < len(words); i++ {
			require.Negative(t, Compare(words[i-1], words[i]), "%q before %q", words[i-1], words[i])
			require.Positive(t, Compare(words[i], words[i-1]), "%q after %q", words[i], words[i-1])
			require.Zero(t, Compare(words[i], words[i]))
		}
	}
}
