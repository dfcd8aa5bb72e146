package session

import (
	"encoding/json"
	"strings"
	"testing"

	"emberbeat/shows"
	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
)

func TestEntriesSurviveTheirText(t *testing.T) {
	var b []byte
	want := []entry{{Kind: openStep, Digest: "d"}, {Kind: doStep, Label: "née \"x\"\n", Changes: json.RawMessage(`[]`)}, {Kind: undoStep}}
	for _, e := range want {
		line, err := encodeEntry(e)
		require.NoError(t, err)
		require.Equal(t, 1, strings.Count(string(line), "\n"))
		b = append(b, line...)
	}
	got, good := decodeEntries(append(b, "deadbeef {}\nrest"...))
	require.Equal(t, want, got)
	require.Equal(t, len(b), good)
}

func TestReplayRefuses(t *testing.T) {
	for name, list := range map[string][]entry{
		"nothing":          {},
		"no beginning":     {{Kind: undoStep}},
		"undo of nothing":  {{Kind: openStep}, {Kind: undoStep}},
		"redo of nothing":  {{Kind: openStep}, {Kind: redoStep}},
		"unknown step":     {{Kind: openStep}, {Kind: "leap"}},
		"changes of noise": {{Kind: openStep}, {Kind: doStep, Changes: json.RawMessage(`[{"kind":"x"}]`)}},
	} {
		_, err := readReplay(list)
		require.Error(t, err, name)
	}
}

// FuzzReplay replays any steps on a show: a journal may be refused, but never
// stop the program.
func FuzzReplay(f *testing.F) {
	f.Add(`{"kind":"open","digest":"d"}
{"kind":"do","label":"a","changes":[{"kind":"cue","song":"s","id":"a","after":{"text":{"lane":"l"}}}]}
{"kind":"saving","digest":"e"}
{"kind":"amend","label":"b","changes":[{"kind":"show","id":"show","before":{},"after":{"text":{"title":"x"}}}]}
{"kind":"undo"}
{"kind":"redo"}
{"kind":"saved","digest":"f"}`, "d")
	f.Add(`{"kind":"open","digest":"d"}
{"kind":"do","changes":[{"kind":"song","id":"s","before":{"text":{"slug":"s"}}},{"kind":"show","id":"other","after":{}}]}`, "x")
	f.Fuzz(func(t *testing.T, lines, digest string) {
		var list []entry
		for line := range strings.Lines(lines) {
			var e entry
			if json.Unmarshal([]byte(line), &e) == nil {
				list = append(list, e)
			}
		}
		r, err := readReplay(list)
		if err != nil {
			return
		}
		show := timeline.NewShow("show", "", timeline.Rate25)
		d := timeline.NewDraft(show)
		d.Put("", &timeline.SongHead{Base: timeline.Base{ID: "s"}, Slug: "s"})
		show = d.Show()
		base, _ := r.find(digest)
		for _, rebuild := range []func() (*timeline.History, error){
			func() (*timeline.History, error) { return r.history(base, show) },
			func() (*timeline.History, error) { return r.carry(show) },
		} {
			h, err := rebuild()
			if err != nil {
				continue
			}
			line, err := shows.EncodeChanges(timeline.Diff(show, h.Show()))
			require.NoError(t, err)
			_, err = shows.DecodeChanges(line)
			require.NoError(t, err)
		}
		r.unsaved(base)
	})
}
