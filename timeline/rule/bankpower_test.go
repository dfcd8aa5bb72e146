package rule

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// banked hangs comets on so many outputs of a bank of 24 V, each of 5.4 ohm in all
// (50 m of 0.5 mm², 3.9 ohm, and one igniter of 1.5), and fires them so far apart.
func banked(n int, apart timeline.Time, more ...timeline.Edit) []timeline.Edit {
	list := edits(put(&timeline.Circuit{Base: base{ID: "k"}, Name: "front", Joining: timeline.InSeries, Igniters: 1, Ohms: 1.5, AllFire: 1, Cable: 50, Section: 0.5}),
		field("banktype", "igniter", "volts", "24"), field("banktype", "igniter", "outputs", "32"), field("banktype", "igniter", "bank-amps", "100"), field("banktype", "igniter", "bank-ohms", "1"))
	for i := range n {
		id := timeline.ID(fmt.Sprintf("n%d", i))
		list = append(list, put(&timeline.Placed{Base: base{ID: id}, Name: string(id), Article: "comet"}, &timeline.Wire{Base: base{ID: "w-" + id}, Placed: id, Driver: "ib", Output: 10 + i, Circuit: "k"}),
			func(d *timeline.Draft) error {
				d.Put("a", &timeline.Lane{Base: base{ID: id}, Name: string(id), Target: id, Role: timeline.EffectSlot})
				return nil
			}, cue("a", id, 10*sec+timeline.Time(i)*apart))
	}
	return append(list, more...)
}

// Sixteen outputs of 5.4 ohm at once behind 1 ohm: 1.12 A each, of eight 1.91 A
// (worked out by another program: timeline/figure/testdata, bank-03 and 04).
func TestBankPower(t *testing.T) {
	runCases(t, "bank-power", []ruleCase{
		{"eight at once", banked(8, 0), nil},
		{"sixteen at once", banked(16, 0), []string{"cue:a/a-n0-10000: of 16 outputs on together, igniter bank leaves 1.12 A for each igniter of front, which needs 1.5 A"}},
		{"one after the other", banked(16, ms(500)), nil},
		{"pulses that overlap", banked(16, ms(10)), []string{"cue:a/a-n0-10000: of 16 outputs on together"}},
		{"shorter pulses that do not", banked(16, ms(50), field("banktype", "igniter", "pulse", "0.05")), nil},
		{"more than the bank gives", banked(8, 0, field("banktype", "igniter", "bank-amps", "14")), []string{"cue:a/a-n0-10000: 8 outputs on together draw 14.3 A, and igniter bank gives 14 A"}},
		{"less than is needed", banked(24, 0), []string{"cue:a/a-n0-10000: leaves 0.816 A"}},
		{"not given is not compared", banked(24, 0, field("banktype", "igniter", "bank-amps", "0"), field("banktype", "igniter", "bank-ohms", "0")), nil},
		{"a capacity is another matter", banked(24, 0, field("banktype", "igniter", "capacity", "1000")), nil},
		{"a dead bank", banked(24, 0, field("bank", "ib", "dead", "true")), nil},
	})
	lanesInB := func(d *timeline.Draft) error {
		for _, id := range []timeline.ID{"n0", "n1"} {
			d.Put("b", &timeline.Lane{Base: base{ID: id}, Name: string(id), Target: id, Role: timeline.EffectSlot})
		}
		return nil
	}
	runCases(t, "bank-not-given", []ruleCase{
		{"all given", banked(16, 0), nil},
		{"nothing given", banked(16, 0, field("banktype", "igniter", "bank-amps", "0"), field("banktype", "igniter", "bank-ohms", "0")), []string{"bank:ib: igniter bank has 16 outputs on together, and its current was not compared (bank-power): not given: most amps of the whole bank, inner resistance of the whole bank"}},
		{"an output without a circuit", banked(4, 0, field("wire", "w-n1", "circuit", "")), []string{"bank:ib: not given: what hangs on 1 output"}},
		{"one alone", banked(16, ms(500), field("banktype", "igniter", "bank-amps", "0")), nil},
		{"in two songs it is told once", append(banked(4, 0, field("banktype", "igniter", "bank-amps", "0")), lanesInB, cue("b", "n0", 10*sec), cue("b", "n1", 10*sec)), []string{"bank:ib: igniter bank has 4 outputs on together, and its current was not compared (bank-power): not given: most amps of the whole bank; so in 2 songs, here with most outputs"}},
		{"the song with most outputs tells it", append(banked(2, 0, field("banktype", "igniter", "bank-amps", "0")), lanesInB, cue("b", "n0", 10*sec), cue("b", "n1", 10*sec), func(d *timeline.Draft) error {
			return d.Remove(timeline.Ref{Kind: "cue", Song: "a", ID: "a-n1-10000"})
		}), []string{"bank:ib: 2 outputs on together"}},
	})
	severity := func(n int) Severity {
		return ofRule("bank-power", Check(timeline.Compile(stage(t, banked(n, 0)...), nil), Facts{}))[0].Severity
	}
	require.Equal(t, Warning, severity(16), "less than the margin")
	require.Equal(t, Error, severity(24), "less than the all-fire current")
}

func TestCircuitCount(t *testing.T) {
	runCases(t, "circuit-count", []ruleCase{
		{"one and one", onCircuit(timeline.InSeries, 1), nil},
		{"three igniters and one piece", onCircuit(timeline.InSeries, 3), []string{"circuit:k: igniter bank output 1: front counts 3 igniters, and 1 piece hangs on it"}},
		{"two pieces of one output", onCircuit(timeline.InSeries, 1, field("wire", "w-c2", "output", "1"), field("wire", "w-c2", "circuit", "k")), []string{"circuit:k: front counts 1 igniter, and 2 pieces hang on it"}},
		{"on two outputs", onCircuit(timeline.InSeries, 1, field("wire", "w-c2", "circuit", "k")), nil},
		{"out of the rig", onCircuit(timeline.InSeries, 3, field("bank", "ib", "dead", "true")), nil},
	})
}
