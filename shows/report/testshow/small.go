package testshow

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// Small is a show with what sheets have to print: a jet on a relay, a comet on
// an igniter, a flame bar of two heads with level and arm slots, of which one
// bank is dead, cues before the audio, on bars and at times, and a lost one.
func Small(t testing.TB) *timeline.Show {
	t.Helper()
	ms := timeline.FromMillis
	beats, err := timeline.NewBeatMap([]timeline.Anchor{{Bar: 1, Metre: timeline.Metre{Num: 4, Den: 4}}, {Bar: 31, At: timeline.Minute}})
	require.NoError(t, err)
	records := []timeline.Record{
		&timeline.Article{Base: timeline.Base{ID: "jet"}, Name: "CO2 jet", Family: timeline.CO2Jet, HitPoint: timeline.FullEffect,
			Control: timeline.RelayControl, Lead: ms(120), Open: ms(500), Mark: timeline.Invented},
		&timeline.Article{Base: timeline.Base{ID: "comet"}, Name: "comet", Family: timeline.Comet, HitPoint: timeline.FirstLight,
			Control: timeline.IgniterControl, Lead: ms(40), Open: ms(1500), SingleUse: true},
		&timeline.Article{Base: timeline.Base{ID: "flame"}, Name: "flame", Family: timeline.PropaneFlame, HitPoint: timeline.FullEffect,
			Control: timeline.SlotControl, Lead: ms(150), Open: ms(300), Level: 50, Mark: timeline.Measured},
		&timeline.BankType{Base: timeline.Base{ID: "relay8"}, Name: "relay bank", Kind: timeline.RelayBank, Outputs: 8},
		&timeline.BankType{Base: timeline.Base{ID: "ign16"}, Name: "igniter bank", Kind: timeline.IgniterBank, Outputs: 16, Latency: ms(10)},
		&timeline.DeviceType{Base: timeline.Base{ID: "bar"}, Name: "flame bar", Slots: []timeline.Slot{
			{Block: 1, Number: 1, Role: timeline.EffectSlot, Head: 1, From: 128, To: 255},
			{Block: 1, Number: 2, Role: timeline.LevelSlot, Head: 1, From: 255, To: 255},
			{Block: 1, Number: 3, Role: timeline.ArmSlot, From: 64, To: 127, Off: 7},
		}},
		&timeline.StagePosition{Base: timeline.Base{ID: "left"}, Name: "=front left", X: -4},
		&timeline.Placed{Base: timeline.Base{ID: "j1"}, Name: "jet 1", Article: "jet", Position: "left"},
		&timeline.Placed{Base: timeline.Base{ID: "c1"}, Name: "comet 1", Article: "comet"},
		&timeline.Placed{Base: timeline.Base{ID: "f1"}, Name: "flame 1", Article: "flame", Position: "left"},
		&timeline.Bank{Base: timeline.Base{ID: "b1"}, Name: "bank 1", Type: "relay8"},
		&timeline.Bank{Base: timeline.Base{ID: "b2"}, Name: "bank 2", Type: "ign16", Dead: true},
		&timeline.Device{Base: timeline.Base{ID: "d1"}, Name: "bar 1", Type: "bar", Starts: []timeline.Patch{{Universe: 1, Slot: 45}}, Position: "left"},
		&timeline.Wire{Base: timeline.Base{ID: "w1"}, Placed: "j1", Driver: "b1", Output: 3},
		&timeline.Wire{Base: timeline.Base{ID: "w2"}, Placed: "c1", Driver: "b2", Output: 1},
		&timeline.Wire{Base: timeline.Base{ID: "w3"}, Placed: "f1", Driver: "d1", Output: 1},
		&timeline.SongHead{Base: timeline.Base{ID: "ember"}, Title: "Ember, slowly", Slug: "ember", Start: timeline.Timecode{H: 1}, Length: timeline.Minute, PreRoll: 5 * timeline.Second, Beats: beats},
		&timeline.SongHead{Base: timeline.Base{ID: "tide"}, Title: "Tide", Slug: "tide", Start: timeline.Timecode{H: 2, M: 1}, Length: 30 * timeline.Second},
	}
	ember := []timeline.Record{
		&timeline.Lane{Base: timeline.Base{ID: "ljet"}, Name: "jets", Target: "j1", Role: timeline.EffectSlot},
		&timeline.Lane{Base: timeline.Base{ID: "lcom"}, Name: "comets", Target: "c1", Role: timeline.EffectSlot},
		&timeline.Lane{Base: timeline.Base{ID: "lfla"}, Name: "flames", Target: "f1", Role: timeline.EffectSlot},
		&timeline.Lane{Base: timeline.Base{ID: "larm"}, Name: "flame arm", Target: "f1", Role: timeline.ArmSlot},
		&timeline.Cue{Base: timeline.Base{ID: "q0"}, Lane: "ljet", At: timeline.AtBar(timeline.BarBeat{Bar: 0})},
		&timeline.Cue{Base: timeline.Base{ID: "q1"}, Lane: "ljet", At: timeline.AtBar(timeline.BarBeat{Bar: 3}), Note: "with the \"crash\""},
		&timeline.Cue{Base: timeline.Base{ID: "q2"}, Lane: "lcom", At: timeline.AtBar(timeline.BarBeat{Bar: 5, Beat: timeline.NewRat(1, 2)})},
		&timeline.Cue{Base: timeline.Base{ID: "q3"}, Lane: "lfla", At: timeline.AtTime(20 * timeline.Second), Open: ms(800), Level: 80},
		&timeline.Cue{Base: timeline.Base{ID: "q4"}, Lane: "larm", At: timeline.AtTime(ms(18010)), Open: ms(4000)},
		&timeline.Cue{Base: timeline.Base{ID: "q5"}, Lane: "larm", At: timeline.AtTime(40 * timeline.Second)},
		&timeline.Cue{Base: timeline.Base{ID: "q6"}, Lane: "ljet", At: timeline.AtTime(ms(50010)), Disabled: true},
	}
	s, err := timeline.NewShow("show1", "Test Tour", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		d.Put("", records...)
		d.Put("ember", ember...)
		d.Put("tide", &timeline.Lane{Base: timeline.Base{ID: "ljet"}, Name: "jets", Target: "j1", Role: timeline.EffectSlot},
			&timeline.Cue{Base: timeline.Base{ID: "q1"}, Lane: "ljet", At: timeline.AtTime(timeline.Second)},
			&timeline.Cue{Base: timeline.Base{ID: "q2"}, Lane: "ljet", At: timeline.AtBar(timeline.BarBeat{Bar: 2})})
		d.Put("", &timeline.Set{Base: timeline.Base{ID: "main"}, Name: "main", Entries: []timeline.Entry{{Song: "ember", Gap: 8 * timeline.Second}, {Song: "tide"}}},
			&timeline.Venue{Base: timeline.Base{ID: "v1"}, Name: "Lantern Hall", Slug: "lantern"},
			&timeline.Night{Base: timeline.Base{ID: "n1"}, Name: "first night", Slug: "first", Date: "2031-05-09", Set: "main", Venue: "v1", Revision: "C"})
		return nil
	})
	require.NoError(t, err)
	return s
}
