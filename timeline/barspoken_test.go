package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSpoken(t *testing.T) {
	for text, want := range map[string][2]string{
		"17.3":         {"17", "3"},
		"17.3+1/2":     {"17", "3+1/2"},
		"0.4+23/24":    {"0", "4+23/24"},
		"37.2+241/480": {"37", "2.50"},
		"-1.1+1/960":   {"-1", "1.00"},
		"3.4+959/960":  {"3", "4.99"},
	} {
		b, err := ParseBarBeat(text)
		require.NoError(t, err)
		bar, beat := b.Spoken()
		require.Equal(t, want, [2]string{bar, beat}, text)
	}
}
