package sheet

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/shows"
	"emberbeat/shows/example"
	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// crewNight is a night of 250 cues over three songs of four sections and ten
// positions: 125 cues of flames and of jets on pairs of positions, 120 on one, and
// five of comets on them all.
func crewNight(t testing.TB) *timeline.Show {
	t.Helper()
	ms, base := timeline.FromMillis, func(id string) timeline.Base { return timeline.Base{ID: timeline.ID(id)} }
	s, err := timeline.NewShow("crew", "Tour of 250 Cues", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.Article{Base: base("jet"), Name: "Cold jet, 6 m", Family: timeline.CO2Jet, HitPoint: timeline.FullEffect, Control: timeline.RelayControl, Lead: ms(120), Open: ms(500), Medium: "CO2", UseRate: 0.5, Height: 6, Clear: 3},
			&timeline.Article{Base: base("flame"), Name: "Gas flame, 5 m", Family: timeline.PropaneFlame, HitPoint: timeline.FullEffect, Control: timeline.SlotControl, Lead: ms(150), Open: ms(300), Medium: "propane", UseRate: 0.05, Height: 5, Clear: 6},
			&timeline.Article{Base: base("comet"), Name: "Comet, white, 12 m", Family: timeline.Comet, HitPoint: timeline.FirstLight, Control: timeline.IgniterControl, Lead: ms(40), Open: ms(1500), SingleUse: true, Height: 12, Fallout: 3, NEC: 9, Division: "1.4G", UN: "0431"},
			&timeline.BankType{Base: base("relay"), Name: "relay bank", Kind: timeline.RelayBank, Outputs: 16}, &timeline.BankType{Base: base("igniter"), Name: "igniter bank", Kind: timeline.IgniterBank, Outputs: 32},
			&timeline.DeviceType{Base: base("head"), Name: "flame head", Slots: []timeline.Slot{{Block: 1, Number: 1, Role: timeline.EffectSlot, Head: 1, From: 128, To: 255},
				{Block: 1, Number: 2, Role: timeline.LevelSlot, Head: 1, From: 255, To: 255}, {Block: 1, Number: 3, Role: timeline.ArmSlot, From: 64, To: 127}}},
			&timeline.Bank{Base: base("rb"), Name: "relay bank 1", Type: "relay", Address: 1}, &timeline.Bank{Base: base("ib"), Name: "igniter bank 1", Type: "igniter", Address: 2})
		var jets, flames, comets []timeline.ID
		names := []string{"Lip left", "Lip right", "Wing left", "Wing right", "Back left", "Back centre", "Back right", "Riser left", "Riser right", "Truss"}
		place := func(list *[]timeline.ID, id, name, article, position, driver string, output int) {
			*list = append(*list, timeline.ID(id))
			d.Put("", &timeline.Placed{Base: base(id), Name: name, Article: timeline.ID(article), Position: timeline.ID(position)},
				&timeline.Wire{Base: base("w" + id), Placed: timeline.ID(id), Driver: timeline.ID(driver), Output: output})
		}
		for i, name := range names {
			at := fmt.Sprintf("p%d", i)
			d.Put("", &timeline.StagePosition{Base: base(at), Name: name, X: float64(i*2 - 9), Y: float64(i % 3 * 3), Z: 1})
			head := fmt.Sprintf("d%d", i)
			d.Put("", &timeline.Device{Base: base(head), Name: fmt.Sprintf("flame head %d", i+1), Type: "head", Starts: []timeline.Patch{{Universe: 1, Slot: 101 + 3*i}}, Position: timeline.ID(at)})
			place(&flames, fmt.Sprintf("f%d", i), fmt.Sprintf("Flame %d", i+1), "flame", at, head, 1)
			place(&jets, fmt.Sprintf("j%d", i), fmt.Sprintf("Jet %d", i+1), "jet", at, "rb", i+1)
			place(&comets, fmt.Sprintf("c%d", i), fmt.Sprintf("Comet %d", i+1), "comet", at, "ib", i+1)
		}
		pair := func(list []timeline.ID, k int) timeline.ID {
			i := k % 5 * 2
			id := timeline.ID(fmt.Sprintf("pair%s%d", list[0][:1], i))
			d.Put("", &timeline.Group{Base: timeline.Base{ID: id}, Name: fmt.Sprintf("%s %d", list[0][:1], i), Members: list[i : i+2]})
			return id
		}
		d.Put("", &timeline.Group{Base: base("flames"), Name: "all flames", Members: flames}, &timeline.Group{Base: base("comets"), Name: "all comets", Members: comets})
		set, count := &timeline.Set{Base: base("main"), Name: "Arena set"}, 0
		for song, cues := range []int{83, 83, 84} {
			id := timeline.ID(fmt.Sprintf("song%d", song+1))
			d.Put("", &timeline.SongHead{Base: timeline.Base{ID: id}, Title: []string{"Slow Harbour", "Copper Rain", "Last Ferry"}[song], Slug: string(id), Start: timeline.Timecode{H: uint8(song + 1)}, Length: 4 * timeline.Minute,
				Beats: timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 120)})
			for k, name := range []string{"Verse", "Chorus", "Bridge", "Last chorus"} {
				d.Put(id, &timeline.Section{Base: base(fmt.Sprintf("s%d", k)), Name: name, At: timeline.AtBar(timeline.BarBeat{Bar: 1 + 28*k})})
			}
			d.Put(id, &timeline.Lane{Base: base("flame"), Name: "Flames", Target: "flames", Role: timeline.EffectSlot}, &timeline.Lane{Base: base("jet"), Name: "Jets", Target: "j0", Role: timeline.EffectSlot},
				&timeline.Lane{Base: base("comet"), Name: "Comets", Target: "comets", Role: timeline.EffectSlot}, &timeline.Lane{Base: base("arm"), Name: "Flame arms", Target: "flames", Role: timeline.ArmSlot},
				&timeline.Cue{Base: base("arm"), Lane: "arm", At: timeline.AtTime(timeline.Second), Open: 230 * timeline.Second})
			for k := range cues {
				count++
				c := &timeline.Cue{Base: base(fmt.Sprintf("q%d", k)), Lane: "flame", At: timeline.AtBar(timeline.BarBeat{Bar: 3 + k*4/3, Beat: timeline.NewRat(int64(k%3), 1)})}
				switch {
				case count%50 == 0:
					c.Lane, c.Target = "comet", "comets"
				case count%4 == 0:
					c.Target = pair(flames, count/4)
				case count%4 == 1:
					c.Lane, c.Target = "jet", pair(jets, count/4)
				case count%4 == 2:
					c.Target = flames[count/4%10]
				default:
					c.Lane, c.Target = "jet", jets[count/4%10]
				}
				d.Put(id, c)
			}
			set.Entries = append(set.Entries, timeline.Entry{Song: id, Gap: 20 * timeline.Second})
		}
		d.Put("", set, &timeline.Venue{Base: base("v1"), Name: "Lantern Hall", Slug: "lantern", Trim: 14,
			Performers: []timeline.PlanMark{{Name: "singer", At: timeline.Point{Y: 2}, Radius: 1}, {Name: "drummer", At: timeline.Point{Y: 6}, Radius: 1}}},
			&timeline.Night{Base: base("n1"), Name: "first night", Slug: "first", Date: "2031-05-09", Set: "main", Venue: "v1", Revision: "C"})
		return nil
	})
	require.NoError(t, err)
	return s
}

func exampleShow(t testing.TB) *timeline.Show {
	t.Helper()
	dir := t.TempDir() + "/show"
	require.NoError(t, example.CopyTo(dir))
	l, err := shows.Load(dir)
	require.NoError(t, err)
	return l.Show
}

// pagesOf counts the pages of a sheet, and those of each part that starts one.
func pagesOf(t *testing.T, p *timeline.Plan, name string) (pages []string) {
	t.Helper()
	o, known := KindNamed(name)
	require.True(t, known, name)
	made, err := o.Make(p, report.Filter{})
	require.NoError(t, err)
	for _, page := range made.Printed().Pages(render.NewFaces(), paper.A4) {
		pages = append(pages, paper.Plain(page))
	}
	return pages
}

// What the crew holds has few pages: an operator turns 12 for the example's 540
// commands, a night of 250 cues asks 14 of its spotters, and one position of 60
// moments asks three of one.
func TestCrewsSheetsAreShort(t *testing.T) {
	p := timeline.Compile(exampleShow(t), nil)
	require.LessOrEqual(t, len(pagesOf(t, p, "cue-list")), 12)
	require.LessOrEqual(t, len(pagesOf(t, p, "spotter-sheet")), 14)

	s := crewNight(t)
	p = timeline.Compile(s, s.Night("n1"))
	cues := map[string]bool{}
	for i := range p.Songs {
		for k := range p.Songs[i].Commands {
			c := &p.Songs[i].Commands[k]
			cues[string(p.Songs[i].Song.ID+c.Cue.ID)] = true
		}
	}
	require.Len(t, cues, 250)
	pages := pagesOf(t, p, "spotter-sheet")
	require.LessOrEqual(t, len(pages), 14)
	long := 0
	for _, page := range pages {
		long += strings.Count(page, "Lip left · ")
	}
	require.LessOrEqual(t, long, 3)
}
