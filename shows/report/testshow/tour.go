package testshow

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// Tour is a show of songs, two minutes each and twenty seconds apart, each with so many cues spread evenly over it: jets on two supplies in turn,
// flames with their arm, and comets that are used up. Of the second song nothing is given but its cues: no recording and no length. In every third
// song the arm is never lowered. "CO2 left" is changed after the second song.
func Tour(t testing.TB, songs, cues int) *timeline.Show {
	t.Helper()
	ms := timeline.FromMillis
	base := func(id string) timeline.Base { return timeline.Base{ID: timeline.ID(id)} }
	s, err := timeline.NewShow("tour", "Tour of Tests", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.Article{Base: base("jet"), Name: "Cold jet", Family: timeline.CO2Jet, Control: timeline.RelayControl, Lead: ms(120), Open: ms(500), Recovery: ms(800), Medium: "CO2", UseRate: 0.5},
			&timeline.Article{Base: base("flame"), Name: "Flame", Family: timeline.PropaneFlame, Control: timeline.SlotControl, Lead: ms(150), Open: ms(300), Medium: "propane", UseRate: 0.05},
			&timeline.Article{Base: base("comet"), Name: "Comet", Family: timeline.Comet, Control: timeline.IgniterControl, Lead: ms(40), Open: ms(1500), SingleUse: true},
			&timeline.BankType{Base: base("relay"), Name: "relay bank", Kind: timeline.RelayBank, Outputs: 8},
			&timeline.BankType{Base: base("igniter"), Name: "igniter bank", Kind: timeline.IgniterBank, Outputs: 64},
			&timeline.DeviceType{Base: base("bar"), Name: "flame bar", Slots: []timeline.Slot{{Block: 1, Number: 1, Role: timeline.EffectSlot, Head: 1, From: 128, To: 255},
				{Block: 1, Number: 2, Role: timeline.ArmSlot, From: 64, To: 127}}},
			&timeline.Bank{Base: base("rb"), Name: "relays", Type: "relay", Address: 1}, &timeline.Bank{Base: base("ib"), Name: "igniters", Type: "igniter", Address: 2},
			&timeline.Device{Base: base("bar1"), Name: "bar 1", Type: "bar", Starts: []timeline.Patch{{Universe: 1, Slot: 1}}})
		place := func(id, name, article, driver string, output int) {
			d.Put("", &timeline.Placed{Base: base(id), Name: name, Article: timeline.ID(article)},
				&timeline.Wire{Base: base("w" + id), Placed: timeline.ID(id), Driver: timeline.ID(driver), Output: output})
		}
		place("j1", "Jet left", "jet", "rb", 1)
		place("j2", "Jet right", "jet", "rb", 2)
		place("f1", "Flame", "flame", "bar1", 1)
		d.Put("", &timeline.Supply{Base: base("s1"), Name: "CO2 left", Medium: "CO2", Units: 2, Fill: 20, Usable: 0.9, Reserve: 0.15, Feeds: []timeline.ID{"j1"}},
			&timeline.Supply{Base: base("s2"), Name: "CO2 right", Medium: "CO2", Units: 1, Fill: 20, Usable: 0.9, Reserve: 0.15, Feeds: []timeline.ID{"j2"}},
			&timeline.Supply{Base: base("s3"), Name: "Propane", Medium: "propane", Units: 1, Fill: 11, Usable: 1, Reserve: 0.15, Feeds: []timeline.ID{"f1"}})
		set := &timeline.Set{Base: base("main"), Name: "Arena set"}
		for i := range songs {
			id := timeline.ID(fmt.Sprintf("song%02d", i+1))
			head := &timeline.SongHead{Base: timeline.Base{ID: id}, Title: fmt.Sprintf("Song number %d", i+1), Slug: string(id), Start: timeline.Timecode{H: uint8(i % 23), M: 10}, Length: 2 * timeline.Minute,
				Beats: timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 64)}
			if i == 1 {
				head.Length, head.Beats = 0, nil
			}
			place(fmt.Sprintf("c%d", i), fmt.Sprintf("Comet %d", i+1), "comet", "ib", i+1)
			d.Put("", head)
			lane := func(lid, target string, role timeline.SlotRole) {
				d.Put(id, &timeline.Lane{Base: base(lid), Name: lid, Target: timeline.ID(target), Role: role})
			}
			lane("left", "j1", timeline.EffectSlot)
			lane("right", "j2", timeline.EffectSlot)
			lane("flame", "f1", timeline.EffectSlot)
			lane("comet", fmt.Sprintf("c%d", i), timeline.EffectSlot)
			lane("arm", "f1", timeline.ArmSlot)
			arm := &timeline.Cue{Base: base("arm"), Lane: "arm", At: timeline.AtTime(2 * timeline.Second), Open: timeline.Minute}
			if i%3 == 2 {
				arm.Open = 0
			}
			d.Put(id, arm, &timeline.Cue{Base: base("last"), Lane: "comet", At: timeline.AtTime(100 * timeline.Second)})
			for k := range cues {
				at := (timeline.Time(k)*110*timeline.Second/timeline.Time(max(cues, 1)) + 5*timeline.Second).RoundTo(timeline.EntryStep)
				d.Put(id, &timeline.Cue{Base: base(fmt.Sprintf("q%d", k)), Lane: []timeline.ID{"left", "right", "flame"}[k%3], At: timeline.AtTime(at)})
			}
			set.Entries = append(set.Entries, timeline.Entry{Song: id, Gap: 20 * timeline.Second})
		}
		if songs > 1 {
			set.Refills = []timeline.Refill{{Supply: "s1", After: "song02", Minutes: 0.3}}
		}
		d.Put("", set)
		return nil
	})
	require.NoError(t, err)
	return s
}
