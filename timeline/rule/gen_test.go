package rule

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

type base = timeline.Base

func ms(n int64) timeline.Time { return timeline.FromMillis(n) }

// bigShow makes a show of the size a stadium tour has: about 400 outputs, and
// in every song cues of which few are wrong. The same seed gives the same
// show.
func bigShow(tb testing.TB, songs, cues int, seed uint64) *timeline.Show {
	tb.Helper()
	g := &generator{rnd: rand.New(rand.NewPCG(seed, 1))}
	s, err := timeline.NewShow("big", "Big Tour", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		head := *d.Show().Head
		head.PreRoll = 10 * timeline.Second
		d.Put("", &head)
		d.Put("", g.stock()...)
		d.Put("", g.rig()...)
		set := &timeline.Set{Base: base{ID: "main"}, Name: "main"}
		for i := range songs {
			id := timeline.ID(fmt.Sprintf("song%03d", i))
			length := timeline.Time(cues) * ms(240)
			minute := 5 * i // each song of 1,000 cues lasts four minutes and starts half a minute into its five
			d.Put("", &timeline.SongHead{Base: base{ID: id}, Title: fmt.Sprintf("Song %d", i), Slug: string(id), Length: length,
				Start: timeline.Timecode{H: uint8(minute / 60 % 24), M: uint8(minute % 60), S: 30}, Beats: timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 120)})
			d.Put(id, g.song(cues)...)
			set.Entries = append(set.Entries, timeline.Entry{Song: id, Gap: 20 * timeline.Second})
		}
		d.Put("", set)
		d.Put("", g.place()...)
		return nil
	})
	require.NoError(tb, err)
	return s
}

type generator struct {
	rnd    *rand.Rand
	placed []timeline.ID // one cue after another aims at them in turn
	flames []timeline.ID
	shots  []timeline.ID
	next   int
}

func (g *generator) stock() []timeline.Record {
	return []timeline.Record{
		&timeline.Article{Base: base{ID: "jet"}, Name: "jet", Family: timeline.CO2Jet, Control: timeline.RelayControl, Lead: ms(120), Open: ms(500), Recovery: ms(500), UseRate: 1, Height: 6, Clear: 3, Wind: 12},
		&timeline.Article{Base: base{ID: "flame"}, Name: "flame", Family: timeline.PropaneFlame, Control: timeline.SlotControl, Lead: ms(150), Open: ms(300), Recovery: ms(1000),
			DutyOpen: 10 * timeline.Second, DutyWindow: timeline.Minute, Medium: "propane", UseRate: 0.1, Height: 5, Separation: 8, Clear: 6, Wind: 8},
		&timeline.Article{Base: base{ID: "comet"}, Name: "comet", Family: timeline.Comet, Control: timeline.IgniterControl, Lead: ms(40), Open: ms(1500), SingleUse: true, Height: 12, Fallout: 3, Separation: 8, Wind: 8},
		&timeline.BankType{Base: base{ID: "relay"}, Name: "relay bank", Kind: timeline.RelayBank, Outputs: 16},
		&timeline.BankType{Base: base{ID: "igniter"}, Name: "igniter bank", Kind: timeline.IgniterBank, Outputs: 32, Latency: ms(5)},
		&timeline.DeviceType{Base: base{ID: "bar"}, Name: "flame bar", ArmLead: timeline.Second, Slots: []timeline.Slot{
			{Block: 1, Number: 1, Role: timeline.EffectSlot, From: 255, To: 255}, {Block: 1, Number: 2, Role: timeline.ArmSlot, From: 64, To: 127}}},
	}
}

func (g *generator) rig() []timeline.Record {
	recs := []timeline.Record{&timeline.Supply{Base: base{ID: "rack"}, Name: "CO2 rack", Medium: "CO2", Fill: 30000, Units: 1, Usable: 0.8, Reserve: 0.15}}
	add := func(kind string, n int, article timeline.ID, wire func(i int) *timeline.Wire) {
		for i := range n {
			id := timeline.ID(fmt.Sprintf("%s%03d", kind, i))
			w := wire(i)
			w.ID, w.Placed = "w-"+id, id
			recs = append(recs, &timeline.Placed{Base: base{ID: id}, Name: string(id), Article: article, Position: timeline.ID(fmt.Sprintf("p%02d", i%40))}, w)
			switch kind {
			case "flame":
				g.flames = append(g.flames, id)
			case "comet":
				g.shots = append(g.shots, id)
			}
			if kind != "comet" {
				g.placed = append(g.placed, id)
			}
		}
	}
	for i := range 40 {
		recs = append(recs, &timeline.StagePosition{Base: base{ID: timeline.ID(fmt.Sprintf("p%02d", i))}, X: float64(2*i - 39), Y: 2, Z: 1})
	}
	for i := range 5 {
		recs = append(recs, &timeline.Bank{Base: base{ID: timeline.ID(fmt.Sprintf("r%d", i))}, Name: fmt.Sprintf("relay bank %d", i), Type: "relay", Address: i + 1})
	}
	for i := range 8 {
		recs = append(recs, &timeline.Bank{Base: base{ID: timeline.ID(fmt.Sprintf("i%d", i))}, Name: fmt.Sprintf("igniter bank %d", i), Type: "igniter", Address: i + 10})
	}
	for i := range 60 {
		id := timeline.ID(fmt.Sprintf("d%02d", i))
		recs = append(recs, &timeline.Device{Base: base{ID: id}, Name: "bar " + string(id), Type: "bar", Starts: []timeline.Patch{{Universe: 1, Slot: 10 + 2*i}}})
	}
	add("jet", 80, "jet", func(i int) *timeline.Wire {
		return &timeline.Wire{Driver: timeline.ID(fmt.Sprintf("r%d", i/16)), Output: i%16 + 1}
	})
	add("flame", 60, "flame", func(i int) *timeline.Wire {
		return &timeline.Wire{Driver: timeline.ID(fmt.Sprintf("d%02d", i)), Output: 1}
	})
	add("comet", 256, "comet", func(i int) *timeline.Wire {
		return &timeline.Wire{Driver: timeline.ID(fmt.Sprintf("i%d", i/32)), Output: i%32 + 1}
	})
	group := &timeline.Group{Base: base{ID: "flames"}, Name: "all flames", Members: g.flames}
	rack := recs[0].(*timeline.Supply)
	rack.Feeds = append(rack.Feeds, g.placed[:80]...)
	return append(recs, group)
}

// place gives a night in a hall where everything that rules compare with is
// given, far enough away that few findings come of it.
func (g *generator) place() []timeline.Record {
	v := &timeline.Venue{Base: base{ID: "v"}, Name: "big hall", Slug: "v", Trim: 30, Tolerance: 0.2, Margin: 1, Volume: 900_000, AirChanges: 2, Wind: 8, RuleSet: "nyc-fc-2014"}
	for i := range 3 {
		y := -20 - float64(i)
		v.Audience = append(v.Audience, timeline.PlanLine{Name: fmt.Sprint("barrier ", i), From: timeline.Point{X: -40, Y: y}, To: timeline.Point{X: 40, Y: y}})
	}
	for i := range 8 {
		v.Performers = append(v.Performers, timeline.PlanMark{Name: fmt.Sprint("mark ", i), At: timeline.Point{X: float64(i), Y: -9}, Radius: 1})
	}
	return []timeline.Record{v, &timeline.Night{Base: base{ID: "n"}, Name: "night", Slug: "n", Venue: "v", Set: "main", Date: "2031-05-09"}}
}

// song gives lanes and cues: an arm over everything, jets and flames in turn
// on sixteenths, now and then a comet, and one in 200 cues too soon.
func (g *generator) song(cues int) []timeline.Record {
	recs := []timeline.Record{
		&timeline.Lane{Base: base{ID: "lane-arm"}, Name: "arm", Target: "flames", Role: timeline.ArmSlot},
		&timeline.Cue{Base: base{ID: "arm"}, Lane: "lane-arm", At: timeline.AtTime(-2 * timeline.Second), Open: timeline.Time(cues)*ms(240) + timeline.Second},
	}
	for _, id := range append(append([]timeline.ID(nil), g.placed...), g.shots...) {
		recs = append(recs, &timeline.Lane{Base: base{ID: "lane-" + id}, Name: string(id), Target: id, Role: timeline.EffectSlot})
	}
	for i := range cues {
		target := g.placed[i%len(g.placed)]
		if i%100 == 99 && g.next < len(g.shots) {
			target, g.next = g.shots[g.next], g.next+1
		}
		at := ms(1000) + timeline.Time(i)*ms(230)
		if g.rnd.IntN(200) == 0 {
			target = g.placed[max(0, i-1)%len(g.placed)]
		}
		recs = append(recs, &timeline.Cue{Base: base{ID: timeline.ID(fmt.Sprintf("c%05d", i))}, Lane: "lane-" + target, At: timeline.AtTime(at)})
	}
	return recs
}
