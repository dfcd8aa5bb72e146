package report

import (
	"bytes"
	"encoding/json"
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
	"emberbeat/timeline/units"
)

// places puts every cue on a line of its song's file, everything else nowhere
// but stock and rig.
type places struct{}

func (places) Place(r timeline.Ref) (string, int) {
	switch r.Kind {
	case "cue":
		return "songs/" + string(r.Song) + "/cues.toml", 100 + int(r.ID[len(r.ID)-1]-'0')
	case "song":
		return "songs/" + string(r.ID) + "/song.toml", 1
	case "article", "devicetype":
		return "stock.toml", 12
	case "show":
		return "show.toml", 0
	}
	return "", 0
}

// troubled is the small show with findings of most shapes: with times and
// without, about a rig, accepted, with values of words and numbers, in two
// songs of a night.
func troubled(t testing.TB) *timeline.Show {
	t.Helper()
	s := testshow.Small(t)
	s, err := s.Edit(func(d *timeline.Draft) error {
		jet := *s.Stock.Article("jet")
		jet.Recovery, jet.Source = 2*timeline.Second, "measured at rehearsal"
		d.Put("", &jet, &timeline.Bank{Base: timeline.Base{ID: "b3"}, Name: "bank 3", Type: "relay8", Address: 4}, &timeline.Bank{Base: timeline.Base{ID: "b4"}, Name: "bank 4", Type: "relay8", Address: 4},
			&timeline.Setting{Base: timeline.Base{ID: "recovery"}, Values: []string{"extra=0.25"}}, &timeline.Setting{Base: timeline.Base{ID: "dense"}, Off: true})
		d.Put("ember", &timeline.Cue{Base: timeline.Base{ID: "q7"}, Lane: "ljet", At: timeline.AtBar(timeline.BarBeat{Bar: 3, Beat: timeline.NewRat(3, 1)})})
		return nil
	})
	require.NoError(t, err)
	p := timeline.Compile(s, s.Night("n1"))
	for _, f := range rule.Check(p, rule.Facts{}) {
		if f.Rule == "unwired" {
			s, err = s.Edit(func(d *timeline.Draft) error {
				return d.Set(timeline.Ref{Kind: "night", ID: "n1"}, "accepted", timeline.Value{Items: []string{f.Acceptance("A. Rigger", "comet cut by hand").String()}})
			})
			require.NoError(t, err)
		}
	}
	return s
}

func findingsOf(t testing.TB, facts rule.Facts, filter Filter) *Findings {
	t.Helper()
	s := troubled(t)
	p := timeline.Compile(s, s.Night("n1"))
	return NewFindings(p, facts, rule.Check(p, facts), places{}, filter)
}

func TestFindingsGolden(t *testing.T) {
	facts := rule.Facts{Audio: map[timeline.ID]rule.AudioFact{}}
	l := findingsOf(t, facts, Filter{})
	for file, write := range map[string]func(io.Writer) error{
		"findings-short.txt": l.WriteShort, "findings-long.txt": l.WriteLong, "findings.json": l.WriteJSON,
	} {
		var b bytes.Buffer
		require.NoError(t, write(&b))
		testshow.Golden(t, file, b.Bytes())
	}
	require.Equal(t, len(l.List)-1, l.Open())
}

// The same plan gives the same bytes, however often it is checked.
func TestFindingsAreByteStable(t *testing.T) {
	var first, again bytes.Buffer
	require.NoError(t, findingsOf(t, rule.Facts{}, Filter{}).WriteJSON(&first))
	for range 5 {
		again.Reset()
		require.NoError(t, findingsOf(t, rule.Facts{}, Filter{}).WriteJSON(&again))
		require.Equal(t, first.String(), again.String())
	}
}

// The keys that other programs rely on are there, and numbers are numbers.
func TestFindingsJSONKeys(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, findingsOf(t, rule.Facts{}, Filter{}).WriteJSON(&b))
	var got struct {
		Findings []map[string]any `json:"findings"`
		Checked  map[string]any   `json:"checked"`
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &got))
	require.NotEmpty(t, got.Findings)
	for _, f := range got.Findings {
		for _, key := range []string{"rule", "severity", "song", "cue", "record", "file", "line", "bar", "timecode", "text", "values", "help", "fix", "accepted"} {
			require.Contains(t, f, key)
		}
	}
	for _, f := range got.Findings {
		if f["rule"] == "recovery" {
			value := f["values"].([]any)[0].(map[string]any)
			require.Equal(t, map[string]any{"name": "apart", "value": 1.5, "unit": "s"}, value)
			require.Equal(t, "3.4", f["bar"])
			require.Equal(t, "ember", f["song"])
			require.Equal(t, "q7", f["cue"])
		}
	}
}

func TestFindingsFilter(t *testing.T) {
	rules := func(f Filter) (names []string) {
		l := findingsOf(t, rule.Facts{}, f)
		for _, line := range l.List {
			names = append(names, line.Rule)
		}
		require.Equal(t, len(names), l.Checked.Errors+l.Checked.Warnings+l.Checked.Notes)
		return names
	}
	require.Equal(t, []string{"lost-cue", "no-audio", "pre-roll"}, withoutRepeats(rules(Filter{Song: "tide"})))
	require.Equal(t, []string{"recovery"}, rules(Filter{Song: "ember", Bars: &Bars{3, 3}}))
	require.Contains(t, rules(Filter{}), "bank-address")
	require.NotContains(t, rules(Filter{Song: "ember"}), "bank-address")
}

func withoutRepeats(list []string) (out []string) {
	for _, s := range list {
		if len(out) == 0 || out[len(out)-1] != s {
			out = append(out, s)
		}
	}
	return out
}

// No findings states what was checked, and never more than that.
func TestNoFindings(t *testing.T) {
	s := timeline.NewShow("empty", "Empty", timeline.Rate25)
	p := timeline.Compile(s, nil)
	l := NewFindings(p, rule.Facts{}, rule.Check(p, rule.Facts{}), nil, Filter{})
	var short, long, js bytes.Buffer
	require.NoError(t, l.WriteShort(&short))
	require.NoError(t, l.WriteLong(&long))
	require.NoError(t, l.WriteJSON(&js))
	require.Regexp(t, `^\d+ rules asked, 0 switched off, 0 without data; those asked found nothing in 0 songs, 0 cues and 0 commands; recordings were not looked at\n`+regexp.QuoteMeta(CautionLine)+`\n$`, short.String())
	require.Contains(t, long.String(), Caution)
	require.Contains(t, js.String(), `"findings": []`)
	require.NotContains(t, strings.ToLower(short.String()+long.String()), "safe")
}

// The line of a finding: where, how bad, what, then rule, file and record.
func TestFindingLine(t *testing.T) {
	l := FindingLine{Rule: "spacing", Severity: rule.Error, SongNumber: 3, SongTitle: "Ember", Bar: "41.2", place: "bar 41 beat 2", Timecode: "03:01:22:10",
		File: "songs/ember/cues.toml", Line: 118, Record: "cue:ember/c81k",
		Text: "flame L fires 180 ms after its last cue; this device needs 400 ms"}
	require.Equal(t, `songs/ember/cues.toml:118: error spacing: song 3 "Ember", bar 41 beat 2, 03:01:22:10: flame L fires 180 ms after its last cue; this device needs 400 ms`, l.Short())
	l.Line = 0
	require.Contains(t, l.Short(), "songs/ember/cues.toml: error")
	l.File, l.SongNumber, l.Bar, l.Timecode = "", 0, "", ""
	require.Equal(t, "cue:ember/c81k: error spacing: flame L fires 180 ms after its last cue; this device needs 400 ms", l.Short())
}

func TestBarDrawing(t *testing.T) {
	sec := timeline.Second
	require.Equal(t, "┣"+strings.Repeat("━", 46)+"┫", bar(rule.Span{From: 0, To: sec}, 0, sec))
	require.Equal(t, "┃"+strings.Repeat(" ", 47), bar(rule.Span{From: 0, To: 0}, 0, sec))
	require.Equal(t, strings.Repeat(" ", 47)+"┃", bar(rule.Span{From: sec, To: sec}, 0, sec))
	require.Equal(t, 48, len([]rune(bar(rule.Span{From: 3, To: 2}, 0, 3))), "a span that runs backwards is an instant")
	require.Equal(t, 48, len([]rune(bar(rule.Span{From: 5, To: 5}, 5, 5))))
}

// Every rule is explained, with all its numbers and where they are changed.
func TestExplain(t *testing.T) {
	for _, r := range rule.Rules() {
		text, err := Explain(units.Metres, r.Name)
		require.NoError(t, err)
		require.Contains(t, text, r.Name+": "+r.Summary)
		for _, s := range r.Settings {
			require.Contains(t, text, "\n"+s.Name+": "+s.Help)
		}
		for _, line := range strings.Split(text, "\n") {
			require.LessOrEqual(t, len([]rune(line)), 200, line)
		}
	}
	text, err := Explain(units.Metres, "arm-left-up")
	require.NoError(t, err)
	testshow.Golden(t, "explain-arm-left-up.txt", []byte(text))
	_, err = Explain(units.Metres, "spacing-of-stars")
	require.ErrorContains(t, err, `there is no rule "spacing-of-stars"`)
	require.ErrorContains(t, err, "recovery")
}
