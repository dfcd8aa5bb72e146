package app

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
)

// Every output stands in the table; effects are wired over several banks by a pattern that is shown first; unwiring is one step.
func TestWiringInOneStep(t *testing.T) {
	h := withExample(t)
	a := h.a
	l := h.open("outputs")
	require.Len(t, l.Rows(), 18+18+12+12, "two banks of 18, one of 12, and 12 heads")
	wires := len(a.work.Show.Rig.Wires)
	free := 0
	for i := range l.Rows() {
		_, wired := l.Rows()[i].Record.(*timeline.Wire)
		if !wired {
			free++
		}
	}
	require.Equal(t, len(l.Rows())-wires, free)

	l = h.open("placed")
	h.row(l, "Comet 1")
	h.key("Shift+Down", "Shift+Down", "Shift+Down")
	a.Use("wire-run")
	h.step()
	d := h.fill(map[string]string{"bank": ""})
	require.Contains(t, d.why(), "no bank is chosen; add \"Banks\"")
	d = h.fill(map[string]string{"bank": "bank B"})
	require.Contains(t, d.why(), "is wired to output")
	d = h.fill(map[string]string{"rewire": "true", "bank": "relay bank 1"})
	require.Contains(t, d.why(), "needs igniter")
	d = h.fill(map[string]string{"bank": "bank A,bank B", "pattern": "alternate"})
	require.Empty(t, d.why())
	require.Len(t, d.out.Rows, 4)
	require.NotEqual(t, d.out.Rows[0][1], d.out.Rows[1][1], "turn by turn over the banks")
	text := strings.Join(d.out.Lines, "\n")
	require.Contains(t, text, "Taken away: 4 wires.")
	require.Contains(t, text, "Spare: ")
	require.Contains(t, text, "Comet, white, 12 m: 4 wired, 8 placed")
	fan := h.fill(map[string]string{"pattern": "fan", "bank": "bank B"}).out.Rows
	mirror := h.fill(map[string]string{"pattern": "mirror"}).out.Rows
	require.NotEqual(t, fan, mirror)
	h.key("Ctrl+Enter")
	require.Len(t, a.work.Show.Rig.Wires, wires, "as many as before")
	for _, r := range mirror {
		found := false
		for _, w := range a.work.Show.Rig.Wires {
			found = found || a.nameOf([]string{"placed"}, "", w.Placed) == r[0] && a.nameOf([]string{"bank"}, "", w.Driver) == r[1]
		}
		require.True(t, found, "%v", r)
	}
	h.key("Ctrl+Z")

	l = h.open("outputs")
	h.row(l, "Comet 1")
	h.key("Delete")
	require.Len(t, a.work.Show.Rig.Wires, wires-1)
	h.key("Ctrl+Z")
	require.Len(t, a.work.Show.Rig.Wires, wires)
}

// A dead bank's wiring moves to another bank in one step; what finds no place is named, no cue is touched.
func TestSwapABank(t *testing.T) {
	h := withExample(t)
	a := h.a
	l := h.open("banks")
	h.row(l, "bank A")
	cues := a.work.Show.Songs[0].Cues
	a.Use("bank-swap")
	h.step()
	d := h.fill(map[string]string{"new": "bank B"})
	require.Empty(t, d.why())
	text := strings.Join(d.out.Lines, "\n")
	require.Contains(t, text, "No place: output")
	require.Contains(t, d.spec.Caution, "Measure every circuit", "the caution stands there")
	none := 0
	for _, r := range d.out.Rows {
		if r[2] == "no place" {
			none++
		}
	}
	require.Equal(t, 17, len(d.out.Rows))
	require.Equal(t, 17-8, none, "bank B has 8 free outputs")
	d = h.fill(map[string]string{"new": "bank A"})
	require.Contains(t, d.why(), "is the bank that is to be replaced")
	h.fill(map[string]string{"new": "bank B"})
	h.key("Ctrl+Enter")
	require.True(t, a.work.Show.Rig.Bank(d.bank(a, "bank A")).Dead)
	require.Equal(t, cues, a.work.Show.Songs[0].Cues)
	h.key("Ctrl+Z")
	require.False(t, a.work.Show.Rig.Bank(d.bank(a, "bank A")).Dead)
}

func (f *form) bank(a *App, name string) timeline.ID {
	for _, b := range a.work.Show.Rig.Banks {
		if b.Name == name {
			return b.ID
		}
	}
	return ""
}

// A circuit's figures stand beside it: two igniters of 1.5 ohm in series on 50 m of 0.75 mm² there and back, 26.0 ohm per km (IEC 60228,
// class 5), are 2×1.5 + 2×50×26/1000 = 5.6 ohm (derived).
func TestCircuitFigures(t *testing.T) {
	h := withExample(t)
	a := h.a
	c := &timeline.Circuit{Base: timeline.Base{ID: "c1"}, Name: "pair", Joining: timeline.InSeries, Igniters: 2, Ohms: 1.5, AllFire: 0.5, Cable: 50, Section: 0.75}
	var w timeline.Wire
	for _, x := range a.work.Show.Rig.Wires {
		if a.nameOf([]string{"placed"}, "", x.Placed) == "Comet 1" {
			w = *x
		}
	}
	w.Circuit = c.ID
	require.True(t, a.do(change{"circuit", []timeline.Edit{page.Put("", c), page.Put("", &w)}}))
	l := h.open("circuits")
	require.Equal(t, "5.60", cellOf(l, "Expected, ohm", &l.Rows()[0]))
	require.Contains(t, cellOf(l, "On output", &l.Rows()[0]), "bank A 1")
	o := h.open("outputs")
	require.Equal(t, "5.60", cellOf(o, "Expected, ohm", &o.Rows()[0]))
	beyond := w
	beyond.Output = 99
	require.True(t, a.do(change{"beyond", []timeline.Edit{page.Put("", &beyond)}}))
	o = h.open("outputs")
	h.row(o, "no such output")
}

// A phrase is shown place by place before it runs, offers the fastest division where it is too fast, stays a group and runs again.
func TestPhraseDialog(t *testing.T) {
	h := withExample(t)
	a := h.a
	require.NoError(t, a.song.GoTo("3.1"))
	cues := len(a.work.InView().Cues)
	h.key("P")
	d := h.fill(map[string]string{"group": "jets on the lip", "shape": "chase", "lane": "a new lane", "new-lane": "", "at": "3.1", "until": "5.1", "every": "1"})
	require.Contains(t, d.why(), "New lane is empty")
	d = h.fill(map[string]string{"new-lane": "Chase", "at": "bar three"})
	require.Contains(t, d.why(), "From: \"bar three\"")
	d = h.fill(map[string]string{"at": "3.1", "shape": "burst", "every": "1/8"})
	require.Contains(t, d.why(), "too fast")
	require.NotEmpty(t, d.out.offer)
	h.button("offer")
	require.Empty(t, d.why(), "what is offered works")
	d = h.fill(map[string]string{"shape": "chase", "every": "2"})
	require.Empty(t, d.why())
	require.Len(t, d.out.Rows, 5, "beats 1 and 3 of two bars, and the last place")
	h.key("Ctrl+Enter")
	require.Len(t, a.work.InView().Cues, cues+5)

	p := a.work.InView().Phrases[0]
	for _, c := range a.work.InView().Cues {
		if c.Group == p.ID {
			a.work.View().Choose(c.ID)
		}
	}
	h.step()
	h.key("P")
	d = h.fill(map[string]string{"every": "4"})
	require.Contains(t, d.title, "again")
	h.key("Ctrl+Enter")
	require.Len(t, a.work.InView().Cues, cues+3)
	require.Len(t, a.work.InView().Phrases, 1)

	l := h.open("phrases")
	require.Len(t, l.Rows(), 1)
	l.Sel.Only(0)
	h.step()
	a.Use("phrase-go")
	h.step()
	require.Empty(t, a.book.at)
	require.Len(t, a.work.View().Selected, 3)
	l = h.open("phrases")
	l.Sel.Only(0)
	h.step()
	h.key("Delete")
	require.Len(t, a.work.InView().Cues, cues)
	h.key("Ctrl+Z", "Ctrl+Z", "Ctrl+Z")
	require.Len(t, a.work.InView().Cues, cues)
}
