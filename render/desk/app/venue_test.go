package app

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/page/venues"
	"emberbeat/timeline"
)

func openVenues(t *testing.T) *hand {
	t.Helper()
	h := withExample(t)
	h.a.goNight(h.a.work.Show.Nights[0].ID)
	h.key("Ctrl+7")
	h.checked()
	return h
}

// venues gives what the page of venues remembers.
func (h *hand) venues() *venues.Venues { return h.a.families[venueFamily].State.(*venues.Venues) }

func (h *hand) venue() *timeline.Venue { return h.venues().Shown() }

// Bans, rule set and the permit's distances are set on the form; the findings follow.
func TestVenueForm(t *testing.T) {
	h := openVenues(t)
	require.Equal(t, "saltglass", string(h.venue().ID))
	banned := len(h.venue().Banned)
	h.button("ban co2-jet")
	require.Len(t, h.venue().Banned, banned+1)
	h.checked()
	require.NotEmpty(t, h.a.work.Delta.New, "cold jets are played here")
	h.button("ban co2-jet")
	require.Len(t, h.venue().Banned, banned)
	require.Empty(t, h.venues().List())
	h.a.inspector.Assign(timeline.KindOf("venue").Field("rule-set"), []timeline.Ref{{Kind: "venue", ID: "saltglass"}}, "nyc-fc-2014")
	h.step()
	list := h.venues().List()
	require.NotEmpty(t, list)
	require.NotEmpty(t, list[0].Source, "each distance stands with its source")
	h.a.Use("venue-distance")
	h.give("at-least", "9", "reason", "sheet 3")
	require.NotEmpty(t, h.foreseen().Findings.New)
	h.button("Enter")
	require.Equal(t, 9.0, h.venue().Distances[0].AtLeast)
	h.venues().Asks.Only(len(h.venues().List()) - 1)
	h.step()
	h.key("Delete")
	require.Empty(t, h.venue().Distances)
	h.venues().Asks.Only(0)
	h.key("Delete")
	require.Contains(t, h.a.note.text, "a rule set's are changed with the rule set")
}

// An impossible value names field, value and what is valid, and stays in the field.
func TestVenueSaysWhatIsValid(t *testing.T) {
	h := openVenues(t)
	f := timeline.KindOf("venue").Field("trim")
	refs := []timeline.Ref{{Kind: "venue", ID: "saltglass"}}
	require.ErrorContains(t, h.a.inspector.Check(f, refs)("high"), `"high"`)
	require.ErrorContains(t, h.a.inspector.Check(f, refs)("-3"), "from 0 to 1000")
	h.button("venue.trim")
	h.key("Ctrl+A")
	h.typed("8.5")
	h.key("Enter")
	require.Equal(t, 8.5, h.venue().Trim)
}

// What is known of a venue and of a night is written down on their own pages, whether or not the inspector is shown beside.
func TestFieldsStandOnThePage(t *testing.T) {
	h := openVenues(t)
	h.a.Use("side")
	h.step()
	h.button("venue.trim")
	h.key("Ctrl+A")
	h.typed("8.5")
	h.key("Enter")
	require.Equal(t, 8.5, h.venue().Trim)
	h.key("Ctrl+8")
	h.button("night.revision")
	h.key("Ctrl+A")
	h.typed("C")
	h.key("Enter")
	require.Equal(t, "C", h.night().Revision)
}

func TestVenuesAreMadeCopiedAndShownOnThePlan(t *testing.T) {
	h := openVenues(t)
	h.key("Insert")
	require.Len(t, h.a.work.Show.Venues, 2)
	require.Zero(t, h.venue().Trim, "nothing is assumed")
	h.a.Use("venue-copy")
	h.step()
	require.Len(t, h.a.work.Show.Venues, 3)
	h.a.Use("venue-remove")
	h.step()
	require.Len(t, h.a.work.Show.Venues, 2)
	h.venues().Show("saltglass")
	h.a.Use("venue-remove")
	require.True(t, h.a.note.bad, "a night is played there")
	h.a.Use("venue-plan")
	h.step()
	require.Equal(t, "stage-plan", h.a.book.at)
}

// What the venue verb writes down, the window's forms do, and one form takes any of it back.
func TestVenueByForms(t *testing.T) {
	h := openVenues(t)
	ask := func(id, button string, pairs ...string) {
		h.t.Helper()
		require.True(t, h.a.Use(id))
		h.give(pairs...)
		require.Empty(t, h.form().why(), id)
		h.button(button)
		require.Nil(t, h.a.dialog, id)
	}
	ask("venue-trim", "Enter", "trim", "9.5")
	require.Equal(t, 9.5, h.venue().Trim)
	ask("venue-line", "Draw", "name", "side barrier", "from", "-9.5,-3", "to", "-9.5,8")
	lines := len(h.venue().Audience)
	require.Equal(t, timeline.PlanLine{Name: "side barrier", From: timeline.Point{X: -9.5, Y: -3}, To: timeline.Point{X: -9.5, Y: 8}}, h.venue().Audience[lines-1])
	song := h.a.work.Show.Songs[0].ID
	ask("venue-performer", "Set", "name", "dancer", "at", "2,3", "radius", "1", "song", string(song), "from", "62", "to", "80")
	require.Contains(t, h.venue().Performers, timeline.PlanMark{Name: "dancer", At: timeline.Point{X: 2, Y: 3}, Radius: 1, Song: song, From: 62 * timeline.Second, To: 80 * timeline.Second})
	ask("venue-clear", "Set", "name", "fire exit", "at", "8,1")
	require.Contains(t, h.venue().Clear, timeline.PlanMark{Name: "fire exit", At: timeline.Point{X: 8, Y: 1}})
	ask("venue-quiet", "Enter", "name", "late", "from", "22:30", "to", "23:30", "families", "family=flash-pot")
	require.Contains(t, h.venue().Windows, timeline.QuietWindow{Name: "late", From: "22:30", To: "23:30", Families: []timeline.Family{"flash-pot"}})
	ask("venue-condition", "Enter", "text", "fire watch of 30 minutes")
	require.Contains(t, h.venue().Conditions, "fire watch of 30 minutes")
	ask("venue-ban", "Ban", "what", "comet; article=cold-six")
	require.Contains(t, h.venue().Banned, "cold-six")
	ask("venue-allow", "Allow", "what", "comet; cold-six")
	require.NotContains(t, h.venue().Banned, "cold-six")
	ask("venue-back", "Take back", "action", "line "+strconv.Itoa(lines))
	require.Len(t, h.venue().Audience, lines-1)

	require.True(t, h.a.Use("venue-quiet"))
	h.give("name", "never")
	require.Contains(t, h.form().why(), "says not when")
}

// Rule sets are chosen, copied and written down by forms.
func TestRuleSetsByForms(t *testing.T) {
	h := openVenues(t)
	require.Contains(t, h.a.why(h.a.byID("ruleset-distance")), "no rule set of its own")
	h.a.Use("ruleset-add")
	h.give("name", "Harbour bye-law", "place", "Lower Quay", "mark", "measured", "wind", "101")
	require.Contains(t, h.form().why(), "must be a number from 0 to 100")
	h.give("wind", "8")
	h.button("Add")
	require.Equal(t, timeline.RuleSet{Base: timeline.Base{ID: "harbour-bye-law"}, Name: "Harbour bye-law", Place: "Lower Quay", Mark: timeline.Measured, Wind: 8}, *h.a.work.Show.RuleSet("harbour-bye-law"))
	h.a.Use("ruleset-distance")
	h.give("to", "persons", "at-least", "6", "from", "family=flash-pot", "clause", "section 2")
	h.button("Enter")
	require.Equal(t, []timeline.Distance{{To: timeline.ToPersons, AtLeast: 6, Families: []timeline.Family{"flash-pot"}, Clause: "section 2"}}, h.a.work.Show.RuleSet("harbour-bye-law").Distances)
	h.a.Use("ruleset-choose")
	h.give("id", "harbour-bye-law")
	require.NotEmpty(t, h.foreseen().Findings.New)
	h.button("Choose")
	require.Equal(t, "harbour-bye-law", h.venue().RuleSet)
	h.a.Use("ruleset-choose")
	require.NotNil(t, h.form())
	h.give("id", "none")
	h.button("Choose")
	require.Empty(t, h.venue().RuleSet)
	h.a.Use("ruleset-copy")
	h.give("id", "victoria-2011")
	h.button("Copy")
	require.NotNil(t, h.a.work.Show.RuleSet("victoria-2011"))
}
