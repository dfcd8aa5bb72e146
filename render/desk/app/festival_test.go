package app

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/sheet"
	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// twentySongs makes the example's set one of twenty songs: its own, and versions of them under other names, without sound.
func twentySongs(h *hand) {
	h.t.Helper()
	show := h.a.work.Session.Show()
	own := slices.Clone(show.Songs)
	set := *show.SetOf(nil)
	set.Entries = nil
	var songs []*timeline.Song
	for i := range 20 {
		if i < len(own) {
			set.Entries = append(set.Entries, timeline.Entry{Song: own[i].ID, Gap: 30 * timeline.Second})
			continue
		}
		from := own[i%len(own)]
		g := *from
		g.ID, g.Title, g.Slug = timeline.ID(fmt.Sprintf("tour%02d", i+1)), fmt.Sprintf("Tour song %d", i+1), fmt.Sprintf("tour-song-%d", i+1)
		g.Length, g.Audio, g.Kept = from.Duration(), timeline.Audio{}, nil
		g.Start = timeline.Timecode{H: uint8(i + 1)}
		songs = append(songs, &g)
		set.Entries = append(set.Entries, timeline.Entry{Song: g.ID, Gap: 30 * timeline.Second})
	}
	require.True(h.t, h.a.do(change{"make a tour of twenty songs", []timeline.Edit{func(d *timeline.Draft) error {
		for _, g := range songs {
			head := g.SongHead
			d.Put("", &head)
			for _, l := range g.Lanes {
				d.Put(g.ID, l)
			}
			for _, c := range g.Cues {
				d.Put(g.ID, c)
			}
		}
		d.Put("", &set)
		return nil
	}}}))
}

// A festival night in the window, with keys and pointer: 6 of 20 songs, a lower roof, flames banned, a bank dead, and a distance the officer
// asks for on the spot. The tour stays as it is.
func TestFestivalNight(t *testing.T) {
	h := withExample(t)
	twentySongs(h)
	h.checked()
	tour, steps := timeline.Compile(h.a.work.Session.Show(), nil).Text(), undoSteps(h)

	h.key("Ctrl+7", "Insert") // the field: a lower roof, no flames
	h.button("venue.name")
	h.key("Ctrl+A")
	h.typed("Mudflat Field")
	h.button("venue.trim")
	h.key("Ctrl+A")
	h.typed("7")
	h.key("Enter")
	for _, family := range []string{"propane-flame", "aerosol-flame", "liquid-flame"} {
		h.button("ban " + family)
	}
	field := h.venue()
	require.Equal(t, []any{"Mudflat Field", 7.0, 3}, []any{field.Name, field.Trim, len(field.Banned)})

	h.key("Ctrl+8", "Insert") // the night there
	h.button("night.date")
	h.typed("2031-08-14")
	h.key("Enter")
	h.a.inspector.Assign(timeline.KindOf("night").Field("venue"), []timeline.Ref{{Kind: "night", ID: h.a.work.Night}}, string(field.ID))
	h.step()
	require.Equal(t, field.ID, h.a.work.Plan.Venue.ID)

	h.key("Ctrl+0") // on the field's plan the barrier is drawn where the fence stands
	h.a.Use("stage-line")
	h.step()
	line := render.Chosen{Kind: render.HitLine, ID: "0"}
	at := h.thing(line).Add(h.metres(5, 0))
	h.later()
	h.drag(at, at.Add(h.metres(0, -5-h.a.work.Plan.Venue.Audience[0].From.Y)), 0)
	require.InDelta(t, -5, h.a.work.Plan.Venue.Audience[0].From.Y, 0.11)

	h.key("Ctrl+6") // six songs of twenty
	h.a.Use("set-copy")
	h.step()
	h.a.Use("set-play")
	h.step()
	h.sets().Rows.Only(6)
	h.sets().Rows.To(19)
	h.key("H")
	require.Len(t, h.a.work.Plan.Songs, 6)
	h.sets().Rows.Only(5)
	h.key("Alt+Up", "Alt+Up")
	h.checked()

	banned := len(ofRule(h, "banned"))
	require.NotZero(t, banned)
	h.key("Ctrl+8", "Ctrl+Shift+S") // flames for cold jets, same hits
	h.give("what", "family=propane-flame", "to", "cold-six", "reason", "flames are banned on the field")
	require.Less(t, len(h.foreseen().Findings.New), 200)
	require.True(t, slices.ContainsFunc(h.foreseen().Findings.Gone, func(l report.FindingLine) bool { return l.Rule == "banned" }), "the ban is seen to go before it is confirmed")
	h.button("Swap")
	h.checked()
	require.Empty(t, ofRule(h, "banned"))

	h.a.Use("night-out") // a bank dies at sound-check
	h.step()
	h.give("name", "bank="+string(h.a.work.Show.Rig.Banks[0].ID), "reason", "dead at sound-check")
	require.NotZero(t, h.foreseen().Findings.New)
	h.button("Take out")
	h.checked()

	short := len(ofRule(h, "separation"))
	h.a.Use("night-distance") // the officer wants more
	h.step()
	h.give("at-least", "9", "reason", "officer, walk-through")
	h.foreseen()
	h.button("Enter")
	h.checked()
	require.Greater(t, len(ofRule(h, "separation")), short)
	require.Contains(t, ofRule(h, "separation")[0].Text, "officer")

	h.key("Ctrl+9") // what the crew reads
	h.until(func() bool { return tonightOf(h.a) != nil })
	h.step()
	page := tonightOf(h.a)
	require.Len(t, page.Songs, 6)
	require.Len(t, page.NotPlayed, 14)
	require.Equal(t, []string{"2031-08-14", "Mudflat Field"}, []string{page.Date, page.Venue})
	swapped := 0
	for _, s := range page.Songs {
		swapped += s.Swapped
	}
	require.NotZero(t, swapped)
	require.Contains(t, textsOf(h.frame.Panels), "2031-08-14")

	h.key("Ctrl+Shift+E") // and all its sheets
	x := h.a.dialog.(*exportDialog)
	x.folder = t.TempDir()
	h.exportNow("Export")
	require.Empty(t, x.bad)
	entries, err := os.ReadDir(filepath.Join(x.folder, x.name))
	require.NoError(t, err)
	require.Len(t, entries, 1+len(sheet.Kinds()))

	require.Equal(t, tour, timeline.Compile(h.a.work.Session.Show(), nil).Text(), "the tour stays as it is")
	require.Greater(t, undoSteps(h), steps+10, "every gesture is a step")
}

// undoSteps counts the steps that can be taken back.
func undoSteps(h *hand) int {
	undo, _ := h.a.work.Session.Labels()
	return len(undo)
}

// ofRule gives the open findings of a rule.
func ofRule(h *hand, name string) []rule.Finding {
	var list []rule.Finding
	for _, f := range h.a.work.Findings {
		if f.Rule == name && f.Accepted == nil {
			list = append(list, f)
		}
	}
	return list
}
