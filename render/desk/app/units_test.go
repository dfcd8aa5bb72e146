package app

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/export"
	"emberbeat/render/desk/prefs"
	"emberbeat/render/sheet"
	"emberbeat/timeline"
)

// Whoever reads feet sees and types feet on every page; the show stays in metres, is not to be saved because of it, undo leads where it led,
// and what is printed is in the show's units.
func TestUnitsOfTheScreen(t *testing.T) {
	h := openVenues(t)
	trim := timeline.KindOf("venue").Field("trim")
	on := []timeline.Ref{{Kind: "venue", ID: h.venue().ID}}
	h.a.inspector.Assign(trim, on, "12")
	h.checked()
	require.Equal(t, 12.0, h.venue().Trim)
	was := len(h.a.work.Findings)

	h.a.readIn("feet")
	h.checked()
	require.Equal(t, 12.0, h.venue().Trim)
	require.Len(t, h.a.work.Findings, was)
	require.True(t, h.says("39.37"), "the trim height as it is shown")
	metric := 0
	for i := range h.a.work.Findings {
		if strings.Contains(h.a.work.Findings[i].Text, " ft") {
			metric++
		}
	}
	require.NotZero(t, metric)

	h.a.inspector.Assign(trim, on, "39.37") // as it is shown: nothing is changed
	require.Equal(t, 12.0, h.venue().Trim)
	h.a.inspector.Assign(trim, on, "40") // a number alone is in feet
	require.Equal(t, 12.192, h.venue().Trim)
	h.a.inspector.Assign(trim, on, "11 m")
	require.Equal(t, 11.0, h.venue().Trim)
	h.step()
	require.Empty(t, h.a.inspector.Wrong(trim, on))
	h.a.inspector.Assign(trim, on, "11 kg")
	require.NotEmpty(t, h.a.inspector.Wrong(trim, on))

	h.a.Use("venue-distance")
	h.put("at-least", "9") // as an argument, in metres
	require.Equal(t, "ft", h.form().field("at-least").number.Units[0].Name)
	h.step()
	require.True(t, h.says("29.528"), "9 m in feet")
	h.key("Esc")

	ask := export.Ask{Item: "permit-pack", Format: "csv", Night: h.a.work.Night, Paper: sheet.PaperOf(h.a.work.Show).Name, Page: 1, Path: "x.csv"}
	files, err := ask.Make(h.a.work.Session.Show())
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, files[0].Fill(&b))
	require.Contains(t, b.String(), "required m")
	require.NotContains(t, b.String(), "required ft")

	require.Equal(t, "feet", prefs.Load(h.a.prefs.Folder).Units)
	for range 3 {
		h.key("Ctrl+Z")
	}
	require.Equal(t, 11.0, h.venue().Trim, "as the example has it")
	require.False(t, h.a.work.Session.Dirty())
	h.a.readIn("")
	h.checked()
	require.False(t, h.a.work.Session.Dirty())
	require.True(t, h.says("11"))
}
