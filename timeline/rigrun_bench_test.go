package timeline

import (
	"fmt"
	"testing"
)

// 400 outputs on 25 banks, wired in one step.
func BenchmarkProposeWires(b *testing.B) {
	s, placed := row(b, 400)
	s, err := s.Edit(func(d *Draft) error {
		d.Put("", &BankType{Base: Base{ID: "ign16"}, Kind: IgniterBank, Outputs: 16})
		return nil
	}, AddBanks(BankRun{Type: "ign16", Count: 25, Name: "bank", Space: "x"}, ids("k")))
	if err != nil {
		b.Fatal(err)
	}
	var units []ID
	for i := range 25 {
		units = append(units, ID(fmt.Sprintf("k%03d", i+1)))
	}
	for _, pattern := range WirePatterns() {
		b.Run(string(pattern), func(b *testing.B) {
			for range b.N {
				if _, err := s.ProposeWires(WireRun{Placed: placed, Units: units, Pattern: pattern}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A phrase of 449 steps over 20 jets, in a song of 2,000 cues.
func BenchmarkPutPhrase(b *testing.B) {
	s := jets(b, 40, FromMillis(100))
	s, err := s.Edit(func(d *Draft) error {
		for i := range 2000 {
			d.Put("s", &Cue{Base: Base{ID: ID(fmt.Sprintf("c%04d", i))}, Lane: "l", Target: ID(fmt.Sprintf("j%d", 21+i%20)), At: AtTime(Time(i) * Second / 40)})
		}
		return nil
	})
	if err != nil {
		b.Fatal(err)
	}
	s, err = s.Edit(AddGroup("low", "low", s.Rig.Group("g").Members[:20], OrderAll))
	if err != nil {
		b.Fatal(err)
	}
	p := &Phrase{Base: Base{ID: "p"}, Lane: "l", Group: "low", Shape: Chase, At: bar(2), Until: bar(30), Every: beats(1, 4)}
	for range b.N {
		if _, err := s.Edit(PutPhrase("s", p, ids("q"))); err != nil {
			b.Fatal(err)
		}
	}
}
