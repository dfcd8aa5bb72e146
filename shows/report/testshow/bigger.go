package testshow

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// Charged is the small show with explosives, a circuit, a spare comet on two
// outputs, and an effect that nothing is wired to.
func Charged(t testing.TB) *timeline.Show {
	t.Helper()
	s, err := Small(t).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.Article{Base: timeline.Base{ID: "comet"}, Name: "comet", Family: timeline.Comet, HitPoint: timeline.FirstLight,
			Control: timeline.IgniterControl, Lead: timeline.FromMillis(40), Open: timeline.FromMillis(1500), SingleUse: true, NEC: 12.1, Division: "1.4G"},
			&timeline.Circuit{Base: timeline.Base{ID: "k1"}, Name: "circuit 1", Joining: timeline.InSeries, Igniters: 2, Ohms: 1.6, AllFire: 0.5, Cable: 50, Section: 1.5},
			&timeline.Wire{Base: timeline.Base{ID: "w2"}, Placed: "c1", Driver: "b2", Output: 1, Circuit: "k1"},
			&timeline.Wire{Base: timeline.Base{ID: "w4"}, Placed: "c1", Driver: "b2", Output: 2},
			&timeline.Placed{Base: timeline.Base{ID: "c2"}, Name: "comet 2", Article: "comet", Position: "left", Spare: true})
		return nil
	})
	require.NoError(t, err)
	return s
}

// Staged is the charged show in a venue that gives its lines, marks and numbers.
func Staged(t testing.TB) *timeline.Show {
	t.Helper()
	s, err := Charged(t).Edit(func(d *timeline.Draft) error {
		v := *d.Show().Venue("v1")
		v.Place, v.Trim, v.Volume, v.RuleSet, v.Conditions = "Northport", 9, 2000, "nyc-fc-2014", []string{"no flames after 22:30"}
		v.Audience = []timeline.PlanLine{{Name: "barrier", From: timeline.Point{X: -12, Y: -4}, To: timeline.Point{X: 12, Y: -4}}}
		v.Performers = []timeline.PlanMark{{Name: "singer", At: timeline.Point{Y: 2}, Radius: 1}}
		v.Clear = []timeline.PlanMark{{Name: "stairs", At: timeline.Point{X: 6, Y: 1}, Radius: 1.5}}
		d.Put("", &v)
		for id, change := range map[timeline.ID]func(*timeline.Article){
			"comet": func(a *timeline.Article) { a.Height, a.Fallout, a.UN, a.Category = 8, 3, "0431", "T1" },
			"jet":   func(a *timeline.Article) { a.Height, a.Clear, a.Medium, a.UseRate = 6, 3, "CO2", 0.8 },
			"flame": func(a *timeline.Article) { a.Height, a.Separation, a.Medium, a.UseRate = 5, 6, "propane", 0.1 },
		} {
			a := *d.Show().Stock.Article(id)
			change(&a)
			d.Put("", &a)
		}
		return nil
	})
	require.NoError(t, err)
	return s
}

// Hostile gives the night of the charged show with names that are long, of
// other scripts, broken, or formulas.
func Hostile(t testing.TB, seed int) *timeline.Plan {
	t.Helper()
	words := rapid.OneOf(rapid.StringOfN(rapid.RuneFrom([]rune("abcWM .-é火=+@\t\n\"'")), 1, 300, -1), rapid.Just("=1+1"), rapid.Just(strings.Repeat("W", 200)))
	s, named := Staged(t), 0
	for _, k := range timeline.Kinds() {
		songs := []timeline.ID{""}
		if k.InSong {
			songs = []timeline.ID{"ember", "tide"}
		}
		for _, song := range songs {
			for _, r := range k.List(s, song) {
				for _, field := range []string{"name", "title", "note", "place", "reason"} {
					if f := k.Field(field); f == nil || f.Type != timeline.TextField {
						continue
					}
					seed++
					next, err := s.Edit(func(d *timeline.Draft) error {
						return d.Set(timeline.Ref{Kind: k.Name, Song: song, ID: r.RecordID()}, field, timeline.Value{Text: words.Example(seed)})
					})
					if err == nil { // some fields take no such text, and say so
						s = next
						named++
					}
				}
			}
		}
	}
	require.Greater(t, named, 30)
	return timeline.Compile(s, s.Night("n1"))
}

// Big has 25 songs of 1,000 cues.
func Big(t testing.TB) *timeline.Show {
	s, err := Charged(t).Edit(func(d *timeline.Draft) error {
		set := &timeline.Set{Base: timeline.Base{ID: "main"}, Name: "main"}
		for i := range 25 {
			id := timeline.ID(fmt.Sprintf("s%02d", i))
			d.Put("", &timeline.SongHead{Base: timeline.Base{ID: id}, Title: "Song " + string(id), Slug: string(id), Start: timeline.Timecode{H: uint8(i / 3), M: uint8(i % 3 * 20)}, Length: 4 * timeline.Minute})
			d.Put(id, &timeline.Lane{Base: timeline.Base{ID: "ljet"}, Name: "jets", Target: "j1", Role: timeline.EffectSlot})
			for j := range 1000 {
				d.Put(id, &timeline.Cue{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("c%04d", j))}, Lane: "ljet", At: timeline.AtTime(timeline.Time(j) * 240 * timeline.Millisecond)})
			}
			set.Entries = append(set.Entries, timeline.Entry{Song: id})
		}
		d.Put("", set)
		return nil
	})
	require.NoError(t, err)
	return s
}

// CutNight is the night of the small show with some of it cut, swapped and taken
// out of the rig.
func CutNight(t testing.TB, change func(*timeline.Night)) *timeline.Plan {
	t.Helper()
	s, err := Charged(t).Edit(func(d *timeline.Draft) error {
		n := *d.Show().Night("n1")
		change(&n)
		d.Put("", &n)
		return nil
	})
	require.NoError(t, err)
	return timeline.Compile(s, s.Night("n1"))
}

// Edited makes edits to a show, which must succeed.
func Edited(t *testing.T, s *timeline.Show, edits ...timeline.Edit) *timeline.Show {
	t.Helper()
	next, err := s.Edit(edits...)
	require.NoError(t, err)
	return next
}

// Marked is the night of the charged show with every article marked so.
func Marked(t *testing.T, mark timeline.Mark, change func(*timeline.Article)) *timeline.Plan {
	t.Helper()
	s, err := Staged(t).Edit(func(d *timeline.Draft) error {
		for _, a := range d.Show().Stock.Articles {
			b := *a
			b.Mark, b.Marks = mark, nil
			change(&b)
			d.Put("", &b)
		}
		return nil
	})
	require.NoError(t, err)
	return timeline.Compile(s, s.Night("n1"))
}
