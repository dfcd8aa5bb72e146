package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

func openVenues(t *testing.T) *hand {
	t.Helper()
	h := withExample(t)
	h.a.goNight(h.a.work.shown.Nights[0].ID)
	h.key("Ctrl+7")
	h.checked()
	return h
}

func (h *hand) venue() *timeline.Venue { return h.a.shownVenue() }

// Bans, rule set and the permit's distances are set on the form; the findings follow.
func TestVenueForm(t *testing.T) {
	h := openVenues(t)
	require.Equal(t, "saltglass", string(h.venue().ID))
	banned := len(h.venue().Banned)
	h.button("ban co2-jet")
	require.Len(t, h.venue().Banned, banned+1)
	h.checked()
	require.NotEmpty(t, h.a.work.delta.New, "cold jets are played here")
	h.button("ban co2-jet")
	require.Len(t, h.venue().Banned, banned)
	require.Empty(t, h.a.venueAskList(h.venue()))
	h.a.assign(timeline.KindOf("venue").Field("rule-set"), []timeline.Ref{{Kind: "venue", ID: "saltglass"}}, "nyc-fc-2014")
	h.step()
	list := h.a.venueAskList(h.venue())
	require.NotEmpty(t, list)
	require.NotEmpty(t, list[0].source, "each distance stands with its source")
	h.a.Use("venue-distance")
	h.give("at-least", "9", "reason", "sheet 3")
	require.NotEmpty(t, h.foreseen().Findings.New)
	h.button("Enter")
	require.Equal(t, 9.0, h.venue().Distances[0].AtLeast)
	h.a.places.asks.Only(len(h.a.venueAskList(h.venue())) - 1)
	h.step()
	h.key("Delete")
	require.Empty(t, h.venue().Distances)
	h.a.places.asks.Only(0)
	h.key("Delete")
	require.Contains(t, h.a.note.text, "a rule set's are changed with the rule set")
}

// An impossible value names field, value and what is valid, and stays in the field.
func TestVenueSaysWhatIsValid(t *testing.T) {
	h := openVenues(t)
	f := timeline.KindOf("venue").Field("trim")
	refs := []timeline.Ref{{Kind: "venue", ID: "saltglass"}}
	require.ErrorContains(t, h.a.checkField(f, refs)("high"), `"high"`)
	require.ErrorContains(t, h.a.checkField(f, refs)("-3"), "from 0 to 1000")
	h.button("venue.trim")
	h.key("Ctrl+A")
	h.typed("8.5")
	h.key("Enter")
	require.Equal(t, 8.5, h.venue().Trim)
}

func TestVenuesAreMadeCopiedAndShownOnThePlan(t *testing.T) {
	h := openVenues(t)
	h.key("Insert")
	require.Len(t, h.a.work.shown.Venues, 2)
	require.Zero(t, h.venue().Trim, "nothing is assumed")
	h.a.Use("venue-copy")
	h.step()
	require.Len(t, h.a.work.shown.Venues, 3)
	h.a.Use("venue-remove")
	h.step()
	require.Len(t, h.a.work.shown.Venues, 2)
	h.a.showVenue("saltglass")
	h.a.Use("venue-remove")
	require.True(t, h.a.note.bad, "a night is played there")
	h.a.Use("venue-plan")
	h.step()
	require.Equal(t, "stage-plan", h.a.book.at)
}
