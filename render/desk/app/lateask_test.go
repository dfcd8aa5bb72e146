package app

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// A refill is planned in the set on tour, for the chosen supply; only a night can leave one out.
func TestPlanARefill(t *testing.T) {
	h := withExample(t)
	h.row(h.open("supplies"), "CO2 right, 2 cylinders")
	h.a.Use("refill")
	h.give("after", "mnwh5zw0", "minutes", "1441")
	require.Contains(t, h.form().why(), "is not from 0 to 1440")
	require.Contains(t, h.form().field("leave-out").off(), "choose the night")
	h.give("minutes", "4", "by", "rigger 1")
	require.Empty(t, h.form().why())
	h.key("Ctrl+Enter")
	refills := h.a.work.Show.Set("arena").Refills
	require.Equal(t, timeline.Refill{Supply: "co2-right", After: "mnwh5zw0", Minutes: 4, By: "rigger 1"}, refills[len(refills)-1])
}

// Cues are placed at what is written, several with commas between and repeated, on a lane that is made for it.
func TestPlaceCuesByTheirPlaces(t *testing.T) {
	h := withExample(t)
	h.a.Use("place-cues")
	h.give("lane", "Accents", "at", "17.1", "target", "jets-all", "every", "2 beats")
	require.Contains(t, h.form().why(), `"Every" and "Until" belong together`)
	h.give("until", "18.3")
	require.Empty(t, h.form().why())
	h.give("at", "soon")
	require.Contains(t, h.form().why(), "write a bar such as")
	h.give("at", "17.1", "until", "16.3")
	require.Contains(t, h.form().why(), "before")
	h.give("at", "17.1,19.1", "every", "", "until", "")
	require.Empty(t, h.form().why())
	h.key("Ctrl+Enter")
	song := h.a.work.InView()
	var at []string
	for _, c := range song.Cues {
		if l := song.Lane(c.Lane); l.Name == "Accents" {
			at = append(at, c.At.String())
		}
	}
	require.ElementsMatch(t, []string{"17.1", "19.1"}, at)
}

// What became of the night's loads is entered in words, shown as its report before, and made as one step.
func TestEnterWhatWasFired(t *testing.T) {
	h := openNights(t)
	h.a.Use("aftershow")
	h.give("all-fired", "true", "misfired", "bank-a:13", "weight", "CO2 left, 2 cylinders=21.5")
	require.Empty(t, h.form().why())
	require.Contains(t, strings.Join(h.form().out.Lines, "\n"), "OPEN MISFIRE: bank A output 13")
	h.give("unfired", "bank A:13")
	require.Contains(t, h.form().why(), "say one")
	h.give("unfired", "", "weight", "CO2 left, 2 cylinders")
	require.Contains(t, h.form().why(), "must be written supply=kg")
	h.give("weight", "co2-left=21.5")
	h.key("Ctrl+Enter")
	n := h.a.work.Plan.Night
	require.Equal(t, []timeline.Fill{{Supply: "co2-left", Kg: 21.5}}, n.Weights)
	require.NotEmpty(t, n.Outcomes)
}

// A bank is swapped for the night in view alone where that is asked for: the tour keeps its wiring.
func TestSwapABankTonight(t *testing.T) {
	h := openNights(t)
	a := h.a
	wires := a.work.Show.Rig.Wires
	a.Use("bank-swap")
	h.give("old", "bank-a", "new", "bank-b", "tonight", "true")
	require.Empty(t, h.form().why())
	h.key("Ctrl+Enter")
	require.Equal(t, wires, a.work.Show.Rig.Wires)
	require.False(t, a.work.Show.Rig.Bank("bank-a").Dead)
	require.NotEmpty(t, a.work.Plan.Night.Rig)
}
