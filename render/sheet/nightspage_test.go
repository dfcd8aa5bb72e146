package sheet

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

func TestNightsOrderPagesRead(t *testing.T) {
	s := testshow.Edited(t, testshow.Staged(t), func(d *timeline.Draft) error {
		a := *d.Show().Stock.Article("comet")
		a.Stock, a.Expires = 1, "2031-05-10"
		second := *d.Show().Night("n1")
		second.ID, second.Name, second.Slug, second.Date = "n2", "=second night", "second", "2031-05-12"
		d.Put("", &a, &second, &timeline.Supply{Base: timeline.Base{ID: "co2"}, Name: "CO2", Medium: "CO2", Fill: 1, Units: 1, Usable: 1, Feeds: []timeline.ID{"j1"}})
		return nil
	})
	o, err := load.NewNightsOrder(s, s.NightsInOrder(), []string{"2031-05-10"}, func(n *timeline.Night) *timeline.Plan { return timeline.Compile(s, n) })
	require.NoError(t, err)
	var text strings.Builder
	for _, page := range NightsOrder(o).Printed().Pages(render.NewFaces(), paper.A4) {
		text.WriteString(paper.Plain(page))
	}
	testshow.Golden(t, "nights-order.page.txt", []byte(text.String()))
	var csv bytes.Buffer
	require.NoError(t, NightsOrder(o).WriteCSV(&csv))
	require.Contains(t, csv.String(), "'=second night")
	require.Contains(t, csv.String(), "not known")
}
