package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

func TestCutListIsANights(t *testing.T) {
	o, ok := KindNamed("cut-list")
	require.True(t, ok)
	_, err := o.Make(timeline.Compile(testshow.Charged(t), nil), report.Filter{})
	require.ErrorContains(t, err, "about one night, and none is chosen")
}
