package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// atOnce are the operations that the window does without a form, and why.
var atOnce = map[string]string{
	"night-new":        "a night is made of the tour's set at once; its fields stand on the page of nights",
	"set-new":          "a set is made of all songs at once; its name stands on the page of sets",
	"set-order":        "it plays what is chosen in the table of songs, in that order",
	"set-out":          "it is said of what is chosen in the table of songs, and said back by the same key",
	"set-encore":       "it is said of what is chosen in the table of songs, and said back by the same key",
	"set-alternatives": "it is said of what is chosen in the table of songs",
	"venue-new":        "a venue is made of which nothing is known; its fields stand on the page of venues",
	"unwire":           "what is taken away is the wires of the chosen rows",
	"night-back":       "what is taken back is the lines chosen in the table of the night",
}

// Every operation has one entry in the menus, named as the operation says.
func TestEveryOperationHasACommand(t *testing.T) {
	count := map[*operation.Operation]int{}
	table := New(Options{}).table
	for i := range table {
		if c := &table[i]; c.op != nil {
			count[c.op]++
			require.Equal(t, c.op.Menu, c.name, c.id)
			require.Equal(t, c.op.Tip, c.help, c.id)
		}
	}
	for _, o := range operation.All() {
		require.Equal(t, 1, count[o], o.ID())
	}
}

// Every operation that is not done at once has a form with a field for each argument that it asks for, and a word for its button.
func TestEveryOperationHasAForm(t *testing.T) {
	h := openNights(t)
	for _, o := range operation.All() {
		if atOnce[o.ID()] != "" {
			continue
		}
		require.NotEmpty(t, o.Title, o.ID())
		require.NotEmpty(t, o.Button, o.ID())
		on := timeline.Ref{Kind: o.On}
		if k := timeline.KindOf(o.On); k != nil {
			require.NotEmpty(t, k.List(h.a.work.shown, ""), "the example has a %s", o.On)
			on.ID = k.List(h.a.work.shown, "")[0].RecordID()
		}
		f := h.a.askOperation(o, on, formSpec{})
		h.step()
		require.NotEmpty(t, f.rows, o.ID())
		for i := range o.Args {
			a := &o.Args[i]
			if a.NoForm {
				require.False(t, a.NoVerb, "%s: nobody asks for %s", o.ID(), a.Name)
				continue
			}
			require.NotEmpty(t, a.Label, "%s %s", o.ID(), a.Name)
		}
		h.key("Esc")
		require.Nil(t, h.a.dialog, o.ID())
	}
}
