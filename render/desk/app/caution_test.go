package app

import (
	"image"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
)

// The page of a song carries the caution in one line, whole in every usual size
// of the window.
func TestSongPageCarriesTheCaution(t *testing.T) {
	h := withExample(t)
	for _, size := range []image.Point{{X: 1280, Y: 720}, {X: 1440, Y: 900}, {X: 1920, Y: 1080}} {
		h.size = size
		h.step()
		require.Contains(t, textsOf(h.frame.Song), report.CautionLine, "%v", size)
	}
}

// The dialog of a timecode stripe says what chasing it comes to.
func TestStripeDialogSaysWhatChases(t *testing.T) {
	h, d := openExport(t, "ltc")
	said := func() string { return strings.Join(strings.Fields(textsOf(h.frame.Panels)), " ") }
	require.Contains(t, said(), "Whatever chases this file will run with it")
	d.choose(h.a, "ticks")
	h.step()
	require.NotContains(t, said(), "chases this file")
}
