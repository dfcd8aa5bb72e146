package stripe

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// Every kind of file is made of one song, is as long as it says, and refuses
// what it cannot hold with what would be right.
func TestEverySoundOfferMakesItsFile(t *testing.T) {
	p := timeline.Compile(testshow.Small(t), nil)
	o := StripeOptions{SampleRate: 48000, Bits: 16, Level: -12}
	for _, of := range SoundOffers() {
		found, ok := SoundOfferNamed(of.Name)
		require.True(t, ok)
		require.Equal(t, of.Title, found.Title)
		file, err := of.Make(p, report.Filter{Song: p.Songs[0].Song.ID}, o)
		require.NoError(t, err, of.Name)
		var out bytes.Buffer
		require.NoError(t, file.Write(&out))
		require.NotZero(t, out.Len())
		if file.Bytes > 0 {
			require.InDelta(t, file.Bytes, out.Len(), 200, "%s but for its head", of.Name)
		}
	}
	_, err := soundOffers[0].Make(p, report.Filter{Bars: &report.Bars{From: 1, To: 2}}, o)
	require.ErrorContains(t, err, "leave the bars out")
	_, err = soundOffers[2].Make(p, report.Filter{}, o)
	require.ErrorContains(t, err, "choose which")
	_, ok := SoundOfferNamed("show-control")
	require.False(t, ok)
}
