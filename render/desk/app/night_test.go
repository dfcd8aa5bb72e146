package app

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/page/nights"
	"emberbeat/shows/report/night"
	"emberbeat/timeline"
)

// openNights opens the page of nights on the example's first night.
func openNights(t *testing.T) *hand {
	t.Helper()
	h := withExample(t)
	h.a.goNight(h.a.work.Show.Nights[0].ID)
	h.key("Ctrl+8")
	h.checked()
	return h
}

// nights gives what the page of nights remembers.
func (h *hand) nights() *nights.Nights { return h.a.families[nightFamily].State.(*nights.Nights) }

func (h *hand) night() *timeline.Night { return h.a.work.Session.Show().Night(h.a.work.Night) }

// foreseen waits until the dialog that stands open knows what its edit comes to.
func (h *hand) foreseen() *openshow.Forecast {
	h.t.Helper()
	h.step()
	h.until(func() bool {
		f := h.a.work.Foreseen()
		return f != nil && f.Base == h.a.work.Plan
	})
	return h.a.work.Foreseen()
}

// cuesPlayed counts the cues of a plan that play anything.
func cuesPlayed(p *timeline.Plan) int {
	all := map[timeline.Ref]bool{}
	for i := range p.Songs {
		ps := &p.Songs[i]
		for k := range ps.Commands {
			all[timeline.Ref{Song: ps.Song.ID, ID: ps.Commands[k].Cue.ID}] = true
		}
		for k := range ps.Windows {
			all[timeline.Ref{Song: ps.Song.ID, ID: ps.Windows[k].Cue.ID}] = true
		}
	}
	return len(all)
}

// A cut says before it is made how many cues it touches and which findings come and go, and then does just that.
func TestCutForTheNight(t *testing.T) {
	h := openNights(t)
	cuts, played := len(h.night().Cuts), cuesPlayed(h.a.work.Plan)
	h.key("Ctrl+Shift+X")
	h.give("what", "family=spark-machine")
	f := h.foreseen()
	require.NoError(t, f.Err)
	require.Positive(t, f.Cues)
	require.Len(t, h.night().Cuts, cuts, "nothing is cut before it is confirmed")
	h.button("reason")
	h.typed("power is short")
	h.button("Cut")
	require.Nil(t, h.a.dialog)
	require.Len(t, h.night().Cuts, cuts+1)
	require.Equal(t, "power is short", h.night().Cuts[cuts].Reason)
	require.Equal(t, f.Cues, played-cuesPlayed(h.a.work.Plan))
	h.checked()
	was, err := json.Marshal(f.Findings)
	require.NoError(t, err)
	is, err := json.Marshal(h.a.work.Delta)
	require.NoError(t, err)
	require.JSONEq(t, string(was), string(is))
	h.key("Ctrl+Z")
	require.Len(t, h.night().Cuts, cuts)
	require.Empty(t, h.a.work.Show.Head.Note, "the tour stays as it is")
}

// A bank out of service is as many cues before it is taken out as on the cut list and the tonight page afterwards, though each of them
// is still commanded.
func TestDeadBankIsCountedAlike(t *testing.T) {
	h := openNights(t)
	h.key("Insert")
	tonight := h.a.work.Night
	require.Empty(t, h.night().Rig)
	h.key("Ctrl+8")
	h.checked()
	counted := 0
	for _, bank := range h.a.work.Show.Rig.Banks {
		played := cuesPlayed(h.a.work.Plan)
		edit := timeline.TakeOutTonight(tonight, timeline.RigChange{Kind: "bank", ID: bank.ID, Why: "no power"})
		var f *openshow.Forecast
		h.until(func() bool {
			f = h.a.work.Foresee("out "+string(bank.ID), edit)
			return f != nil && f.Done && f.Key == "out "+string(bank.ID)
		})
		require.NoError(t, f.Err)
		require.True(t, h.a.do(change{"out", []timeline.Edit{edit}}))
		require.Equal(t, played, cuesPlayed(h.a.work.Plan), "a dead output does not lose its command")
		list, err := night.NewCutList(h.a.work.Plan)
		require.NoError(t, err)
		require.Len(t, list.Changes, 1)
		require.Equal(t, f.Cues, list.Changes[0].Cues, bank.Name)
		h.checked()
		h.until(func() bool { return tonightOf(h.a) != nil })
		require.Equal(t, list.Changes, tonightOf(h.a).Changes)
		counted += f.Cues
		h.key("Ctrl+Z")
		h.checked()
	}
	require.Positive(t, counted)
}

func TestSwapOutShiftAndDistance(t *testing.T) {
	h := openNights(t)
	h.key("Ctrl+Shift+S")
	h.give("what", "family=spark-machine", "to", "cold-six")
	h.foreseen()
	h.button("Swap")
	require.Equal(t, timeline.ID("cold-six"), h.night().Swaps[len(h.night().Swaps)-1].To)

	h.a.Use("night-swap")
	h.give("what", "article=cold-six", "to", "cold-six")
	require.Contains(t, h.form().why(), "choose an article of another kind", "impossible values say what would be valid")
	h.key("Esc")

	h.a.Use("night-out")
	h.step()
	h.foreseen()
	h.button("Take out")
	require.Equal(t, "bank", h.night().Rig[len(h.night().Rig)-1].Kind)

	h.a.Use("night-shift")
	h.step()
	require.Contains(t, h.form().why(), `add "Everything by" with seconds, or "Start at" with a timecode`)
	h.give("start", "99:00:00:00")
	require.Contains(t, h.form().why(), "Start at: ")
	require.NotEmpty(t, h.form().wrong(h.form().field("start")), "the error stands at its field")
	h.give("start", "", "by", "0.12")
	h.foreseen()
	h.button("Move")
	require.Equal(t, 120*timeline.Millisecond, h.night().Shifts[0].By)

	h.a.Use("night-distance")
	h.step()
	require.Contains(t, h.form().why(), "asks for nothing")
	h.give("at-least", "8", "reason", "officer on site")
	require.NotEmpty(t, h.foreseen().Findings.New, "8 m are more than the lip's 4.4 m")
	h.button("Enter")
	require.Equal(t, 8.0, h.night().Distances[0].AtLeast)

	rows := h.nights().List(h.night())
	h.nights().Rows.Only(len(rows) - 1)
	h.key("Delete")
	require.Len(t, h.nights().List(h.night()), len(rows)-1)
}

// A placed effect is plugged in elsewhere for the night, and listed as that; what is out of the rig is listed beside it as out.
func TestPlugForTheNight(t *testing.T) {
	h := openNights(t)
	h.a.Use("night-swap")
	h.give("what", "family=propane-flame", "to", "cold-six")
	h.foreseen()
	h.button("Swap")
	h.checked()
	h.a.Use("night-out")
	h.give("name", "placed=flame-2", "reason", "leaks")
	h.button("Take out")
	h.a.Use("night-plug")
	h.step()
	require.Contains(t, h.form().why(), "no output is given")
	h.give("name", "placed=flame-1", "unit", "relays", "output", "99")
	require.Contains(t, h.form().why(), "is past the last output")
	h.give("output", "8", "reason", "jet in its place")
	require.NoError(t, h.foreseen().Err)
	h.button("Plug in")
	require.Nil(t, h.a.dialog)
	require.Equal(t, timeline.RigChange{Kind: "placed", ID: "flame-1", Driver: "relays", Output: 8, Why: "jet in its place"}, h.night().Rig[len(h.night().Rig)-1])
	require.Equal(t, `plugged into "relay bank 1" output 8: "Flame 1"`, h.a.note.text, "the journal says it as lists and sheets do")
	h.checked()
	h.until(func() bool { return tonightOf(h.a) != nil })
	var words, texts []string
	for _, r := range h.nights().List(h.night()) {
		if r.List == "rig-changes" {
			words, texts = append(words, r.Op.Name), append(texts, r.Text)
			require.GreaterOrEqual(t, r.Cues, 0, r.Text)
		}
	}
	require.Equal(t, []string{"out", "plug"}, words)
	require.Equal(t, []string{`out of the rig: placed "Flame 2"`, `plugged into "relay bank 1" output 8: "Flame 1"`}, texts)
}

func TestConditionAndFill(t *testing.T) {
	h := openNights(t)
	n := len(h.night().Conditions)
	h.a.Use("night-condition")
	h.step()
	h.step()
	h.typed("no reports after 23:00")
	h.button("Enter")
	require.Len(t, h.night().Conditions, n+1)
	h.a.Use("night-fill")
	h.step()
	h.button("kg")
	h.key("Ctrl+A")
	h.typed("18.5")
	h.key("Enter")
	require.Nil(t, h.a.dialog)
	require.Equal(t, 18.5, h.night().Fills[len(h.night().Fills)-1].Kg)
}

func TestNightsAreMadeAndRemoved(t *testing.T) {
	h := openNights(t)
	n := h.night()
	h.a.Use("night-like")
	h.step()
	require.NotEqual(t, n.ID, h.a.work.Night)
	require.Equal(t, n.Cuts, h.night().Cuts)
	require.Empty(t, h.night().Conditions, "what was demanded on that date does not come along")
	h.a.Use("night-remove")
	h.step()
	require.Empty(t, h.a.work.Night)
	require.Contains(t, h.a.why(h.a.byID("night-cut")), "choose a night first")
	h.key("Insert")
	require.NotEmpty(t, h.a.work.Night)
}
