package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

// openNights opens the page of nights on the example's first night.
func openNights(t *testing.T) *hand {
	t.Helper()
	h := withExample(t)
	h.a.goNight(h.a.work.shown.Nights[0].ID)
	h.key("Ctrl+8")
	h.checked()
	return h
}

func (h *hand) night() *timeline.Night { return h.a.work.s.Show().Night(h.a.work.night) }

// foreseen waits until the dialog that stands open knows what its edit comes to.
func (h *hand) foreseen() *forecast {
	h.t.Helper()
	h.step()
	h.until(func() bool {
		f := h.a.work.forecasts.now
		return f != nil && f.done && f.base == h.a.work.plan && !h.a.work.forecasts.busy
	})
	return h.a.work.forecasts.now
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
	cuts, played := len(h.night().Cuts), cuesPlayed(h.a.work.plan)
	h.key("Ctrl+Shift+X")
	d := h.a.dialog.(*tonightDialog)
	d.which = "spark-machine"
	h.step()
	f := h.foreseen()
	require.NoError(t, f.err)
	require.Positive(t, f.Cues)
	require.Len(t, h.night().Cuts, cuts, "nothing is cut before it is confirmed")
	h.button("reason")
	h.typed("power is short")
	h.button("Cut")
	require.Nil(t, h.a.dialog)
	require.Len(t, h.night().Cuts, cuts+1)
	require.Equal(t, "power is short", h.night().Cuts[cuts].Reason)
	require.Equal(t, f.Cues, played-cuesPlayed(h.a.work.plan))
	h.checked()
	require.Equal(t, f.Findings, h.a.work.delta)
	h.key("Ctrl+Z")
	require.Len(t, h.night().Cuts, cuts)
	require.Empty(t, h.a.work.shown.Head.Note, "the tour stays as it is")
}

// A bank out of service is as many cues before it is taken out as on the cut list and the tonight page afterwards, though each of them
// is still commanded.
func TestDeadBankIsCountedAlike(t *testing.T) {
	h := openNights(t)
	h.key("Insert")
	night := h.a.work.night
	require.Empty(t, h.night().Rig)
	h.key("Ctrl+8")
	h.checked()
	counted := 0
	for _, bank := range h.a.work.shown.Rig.Banks {
		played := cuesPlayed(h.a.work.plan)
		edit := timeline.TakeOutTonight(night, timeline.RigChange{Kind: "bank", ID: bank.ID, Why: "no power"})
		var f *forecast
		h.until(func() bool {
			f = h.a.foresee("out "+string(bank.ID), edit)
			return f != nil && f.done && f.key == "out "+string(bank.ID)
		})
		require.NoError(t, f.err)
		require.True(t, h.a.do(change{"out", []timeline.Edit{edit}}))
		require.Equal(t, played, cuesPlayed(h.a.work.plan), "a dead output does not lose its command")
		list, err := sheet.NewCutList(h.a.work.plan)
		require.NoError(t, err)
		require.Len(t, list.Changes, 1)
		require.Equal(t, f.Cues, list.Changes[0].Cues, bank.Name)
		h.checked()
		h.until(func() bool { return h.a.tonight() != nil })
		require.Equal(t, list.Changes, h.a.tonight().Changes)
		counted += f.Cues
		h.key("Ctrl+Z")
		h.checked()
	}
	require.Positive(t, counted)
}

func TestSwapOutShiftAndDistance(t *testing.T) {
	h := openNights(t)
	h.key("Ctrl+Shift+S")
	d := h.a.dialog.(*tonightDialog)
	d.what, d.which, d.to = 0, "spark-machine", "cold-six"
	h.foreseen()
	h.button("Swap")
	require.Equal(t, timeline.ID("cold-six"), h.night().Swaps[len(h.night().Swaps)-1].To)

	h.a.Use("night-swap")
	d = h.a.dialog.(*tonightDialog)
	d.what, d.which, d.to = 1, "cold-six", "cold-six"
	require.ErrorContains(t, h.foreseen().err, "choose an article of another kind", "impossible values say what would be valid")
	h.key("Esc")

	h.a.Use("night-out")
	h.step()
	h.foreseen()
	h.button("Take out")
	require.Equal(t, "bank", h.night().Rig[len(h.night().Rig)-1].Kind)

	h.a.Use("night-shift")
	h.step()
	d = h.a.dialog.(*tonightDialog)
	require.ErrorContains(t, errOf(d.form.edit(h.a, d)), "say by how much")
	d.text = "99:00:00:00"
	require.ErrorContains(t, errOf(d.form.edit(h.a, d)), "start:")
	d.text, d.number = "", 1200
	h.step()
	h.foreseen()
	h.button("Move")
	require.Equal(t, 120*timeline.Millisecond, h.night().Shifts[0].By)

	h.a.Use("night-distance")
	h.step()
	d = h.a.dialog.(*tonightDialog)
	require.ErrorContains(t, errOf(d.form.edit(h.a, d)), "asks for nothing")
	d.number, d.reason = 8000, "officer on site"
	h.step()
	require.NotEmpty(t, h.foreseen().Findings.New, "8 m are more than the lip's 4.4 m")
	h.button("Enter")
	require.Equal(t, 8.0, h.night().Distances[0].AtLeast)

	rows := h.a.nightRows(h.night())
	h.a.nights.rows.Only(len(rows) - 1)
	h.key("Delete")
	require.Len(t, h.a.nightRows(h.night()), len(rows)-1)
}

func errOf(_ string, _ timeline.Edit, err error) error { return err }

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
	require.NotEqual(t, n.ID, h.a.work.night)
	require.Equal(t, n.Cuts, h.night().Cuts)
	require.Empty(t, h.night().Conditions, "what was demanded on that date does not come along")
	h.a.Use("night-remove")
	h.step()
	require.Empty(t, h.a.work.night)
	require.Contains(t, h.a.why(byID("night-cut")), "choose a night first")
	h.key("Insert")
	require.NotEmpty(t, h.a.work.night)
}
