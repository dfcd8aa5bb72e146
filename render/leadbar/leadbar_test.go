package leadbar

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/timeline"
)

const ms = timeline.Millisecond

// Everything stands to scale, in its order, and nothing leaves the bar; no word lies over another.
func TestLeadBarIsToScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string, most int) timeline.Time {
			return timeline.Time(rapid.IntRange(0, most).Draw(t, name)) * ms
		}
		b := Bar{Area: image.Rect(10, 10, rapid.IntRange(150, 700).Draw(t, "right"), 10+Height), Look: render.Look{Ink: render.InkCold}, Hit: 10 * timeline.Second}
		b.Command, b.Spread, b.Open, b.Recovery = b.Hit-at("lead", 4000), at("spread", 400), at("open", 5000), at("recovery", 9000)
		b.Next = render.Instant{At: b.Hit + at("next", 20000) + ms, On: rapid.Bool().Draw(t, "has next")}
		b.Lead, b.Recovers, b.AtHit, b.AtCommand, b.NextText, b.LastText = "lead 120 ms", "recovers until +2.00 s", "hit 01:00:35:08", "command 01:00:35:05 −8 ms", "next here 21.1, free 1.9 s", "last here 17.1, 3.9 s ago"
		s := render.NewScene(render.NewFaces())
		s.Reset(image.Pt(800, 100), render.Unit)
		b.Draw(s, &render.Dark)
		xs := []int{b.X(b.Command), b.X(b.Hit), b.X(b.end()), b.X(b.end() + b.Recovery)}
		for i := range xs {
			if i > 0 && xs[i] < xs[i-1] || xs[i] < b.Area.Min.X || xs[i] > b.Area.Max.X {
				t.Fatalf("%v in %v", xs, b.Area)
			}
		}
		if lead, rec := float64(xs[1]-xs[0]), float64(xs[3]-xs[2]); b.Recovery > 0 {
			want := float64(b.Hit-b.Command) / float64(b.Recovery) * rec
			if d := lead - want; d > 2*max(1, lead/max(rec, 1)) && d > 3 || rec > 20 && d < -2*max(1, lead/rec)-1 {
				t.Fatalf("lead %v beside recovery %v, not %v", lead, rec, want)
			}
		}
		var boxes []image.Rectangle
		for i := range s.Shapes {
			sh := &s.Shapes[i]
			if sh.Kind != render.KindText {
				continue
			}
			if !sh.Box.In(b.Area.Inset(-2)) {
				t.Fatalf("%q at %v leaves the bar", s.Label(sh), sh.Box)
			}
			for _, o := range boxes {
				if o.Inset(1).Overlaps(sh.Box.Inset(1)) {
					t.Fatalf("%q at %v lies over %v", s.Label(sh), sh.Box, o)
				}
			}
			boxes = append(boxes, sh.Box)
		}
	})
}

// What is not there is not drawn: no recovery, no spread, nothing after.
func TestLeadBarOfLittle(t *testing.T) {
	b := Bar{Area: image.Rect(0, 0, 300, Height), Look: render.Look{Ink: render.InkHot}, Command: 0, Hit: 100 * ms, AtHit: "hit 1.1"}
	s := render.NewScene(render.NewFaces())
	s.Reset(image.Pt(300, 100), render.Unit)
	b.Draw(s, &render.Dark)
	var words []string
	for i := range s.Shapes {
		if sh := &s.Shapes[i]; sh.Kind == render.KindText {
			words = append(words, string(s.Label(sh)))
		}
	}
	require.Equal(t, []string{"command", "hit 1.1"}, words)
	for _, sh := range s.Shapes {
		require.NotEqual(t, render.InkEdge, sh.Ink == render.InkEdge && sh.Box.Dy() > 1, "nothing recovers")
	}
}

// The figure is as covered as glyphs are: in Night it is no bright area; that of a disabled cue is an edge alone.
func TestLeadBarIsAsDarkAsItsTheme(t *testing.T) {
	for _, th := range render.Themes() {
		for _, hollow := range []bool{false, true} {
			b := Bar{Area: image.Rect(0, 0, 300, Height), Look: render.Look{Ink: render.InkCold, Hollow: hollow}, Command: 0, Hit: 100 * ms, Open: 500 * ms}
			s := render.NewScene(render.NewFaces())
			s.Reset(image.Pt(300, 100), render.Unit)
			b.Draw(s, &th)
			filled := 0
			for _, sh := range s.Shapes {
				if sh.Kind == render.KindPoly && sh.Ink == render.InkCold {
					filled++
					require.Equal(t, th.GlyphFill, sh.Cover, th.Name)
				}
			}
			require.Equal(t, map[bool]int{false: 1, true: 0}[hollow], filled, th.Name)
		}
	}
}
