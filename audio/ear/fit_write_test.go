//go:build fit

package ear

import (
	"bytes"
	"fmt"
	"go/format"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// writeWeights writes weights as a Go file.
func writeWeights(t *testing.T, file, name, about string, w []float64) {
	var b bytes.Buffer
	fmt.Fprintf(&b, "package ear\n\n// Made by make fit-ear; see there before editing.\n\n// %s\nvar %s = [...]float64{", about, name)
	for i, v := range w {
		if i%6 == 0 {
			b.WriteString("\n\t")
		}
		fmt.Fprintf(&b, "%.4f, ", v)
	}
	b.WriteString("\n}\n")
	text, err := format.Source(b.Bytes())
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, text, 0o644))
}
