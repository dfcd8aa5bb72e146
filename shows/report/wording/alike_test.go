package wording

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestJoinNames(t *testing.T) {
	for _, c := range [][2]string{
		{"jet 2|jet 1|jet 3|jet 5", "jet 1–3, 5"}, {"jet 1|flame", "jet 1, flame"}, {"a1|a2", "a1, a2"}, {"jet 01|jet 02", "jet 01, jet 02"},
		{"jet 2|fan 9|jet 3", "jet 2–3, fan 9"}, {"12", "12"}, {"jet 99999999999999999999", "jet 99999999999999999999"},
	} {
		require.Equal(t, c[1], JoinNames(strings.Split(c[0], "|")))
	}
}
