package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// atOnce are the operations that the window does without a form, and why.
var atOnce = map[string]string{
	"night-new":        "a night is made of the tour's set at once; its fields stand on the page of nights",
	"carry":            "recordings are chosen in a window of files, and looked through on a page before a song is carried over",
	"set-new":          "a set is made of all songs at once; its name stands on the page of sets",
	"set-order":        "it plays what is chosen in the table of songs, in that order",
	"set-out":          "it is said of what is chosen in the table of songs, and said back by the same key",
	"set-encore":       "it is said of what is chosen in the table of songs, and said back by the same key",
	"set-alternatives": "it is said of what is chosen in the table of songs",
	"venue-new":        "a venue is made of which nothing is known; its fields stand on the page of venues",
	"slot-remove":      "what is taken out is the slots chosen in the table",
	"unwire":           "what is taken away is the wires of the chosen rows",
	"unphrase":         "what is taken out is the phrases chosen in the table",
	"retire":           "it is said of the articles chosen in the table, and said back by the same key; used stock asks first",
	"quantise":         "what is put is the selected cues, onto what snapping is set to",
	"grid-double":      "it is tried in the beat strip, and done once it is kept",
	"grid-half":        "it is tried in the beat strip, and done once it is kept",
	"grid-three-two":   "it is tried in the beat strip, and done once it is kept",
	"grid-two-three":   "it is tried in the beat strip, and done once it is kept",
	"grid-bar-one":     "it is tried in the beat strip at the playhead",
	"grid-split":       "it is tried in the beat strip at the playhead",
	"grid-tap":         "the beat is tapped by its key while the song plays",
	"grid-listen":      "what is heard is tried in the beat strip",
	"grid-confirm":     "nothing more is to be said than that the beats are right",
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
			require.NotEmpty(t, k.List(h.a.work.Show, ""), "the example has a %s", o.On)
			on.ID = k.List(h.a.work.Show, "")[0].RecordID()
		}
		f := h.a.askOperation(o, on, page.Form{})
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

// A form that says what goes where says what the operation tells, with the very arguments that the words of its verb give.
func TestFormsShowWhatOperationsTell(t *testing.T) {
	h := withExample(t)
	p := h.a.work.Plan
	for id, given := range map[[2]string][][2]string{
		{"patch", "add"}:   {{"type", "flame-head"}, {"count", "2"}, {"space", "stage"}, {"at", "5.1"}},
		{"patch", "move"}:  {{"name", "spark head 1"}, {"at", "4.11"}},
		{"wire", ""}:       {{"placed", "Comet 1"}, {"bank", "bank B"}, {"pattern", "fan"}, {"from", "2"}, {"rewire", "true"}},
		{"row", ""}:        {{"rows", "3 jets, lip, 1.5 m apart"}, {"article", "cold-six"}, {"type", "Relay bank, 12 outputs"}, {"name", "jet relay"}},
		{"feed", ""}:       {{"placed", "Jet 1"}, {"supply", "gas-back"}},
		{"slot", "own"}:    {{"slot", "1.3"}, {"device", "spark head 1"}, {"name", "key"}, {"at", "2.17"}},
		{"slot", "change"}: {{"type", "flame-head"}, {"slot", "1.1"}, {"role", "effect"}, {"head", "2"}, {"wide", "false"}, {"name", "open"}},
	} {
		o := operation.Find(id[0], id[1])
		want := o.New()
		for _, g := range given {
			require.NoError(t, o.Arg(g[0]).Give(p, want, g[1]), o.ID())
		}
		f := h.a.askOperation(o, timeline.Ref{}, page.Form{Begin: func(args any) {
			for _, g := range given {
				if a := o.Arg(g[0]); a.NoForm {
					require.NoError(t, a.Give(p, args, g[1]), o.ID())
				}
			}
		}})
		h.step()
		for _, g := range given {
			if a := o.Arg(g[0]); !a.NoForm {
				v := a.Get(want)
				h.put(g[0], v.String())
			}
		}
		h.step()
		require.Empty(t, f.why(), o.ID())
		require.Equal(t, want, f.args, o.ID())
		told, err := o.Outcome(h.a.operationAt(timeline.Ref{}), want)
		require.NoError(t, err, o.ID())
		require.NotEmpty(t, told.Rows, o.ID())
		require.Equal(t, told.Rows, f.out.Rows, o.ID())
		h.a.dialog = nil
	}
}
