package changed

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

func TestChangeList(t *testing.T) {
	s := testshow.Small(t)
	next, err := s.Edit(
		func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "article", ID: "jet"}, "lead", timeline.Value{Text: "0.2"})
		},
		func(d *timeline.Draft) error {
			return d.Remove(timeline.Ref{Kind: "cue", Song: "ember", ID: "q0"})
		},
		func(d *timeline.Draft) error {
			d.Put("ember", &timeline.Cue{Base: timeline.Base{ID: "q8"}, Lane: "ljet", At: timeline.AtTime(2 * timeline.Second)},
				&timeline.Cue{Base: timeline.Base{ID: "q7"}, Lane: "ljet", At: timeline.AtBar(timeline.BarBeat{Bar: 9})},
				&timeline.Cue{Base: timeline.Base{ID: "q9"}, Lane: "ljet", At: timeline.AtTime(timeline.Second), Note: "a word"})
			return nil
		})
	require.NoError(t, err)
	l := NewList(timeline.Diff(s, next))
	var b bytes.Buffer
	require.NoError(t, l.WriteText(&b))
	require.Equal(t, `changed article:jet "CO2 jet" lead=0.1200→0.2000
removed cue:ember/q0
added cue:ember/q7 lane=ljet at=9.1
added cue:ember/q9 lane=ljet at=0:01.0000 note="a word"
added cue:ember/q8 lane=ljet at=0:02.0000
`, b.String())
	b.Reset()
	require.NoError(t, l.WriteJSON(&b))
	var back List
	require.NoError(t, json.Unmarshal(b.Bytes(), &back))
	require.Equal(t, *l, back)
}
