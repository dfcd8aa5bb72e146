package rule

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

func TestLostCue(t *testing.T) {
	// A show may have lost records when it is loaded: edits would refuse to make it so.
	lose := func(kind string, song, id timeline.ID) timeline.Edit {
		return func(d *timeline.Draft) error { return d.Remove(timeline.Ref{Kind: kind, Song: song, ID: id}) }
	}
	onBar := func(d *timeline.Draft) error {
		d.Put("a", &timeline.Cue{Base: base{ID: "bar"}, Lane: "j1", At: timeline.AtBar(timeline.BarBeat{Bar: 3})})
		return nil
	}
	beats := field("song", "a", "beats", "1.1 at=0.000000 metre=4/4;30.1 at=58.000000")
	for _, c := range []struct {
		name  string
		edits []timeline.Edit
		want  []string
	}{
		{"nothing lost", edits(cue("a", "j1", 10*sec)), nil},
		{"its lane", edits(cue("a", "j1", 10*sec), lose("lane", "a", "j1")), []string{"cue:a/a-j1-10000: its lane is gone (j1)"}},
		{"its target", edits(cue("a", "j1", 10*sec), lose("placed", "", "j1")), []string{"cue:a/a-j1-10000: its target is gone (j1)"}},
		{"members of its group", edits(cue("a", "jets", 10*sec), lose("placed", "", "j1"), lose("placed", "", "j2")), []string{"cue:a/a-jets-10000: its target has no members (jets)"}},
		{"its article", edits(cue("a", "j1", 10*sec), lose("article", "", "jet")), []string{"cue:a/a-j1-10000: its article is gone (jet)"}},
		{"the beat map", edits(onBar), []string{"cue:a/bar: the song has no beat map (3.1)"}},
		{"no beat map lost", edits(onBar, beats), nil},
		{"the slot", edits(cue("a", "arm", 10*sec, sec), field("devicetype", "bar", "slots", "1.1 head=1;1.2 head=2")), []string{"cue:a/a-arm-10000: no device it aims at has such a slot (arm)"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := timeline.NewDraft(stage(t))
			for _, e := range c.edits {
				require.NoError(t, e(d))
			}
			requireFindings(t, c.want, ofRule("lost-cue", Check(timeline.Compile(d.Show(), nil), Facts{})))
		})
	}
	runNight(t, "lost-cue", []nightCase{
		{"out of tonight's rig", edits(cue("a", "jets", 10*sec), field("night", "n", "rig-changes", "placed=j1 out;placed=j2 out")), []string{"cue:a/a-jets-10000: j1, j2: out of tonight's rig"}},
		{"cut on purpose", edits(cue("a", "j1", 10*sec), field("night", "n", "cuts", "placed=j1")), nil},
	})
}

func TestLostReference(t *testing.T) {
	for _, c := range []struct {
		kind string
		id   timeline.ID
		want []string
	}{
		{"placed", "c1", []string{"wire:w-c1: placed names c1"}},
		{"bank", "ib", []string{"wire:w-c1: unit names ib, and there is no such bank or device", "wire:w-c2"}},
		{"banktype", "igniter", []string{"bank:ib: type names igniter"}},
		{"song", "b", []string{"set:main: entries names b"}},
		{"article", "sparks", []string{"placed:sp: article names sparks"}},
	} {
		d := timeline.NewDraft(stage(t))
		require.NoError(t, d.Remove(timeline.Ref{Kind: c.kind, ID: c.id}))
		requireFindings(t, c.want, ofRule("lost-reference", Check(timeline.Compile(d.Show(), nil), Facts{})))
	}
}

// A channel that is to be heard though it holds timecode is told; one that nobody
// wants to hear is not, since it is never played.
func TestTimecodeHeard(t *testing.T) {
	for _, c := range []struct {
		heard string
		want  []string
	}{
		{"", nil}, {"1", nil}, {"1; 3", nil},
		{"2", []string{"song:a: channel 2 of audio/x.wav is to be heard and holds timecode at 25, from 01:00:00:00: it is never played"}},
		{"1; 2", []string{"song:a: channel 2"}},
	} {
		p := timeline.Compile(stage(t, func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "song", ID: "a"}, "heard", timeline.Value{Items: strings.Fields(strings.ReplaceAll(c.heard, ";", ""))})
		}), nil)
		found := Check(p, Facts{Audio: map[timeline.ID]AudioFact{"a": {State: AudioPresent, Timecode: []TimecodeFact{{Channel: 2, Rate: timeline.Rate25, First: timeline.Timecode{H: 1}}}}}})
		requireFindings(t, c.want, found)
		requireFindings(t, nil, Check(p, Facts{}))
	}
}

func TestAudio(t *testing.T) {
	p := timeline.Compile(stage(t), nil)
	fact := func(state AudioState, detail string) []Finding {
		return Check(p, Facts{Audio: map[timeline.ID]AudioFact{"a": {State: state, Detail: detail}}})
	}
	requireFindings(t, nil, fact(AudioPresent, ""))
	requireFindings(t, nil, Check(p, Facts{}))
	requireFindings(t, []string{"song:a: recording audio/x.wav is missing"}, fact(AudioMissing, ""))
	requireFindings(t, []string{"song:a: is not the one the song was programmed to: 3 s longer"}, fact(AudioChanged, "3 s longer"))
	requireFindings(t, []string{"song:a: cannot be read: empty file"}, fact(AudioUnread, "empty file"))
	runCases(t, "no-audio", []ruleCase{
		{"a recording", nil, nil},
		{"none, with a length", edits(field("song", "a", "audio", ""), field("song", "a", "length", "60")), []string{"song:a: its length of 60 s is typed"}},
		{"none at all", edits(field("song", "a", "audio", "")), []string{"song:a: neither"}},
	})
}
