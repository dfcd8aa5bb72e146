package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// Every kind can be listed, and its JSON has every field under its own name.
func TestRecordsHaveAllFields(t *testing.T) {
	s := testshow.Small(t)
	for _, k := range timeline.Kinds() {
		l := NewRecords(s, k, Filter{})
		text, err := json.Marshal(l)
		require.NoError(t, err)
		var all []map[string]any
		require.NoError(t, json.Unmarshal(text, &all))
		require.Len(t, all, l.Len())
		for _, o := range all {
			require.Contains(t, o, "id")
			require.Equal(t, k.InSong, o["song"] != nil, k.Name)
			for _, f := range k.FieldNames() {
				require.Contains(t, o, f, k.Name)
			}
		}
	}
}

func TestRecordValues(t *testing.T) {
	s := testshow.Small(t)
	text, err := json.Marshal(NewRecords(s, timeline.KindOf("article"), Filter{}))
	require.NoError(t, err)
	require.Contains(t, string(text), `"lead":0.0400`)
	require.Contains(t, string(text), `"single-use":true`)
	require.Contains(t, string(text), `"marks":[]`)
	require.True(t, strings.HasPrefix(string(text), `[{"id":"comet","name":"comet","family":"comet"`), string(text))
}

func TestRecordTables(t *testing.T) {
	s := testshow.Small(t)
	for _, c := range []struct {
		kind   string
		filter Filter
		want   string
	}{
		{"placed", Filter{}, `placed   article  position
comet 1  comet
flame 1  flame    =front left
jet 1    CO2 jet  =front left
`},
		{"cue", Filter{Song: "ember", Bars: &Bars{3, 11}}, `song   cue                time  lane       at         open s  level  note
ember  at 3.1        0:04.0000  jets       3.1        0.0000      0  with the "crash"
ember  at 5.1+1/2    0:08.2500  comets     5.1+1/2    0.0000      0
ember  at 0:18.0100  0:18.0100  flame arm  0:18.0100  4.0000      0
ember  at 0:20.0000  0:20.0000  flames     0:20.0000  0.8000     80
`},
	} {
		var b bytes.Buffer
		require.NoError(t, NewRecords(s, timeline.KindOf(c.kind), c.filter).Table().Write(&b))
		require.Equal(t, c.want, b.String())
	}
}

func TestSongList(t *testing.T) {
	s := testshow.Small(t)
	l := NewSongList(timeline.Compile(s, nil))
	require.Len(t, l.Songs, 2)
	require.Equal(t, 120.0, l.Songs[0].BPM)
	var b bytes.Buffer
	require.NoError(t, l.Table().Write(&b))
	require.Equal(t, `no  title          folder  start        length          bpm  metre  lanes  cues  audio
 1  Ember, slowly  ember   01:00:00:00  1:00.0       120.00  4/4        4     7  none
 2  Tide           tide    02:01:00:00  0:30.0  no beat map             1     2  none
`, b.String())
}

func TestKindsAndFields(t *testing.T) {
	s := testshow.Small(t)
	require.Len(t, NewKindList(s).Kinds, len(timeline.Kinds()))
	var b bytes.Buffer
	require.NoError(t, NewFieldList(timeline.KindOf("lane")).Table().Write(&b))
	require.Equal(t, `field    holds            default  what it is
name     text                      what the crew calls it
target   placed or group           placed effect or group its cues aim at
role     a word           effect   effect for hits; arm, condition or warm-up for windows: effect, arm, condition, warm-up
article  article                   article of its cues; none = that of the placed effect
open     seconds          0.0000   open time of its cues; 0 = the article's
locked   yes or no        false    its cues must not move
note     text
`, b.String())
	for _, k := range timeline.Kinds() {
		require.Len(t, NewFieldList(k).Fields, len(k.Fields))
	}
}
