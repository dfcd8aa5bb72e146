package rule

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// onCircuit hangs the comet c1 on a circuit of the trade example: 24 V, 50 m of
// 0.5 mm² (3.90 ohm, IEC 60228 class 5), igniters of 1.5 ohm and 1 A.
func onCircuit(joining timeline.Joining, igniters int, more ...timeline.Edit) []timeline.Edit {
	c := &timeline.Circuit{Base: base{ID: "k"}, Name: "front", Joining: joining, Igniters: igniters, Ohms: 1.5, AllFire: 1, Cable: 50, Section: 0.5}
	return append(edits(put(c), field("wire", "w-c1", "circuit", "k"), field("banktype", "igniter", "volts", "24")), more...)
}

// Derived from Ohm's law: through each of 10 in series
// flow 1.27 A, of 14 0.964 A; in parallel of 5 1.14 A, of 10 0.593 A; 1 A is
// needed. At 40 °C the cable has 42.07 ohm per km.
func TestCircuit(t *testing.T) {
	margin := func(values ...string) timeline.Edit {
		return showSetting("circuit", func(s *timeline.Setting) { s.Values = values })
	}
	runCases(t, "circuit", []ruleCase{
		{"one", onCircuit(timeline.InSeries, 1), nil},
		{"five in series", onCircuit(timeline.InSeries, 5), nil},
		{"ten in series, by less than the margin", onCircuit(timeline.InSeries, 10), []string{"circuit:k: 1.27 A: 1.5 A are needed"}},
		{"fourteen in series", onCircuit(timeline.InSeries, 14), []string{"circuit:k: igniter bank output 1: front: 0.964 A through each of 14 igniters in series, and 1.5 A are needed"}},
		{"two in parallel", onCircuit(timeline.InParallel, 2), nil},
		{"four in parallel", onCircuit(timeline.InParallel, 4, margin("margin=1.4")), nil},
		{"five in parallel", onCircuit(timeline.InParallel, 5, margin("margin=1.1")), nil},
		{"ten in parallel", onCircuit(timeline.InParallel, 10), []string{"circuit:k: 0.593 A through each of 10 igniters in parallel"}},
		{"a margin that is kept", onCircuit(timeline.InSeries, 10, margin("margin=1.26")), nil},
		{"a margin that is not", onCircuit(timeline.InSeries, 10, margin("margin=1.28")), []string{"circuit:k: 1.27 A: 1.28 A are needed"}},
		{"thirteen in series at 20 degrees", onCircuit(timeline.InSeries, 13, margin("margin=1")), nil},
		{"thirteen in series, a cable of 100 degrees", onCircuit(timeline.InSeries, 13, margin("celsius=100", "margin=1")), []string{"circuit:k: 0.975 A"}},
		{"more than an output gives", onCircuit(timeline.InSeries, 1, field("banktype", "igniter", "amps", "4")), []string{"circuit:k: 4.44 A is drawn, and an output of igniter bank gives 4 A"}},
		{"a cable that no table holds", onCircuit(timeline.InSeries, 1, field("circuit", "k", "section", "0.6")), []string{"circuit:k: the table holds"}},
		{"volts not given", onCircuit(timeline.InSeries, 14, field("banktype", "igniter", "volts", "0")), nil},
		{"on no output", onCircuit(timeline.InSeries, 14, field("wire", "w-c1", "circuit", "")), nil},
		{"on a dead bank", onCircuit(timeline.InSeries, 14, field("bank", "ib", "dead", "true")), nil},
		{"on two outputs", onCircuit(timeline.InSeries, 14, field("wire", "w-c2", "circuit", "k")), []string{"circuit:k: igniter bank output 1, igniter bank output 2: front"}},
	})
	runCases(t, "not-checked", []ruleCase{
		{"all given", onCircuit(timeline.InSeries, 1), nil},
		{"volts and all-fire current not given", onCircuit(timeline.InSeries, 1, field("banktype", "igniter", "volts", "0"), field("circuit", "k", "all-fire", "0")), []string{"circuit:k: front does not give: all-fire current, volts of the bank"}},
	})
	f := ofRule("circuit", Check(timeline.Compile(stage(t, onCircuit(timeline.InSeries, 14)...), nil), Facts{}))[0]
	require.Equal(t, Error, f.Severity, "less than the maker's number")
	require.Equal(t, Warning, ofRule("circuit", Check(timeline.Compile(stage(t, onCircuit(timeline.InSeries, 10)...), nil), Facts{}))[0].Severity, "less than the margin")
	require.Contains(t, f.Help, "measure 24.90 ohm expected on site")
	require.Contains(t, f.Help, deferral)
}

// Found iff a current solved by halving, not by division, is too small.
func TestCircuitEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n, joining := rapid.IntRange(1, 20).Draw(rt, "igniters"), rapid.SampledFrom([]timeline.Joining{timeline.InSeries, timeline.InParallel}).Draw(rt, "joining")
		cable := rapid.IntRange(1, 200).Draw(rt, "cable")
		s := stage(t, onCircuit(joining, n, field("circuit", "k", "cable", fmt.Sprint(cable)), field("banktype", "igniter", "ohms", "0.5"))...)
		low, high := 0.0, 48.0 // A through each igniter
		for range 60 {
			each := (low + high) / 2
			drawn, across := each, 1.5*each*float64(n)
			if joining == timeline.InParallel {
				drawn, across = each*float64(n), 1.5*each
			}
			if drawn*(0.5+2*float64(cable)*39.0/1000)+across > 24 {
				high = each
			} else {
				low = each
			}
		}
		require.Equal(rt, low < 1.5, len(ofRule("circuit", Check(timeline.Compile(s, nil), Facts{}))) > 0, "%g A", low)
	})
}
