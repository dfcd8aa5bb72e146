package field_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline/field"
)

// What a zero stands for is what the help says; where it says nothing, a zero is an amount.
func TestZero(t *testing.T) {
	for _, c := range []struct {
		help, value, want string
		ok                bool
	}{
		{"reach; 0 = not given", "0", "not given", true},
		{"open time; 0 = the lane's, then the article's", "0.0000", "the lane's", true},
		{"0 = all; else that many", "0", "all", true},
		{"reach; 0 = not given", "0.5", "", false},
		{"reach", "0", "", false},
		{"reach; 0 = not given", "", "", false},
	} {
		f := field.Field{Help: c.help}
		means, ok := f.Zero(field.Value{Text: c.value})
		require.Equal(t, c.ok, ok, c)
		if ok {
			require.Equal(t, c.want, means, c)
		}
	}
}
