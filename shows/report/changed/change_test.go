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
	l := NewList(s, next, timeline.Diff(s, next))
	var b bytes.Buffer
	require.NoError(t, l.WriteText(&b))
	require.Equal(t, `changed article "CO2 jet" lead=0.1200→0.2000
removed cue at 0.1 of song "Ember, slowly"
added cue at 9.1 of song "Ember, slowly" lane=jets at=9.1
added cue at 0:01.0000 of song "Ember, slowly" lane=jets at=0:01.0000 note="a word"
added cue at 0:02.0000 of song "Ember, slowly" lane=jets at=0:02.0000
`, b.String())
	b.Reset()
	require.NoError(t, l.WriteJSON(&b))
	var back List
	require.NoError(t, json.Unmarshal(b.Bytes(), &back))
	again, err := json.Marshal(&back)
	require.NoError(t, err)
	require.JSONEq(t, b.String(), string(again))
	require.Equal(t, FieldChange{Field: "lane", After: "ljet"}, back.Changes[2].Fields[0], "other programs get the texts that edit takes, with ids")
}
