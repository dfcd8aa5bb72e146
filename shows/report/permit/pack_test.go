package permit

import (
	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

func packOf(t require.TestingT, p *timeline.Plan) *Pack {
	k, err := NewPack(p)
	require.NoError(t, err)
	return k
}
