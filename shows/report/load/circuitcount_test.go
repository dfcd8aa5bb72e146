package load

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// One record of a circuit with three igniters that is used on eighteen outputs
// stands for 54 igniters.
func TestOrderListCountsACircuitOnEveryOutput(t *testing.T) {
	s := testshow.Edited(t, testshow.Small(t), func(d *timeline.Draft) error {
		d.Put("", &timeline.Circuit{Base: timeline.Base{ID: "row"}, Name: "row", Joining: timeline.InSeries, Igniters: 3, Ohms: 1.5, AllFire: 1})
		d.Put("", &timeline.BankType{Base: timeline.Base{ID: "wide"}, Name: "wide", Kind: timeline.IgniterBank, Outputs: 18}, &timeline.Bank{Base: timeline.Base{ID: "bw"}, Name: "wide", Type: "wide", Address: 99})
		for i := range 18 {
			id := timeline.ID(fmt.Sprintf("row%d", i))
			d.Put("", &timeline.Placed{Base: timeline.Base{ID: id}, Name: string(id), Article: "comet", Spare: true}, &timeline.Wire{Base: timeline.Base{ID: "w" + id}, Placed: id, Driver: "bw", Output: i + 1, Circuit: "row"})
		}
		return nil
	})
	before, err := NewOrderList(timeline.Compile(testshow.Small(t), nil))
	require.NoError(t, err)
	l, err := NewOrderList(timeline.Compile(s, nil))
	require.NoError(t, err)
	require.Equal(t, 54, l.Igniters.Circuits-before.Igniters.Circuits)
}

// Circuits and banks that nobody named are told by what they are, and never by id.
func TestCircuitsWithoutNames(t *testing.T) {
	s := testshow.Edited(t, testshow.Small(t), func(d *timeline.Draft) error {
		d.Put("", &timeline.Circuit{Base: timeline.Base{ID: "k9zq"}, Joining: timeline.InSeries, Igniters: 1, Ohms: 1.5, AllFire: 1},
			&timeline.BankType{Base: timeline.Base{ID: "wide"}, Name: "wide", Kind: timeline.IgniterBank, Outputs: 2}, &timeline.Bank{Base: timeline.Base{ID: "b9zq"}, Type: "wide", Address: 99},
			&timeline.Placed{Base: timeline.Base{ID: "row"}, Name: "row", Article: "comet", Spare: true}, &timeline.Wire{Base: timeline.Base{ID: "w9zq"}, Placed: "row", Driver: "b9zq", Output: 1, Circuit: "k9zq"})
		return nil
	})
	l, err := NewCircuitList(s, nil)
	require.NoError(t, err)
	var said strings.Builder
	require.NoError(t, l.WriteText(&said))
	require.NotContains(t, said.String(), "9zq")
	require.NotContains(t, said.String(), ",  output")
	require.Contains(t, said.String(), s.CalledBy("b9zq", "bank")+" output 1")
}
