package main

import (
	"fmt"

	"github.com/rogpeppe/go-internal/testscript"

	"emberbeat/shows"
	"emberbeat/timeline"
)

// bigtour DIR makes an invented tour of 20 songs of two minutes, one an hour of
// timecode, on a rig of jets, flames, comets and fountains: in every song jets
// and flames, in songs 1 to 8 a comet each, in six songs a fountain.
func bigTour(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: bigtour DIR")
	}
	s, err := timeline.NewShow("bigtour", "Long Road", timeline.Rate25).Edit(bigTourRig, bigTourSongs)
	ts.Check(err)
	ts.Check(shows.Create(ts.MkAbs(args[0]), s))
}

// fountainSongs is which song each fountain is for.
var fountainSongs = []int{12, 3, 7, 18, 1, 5}

type recordBase = timeline.Base

func millis(n int64) timeline.Time { return timeline.FromMillis(n) }

func bigTourRig(d *timeline.Draft) error {
	head := *d.Show().Head
	head.PreRoll, head.Set = 5*timeline.Second, "main"
	const invented = timeline.Invented
	d.Put("", &head,
		&timeline.Article{Base: recordBase{ID: "comet"}, Name: "Comet", Family: timeline.Comet, Control: timeline.IgniterControl, HitPoint: timeline.FirstLight, Lead: millis(40), Open: millis(1500),
			SingleUse: true, NEC: 12, Height: 12, Fallout: 3, Separation: 8, Mark: invented},
		&timeline.Article{Base: recordBase{ID: "fountain"}, Name: "Fountain", Family: timeline.FountainLong, Control: timeline.IgniterControl, HitPoint: timeline.FirstLight, Lead: millis(100), Open: 10 * timeline.Second,
			SingleUse: true, NEC: 30, Height: 4, Fallout: 1, Separation: 5, Mark: invented},
		&timeline.Article{Base: recordBase{ID: "jet"}, Name: "Cold jet", Family: timeline.CO2Jet, Control: timeline.RelayControl, HitPoint: timeline.FullEffect, Lead: millis(120), Open: millis(500), Recovery: timeline.Second,
			Medium: "CO2", UseEach: 0.05, Height: 6, Clear: 3, Mark: invented},
		&timeline.Article{Base: recordBase{ID: "flame"}, Name: "Gas flame", Family: timeline.PropaneFlame, Control: timeline.SlotControl, HitPoint: timeline.FullEffect, Lead: millis(150), Open: millis(300), Recovery: timeline.Second,
			Medium: "propane", UseEach: 0.05, Height: 5, Clear: 5, Separation: 6, Mark: invented},
		&timeline.BankType{Base: recordBase{ID: "ign16"}, Name: "Igniter bank, 16", Kind: timeline.IgniterBank, Outputs: 16},
		&timeline.BankType{Base: recordBase{ID: "ign18"}, Name: "Igniter bank, 18", Kind: timeline.IgniterBank, Outputs: 18, Latency: millis(10)},
		&timeline.BankType{Base: recordBase{ID: "rel12"}, Name: "Relay bank, 12", Kind: timeline.RelayBank, Outputs: 12},
		&timeline.DeviceType{Base: recordBase{ID: "bar"}, Name: "Flame bar", ArmLead: timeline.Second, Slots: []timeline.Slot{
			{Block: 1, Number: 1, Role: timeline.EffectSlot, Head: 1, From: 128, To: 255}, {Block: 1, Number: 2, Role: timeline.EffectSlot, Head: 2, From: 128, To: 255},
			{Block: 1, Number: 3, Role: timeline.ArmSlot, From: 64, To: 127}}},
		&timeline.Bank{Base: recordBase{ID: "bank-a"}, Name: "bank A", Type: "ign16", Space: "igniters", Address: 1},
		&timeline.Bank{Base: recordBase{ID: "spare"}, Name: "spare bank", Type: "ign18", Space: "igniters", Address: 2},
		&timeline.Bank{Base: recordBase{ID: "relays"}, Name: "relays", Type: "rel12", Space: "relays", Address: 1},
		&timeline.Device{Base: recordBase{ID: "bar-1"}, Name: "flame bar", Type: "bar", Starts: []timeline.Patch{{Universe: 1, Slot: 45}}},
		&timeline.Supply{Base: recordBase{ID: "co2"}, Name: "CO2", Medium: "CO2", Fill: 22.7, Units: 3, Usable: 0.713, Reserve: 0.15, Feeds: []timeline.ID{"jet-1", "jet-2", "jet-3", "jet-4"}},
		&timeline.StagePosition{Base: recordBase{ID: "front"}, Name: "front", Y: 2}, &timeline.StagePosition{Base: recordBase{ID: "back"}, Name: "back", Y: 6})
	place := func(article, at timeline.ID, count int, unit timeline.ID, first int) (all []timeline.ID) {
		for i := range count {
			id := timeline.ID(fmt.Sprintf("%s-%d", article, i+1))
			spot := at
			if article == "fountain" && i >= 3 {
				spot = "back"
			}
			d.Put("", &timeline.Placed{Base: recordBase{ID: id}, Name: string(id), Article: article, Position: spot},
				&timeline.Wire{Base: recordBase{ID: "w-" + id}, Placed: id, Driver: unit, Output: first + i})
			all = append(all, id)
		}
		return all
	}
	place("comet", "back", 8, "bank-a", 1)
	place("fountain", "front", 6, "bank-a", 9)
	d.Put("", &timeline.Group{Base: recordBase{ID: "jets"}, Name: "all jets", Members: place("jet", "front", 4, "relays", 1)},
		&timeline.Group{Base: recordBase{ID: "flames"}, Name: "all flames", Members: place("flame", "back", 2, "bar-1", 1)})
	return nil
}

func bigTourSongs(d *timeline.Draft) error {
	set := &timeline.Set{Base: recordBase{ID: "main"}, Name: "Tour"}
	beats, err := timeline.NewBeatMap([]timeline.Anchor{{Bar: 1, Metre: timeline.Metre{Num: 4, Den: 4}}, {Bar: 61, At: 120 * timeline.Second}})
	if err != nil {
		return err
	}
	for n := 1; n <= 20; n++ {
		id := timeline.ID(fmt.Sprintf("s%02d", n))
		d.Put("", &timeline.SongHead{Base: recordBase{ID: id}, Title: fmt.Sprintf("Song %d", n), Slug: string(id), Start: timeline.Timecode{H: uint8(n)}, Length: 120 * timeline.Second, Beats: beats, Confirmed: true})
		bigTourCues(d, id, n)
		set.Entries = append(set.Entries, timeline.Entry{Song: id, Gap: 20 * timeline.Second})
	}
	d.Put("", set)
	return nil
}

func bigTourCues(d *timeline.Draft, song timeline.ID, n int) {
	cue := func(id string, lane timeline.ID, target timeline.ID, bar int) {
		d.Put(song, &timeline.Cue{Base: recordBase{ID: timeline.ID(fmt.Sprintf("%s-%s", song, id))}, Lane: lane, Target: target, At: timeline.AtBar(timeline.BarBeat{Bar: bar})})
	}
	id := func(name string) timeline.ID { return song + timeline.ID("-"+name) }
	d.Put(song, &timeline.Lane{Base: recordBase{ID: id("jets")}, Name: "Jets", Target: "jets", Role: timeline.EffectSlot}, &timeline.Lane{Base: recordBase{ID: id("flames")}, Name: "Flames", Target: "flames", Role: timeline.EffectSlot},
		&timeline.Lane{Base: recordBase{ID: id("shots")}, Name: "Shots", Target: "comet-1", Role: timeline.EffectSlot},
		&timeline.Lane{Base: recordBase{ID: id("arm")}, Name: "Flame arm", Target: "flames", Role: timeline.ArmSlot, Open: 80 * timeline.Second})
	for i := range 8 {
		cue(fmt.Sprintf("j%d", i), id("jets"), "", 5+i*6)
	}
	for i := range 6 {
		cue(fmt.Sprintf("f%d", i), id("flames"), "", 8+i*6)
	}
	cue("arm", id("arm"), "", 6)
	if n <= 8 {
		cue("comet", id("shots"), timeline.ID(fmt.Sprintf("comet-%d", n)), 33)
	}
	for i, in := range fountainSongs {
		if in == n {
			cue("fountain", id("shots"), timeline.ID(fmt.Sprintf("fountain-%d", i+1)), 45)
		}
	}
}
