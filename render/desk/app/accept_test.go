package app

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/prefs"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// A finding is accepted for a night, with a reason and a name, and for nothing else; undo takes it back.
func TestAcceptFinding(t *testing.T) {
	h := withExample(t)
	a := h.a
	command := h.a.byID("accept")
	require.Contains(t, a.why(command), "choose a night first")

	night := a.work.Show.Nights[0].ID
	a.goNight(night)
	checked := func() bool { return a.work.Checked() }
	h.until(checked)
	require.Contains(t, a.why(command), "go to a finding first")

	h.key("F8")
	open := a.panel.finding
	for i := range a.work.Findings {
		if a.work.Findings[i].Accepted == nil {
			open = i
			break
		}
	}
	a.goFinding(open)
	h.step()
	f, before := *a.chosenFinding(), len(a.work.Show.Night(night).Accepted)
	require.Nil(t, f.Accepted)
	require.Empty(t, a.why(command))
	a.use(command)
	h.step()
	h.step()
	h.button("reason")
	h.typed("seen on site, the wind was still")
	h.key("Enter")
	require.NotNil(t, a.dialog, "a name is missing")
	require.Len(t, a.work.Show.Night(night).Accepted, before)
	h.button("by")
	h.typed("Ada Rigger")
	h.key("Enter")
	require.Nil(t, a.dialog)

	list := a.work.Show.Night(night).Accepted
	require.Len(t, list, before+1)
	require.Equal(t, f.Acceptance("Ada Rigger", "seen on site, the wind was still"), list[before])
	h.until(checked)
	now := same(a.work.Findings, &f)
	require.NotNil(t, now)
	require.NotNil(t, now.Accepted)
	require.Equal(t, "Ada Rigger", prefs.Load(a.o.State).Name)
	for i := range a.work.Findings {
		if &a.work.Findings[i] == now {
			a.goFinding(i)
		}
	}
	require.Contains(t, a.why(command), "accepted already, by Ada Rigger")

	h.key("Ctrl+Z")
	require.Len(t, a.work.Show.Night(night).Accepted, before)
}

// same gives the finding with the same rule, record and numbers.
func same(list []rule.Finding, f *rule.Finding) *rule.Finding {
	for i := range list {
		if g := &list[i]; g.Rule == f.Rule && g.Ref == f.Ref && g.Digest() == f.Digest() {
			return g
		}
	}
	return nil
}

// Accepting takes away what was accepted of the same record with numbers that are found no more, as the verb does.
func TestAcceptEndsWhatIsOver(t *testing.T) {
	h := openNights(t)
	a := h.a
	i := slices.IndexFunc(a.work.Findings, func(f rule.Finding) bool { return f.Accepted == nil })
	require.GreaterOrEqual(t, i, 0)
	over := a.work.Findings[i].Acceptance("R. Holm", "on another day")
	over.Values = "000000000000"
	require.True(t, a.do(change{"accept", []timeline.Edit{timeline.EditNight(a.work.Night, func(_ *timeline.Show, n *timeline.Night) error {
		n.Accepted = append(n.Accepted, over)
		return nil
	})}}))
	h.checked()
	i = slices.IndexFunc(a.work.Findings, func(f rule.Finding) bool { return f.Rule == over.Rule && f.Ref.String() == over.Record })
	a.goFinding(i)
	h.step()
	now := a.chosenFinding().Acceptance("Ada Rigger", "seen")
	a.Use("accept")
	h.give("reason", "seen", "by", "Ada Rigger")
	h.button("Accept")
	require.Nil(t, a.dialog)
	require.NotContains(t, h.night().Accepted, over)
	require.Contains(t, h.night().Accepted, now)
}

// Cues that stand on another recording than they were placed against are confirmed in a form, which names the song in view and says what
// is to be done before; it makes one step, the finding goes, and undo brings it back.
func TestConfirmForm(t *testing.T) {
	h := withExample(t)
	a := h.a
	song := a.work.Song
	require.NoError(t, a.work.Session.Do("another recording", func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "song", ID: song}, "placed-on", timeline.Value{Text: "of another file"})
	}))
	told := func() bool {
		for i := range a.work.Findings {
			if f := &a.work.Findings[i]; f.Rule == "audio" && f.Ref == (timeline.Ref{Kind: "song", ID: song}) {
				return true
			}
		}
		return false
	}
	h.step()
	h.until(func() bool { return a.work.Checked() && told() })
	require.True(t, a.Use("confirm-cues"))
	h.step()
	h.step()
	require.Contains(t, h.frame.Panels.Dump()+h.frame.Moving.Dump(), "Hear the cues against the recording first")
	rows := h.form().rows
	row := rows[slices.IndexFunc(rows, func(r *formRow) bool { return r.arg.Name == "song" })]
	require.Equal(t, a.work.InView().FullTitle(), row.values[row.value.at].Name)
	h.key("Esc")
	require.Equal(t, "of another file", a.work.Show.Song(song).Audio.PlacedOn, "left, it confirms nothing")
	require.True(t, a.Use("confirm-cues"))
	h.step()
	h.step()
	h.button("Confirm")
	require.Nil(t, a.dialog)
	require.NotEqual(t, "of another file", a.work.Session.Show().Song(song).Audio.PlacedOn)
	h.until(func() bool { return a.work.Checked() && !told() })
	h.key("Ctrl+Z")
	require.Equal(t, "of another file", a.work.Session.Show().Song(song).Audio.PlacedOn)
	h.until(func() bool { return a.work.Checked() && told() })
}

// A night that was played is shown as the show is now by all pages but Tonight, and they say so.
func TestPagesSayThatANightWasPlayed(t *testing.T) {
	h := withExample(t)
	a := h.a
	const words = "As the show is now, and not as the night was played"
	a.goNight(a.work.Show.Nights[0].ID)
	h.checked()
	says := func() []string {
		var list []string
		for i := range a.pages {
			if p := &a.pages[i]; a.Use("book-" + p.ID) {
				h.step()
				if strings.Contains(h.frame.Panels.Dump()+h.frame.Moving.Dump(), words) {
					list = append(list, p.ID)
				}
			}
		}
		return list
	}
	require.Empty(t, says(), "it was not played yet")
	p := a.work.Plan
	at := p.Songs[0].Commands[0].Unit.Drives[0].Wire
	edit, err := p.AfterShow(timeline.AfterShow{Outputs: map[timeline.OutcomeState][]timeline.OutputRef{timeline.Fired: {{Driver: at.Driver, Output: at.Output}}}})
	require.NoError(t, err)
	require.True(t, a.Do("after the show", edit))
	h.checked()
	var all []string
	for i := range a.pages {
		if id := a.pages[i].ID; id != "tonight" {
			all = append(all, id)
		}
	}
	require.Equal(t, all, says())
	a.turn("")
	a.goNight("")
	require.Empty(t, a.note.text)
	a.goNight(a.work.Show.Nights[0].ID)
	require.Contains(t, a.note.text, words, "beside the timeline, too")
}
