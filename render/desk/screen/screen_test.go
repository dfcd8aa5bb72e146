package screen

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestHere(t *testing.T) {
	if os.Getenv("DISPLAY") == "" {
		t.Skip("no display to compare with")
	}
	require.True(t, Here())
	for _, dead := range []string{"", ":4711", "nonsense", ":4711.0", "unix:4712"} {
		t.Setenv("DISPLAY", dead)
		require.False(t, Here(), "%q", dead)
	}
}
