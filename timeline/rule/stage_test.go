package rule

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

const sec = timeline.Second

// stage is a small show without findings, into which tests put what they look
// at: jets on relays, comets on igniters, two flame heads of one device with
// arm and fan, a spark machine with a warm-up slot, and two songs of a minute,
// an hour of timecode apart, that follow each other without a pause.
//
//	lead 0, open 1.5 s, recovery 2 s: numbers that can be added in the head
func stage(t testing.TB, edits ...timeline.Edit) *timeline.Show {
	t.Helper()
	s, err := stageDraft(t, edits...).Done()
	require.NoError(t, err)
	return s
}

// asLoaded is the stage without the checks that an edit goes through: what a
// show folder may hold.
func asLoaded(t testing.TB, edits ...timeline.Edit) *timeline.Show {
	t.Helper()
	return stageDraft(t, edits...).Show()
}

func stageDraft(t testing.TB, edits ...timeline.Edit) *timeline.Draft {
	t.Helper()
	d := timeline.NewDraft(timeline.NewShow("show", "Stage", timeline.Rate25))
	for _, e := range append([]timeline.Edit{func(d *timeline.Draft) error {
		head := *d.Show().Head
		head.PreRoll = 10 * sec
		d.Put("", &head)
		d.Put("", stageStock()...)
		d.Put("", stageRig()...)
		for i, id := range []timeline.ID{"a", "b"} {
			d.Put("", &timeline.SongHead{Base: base{ID: id}, Title: "Song " + strings.ToUpper(string(id)), Slug: string(id), Start: timeline.Timecode{H: uint8(i + 1)},
				Audio: timeline.Audio{Path: "audio/x.wav", Rate: 48000, Frames: 60 * 48000}})
			for _, target := range []timeline.ID{"j1", "j2", "jets", "c1", "c2", "f1", "f2", "sp", "bang"} {
				d.Put(id, &timeline.Lane{Base: base{ID: target}, Name: string(target), Target: target, Role: timeline.EffectSlot})
			}
			for name, role := range map[string]timeline.SlotRole{"arm": timeline.ArmSlot, "fan": timeline.ConditionSlot} {
				d.Put(id, &timeline.Lane{Base: base{ID: timeline.ID(name)}, Name: name, Target: "flames", Role: role})
			}
			d.Put(id, &timeline.Lane{Base: base{ID: "warm"}, Name: "warm", Target: "sp", Role: timeline.WarmUpSlot})
		}
		d.Put("", &timeline.Set{Base: base{ID: "main"}, Name: "main", Entries: []timeline.Entry{{Song: "a"}, {Song: "b"}}})
		return nil
	}}, edits...) {
		require.NoError(t, e(d))
	}
	return d
}

func stageStock() []timeline.Record {
	return []timeline.Record{
		&timeline.Article{Base: base{ID: "jet"}, Name: "jet", Family: timeline.CO2Jet, Control: timeline.RelayControl, Open: ms(1500), Recovery: 2 * sec, Mark: timeline.Measured},
		&timeline.Article{Base: base{ID: "comet"}, Name: "comet", Family: timeline.Comet, Control: timeline.IgniterControl, Open: sec, SingleUse: true},
		&timeline.Article{Base: base{ID: "flame"}, Name: "flame", Family: timeline.PropaneFlame, Control: timeline.SlotControl, Open: sec},
		&timeline.Article{Base: base{ID: "sparks"}, Name: "sparks", Family: timeline.SparkMachine, Control: timeline.SlotControl, Open: sec, WarmUp: 20 * sec},
		&timeline.Article{Base: base{ID: "bang"}, Name: "bang", Family: timeline.Report, Control: timeline.RelayControl, Open: ms(20)},
		&timeline.BankType{Base: base{ID: "relay"}, Name: "relay bank", Kind: timeline.RelayBank, Outputs: 8},
		&timeline.BankType{Base: base{ID: "igniter"}, Name: "igniter bank", Kind: timeline.IgniterBank, Outputs: 8},
		&timeline.DeviceType{Base: base{ID: "bar"}, Name: "flame bar", ArmLead: ms(500), Condition: sec, Slots: []timeline.Slot{
			{Block: 1, Number: 1, Role: timeline.EffectSlot, Head: 1, From: 255, To: 255},
			{Block: 1, Number: 2, Role: timeline.EffectSlot, Head: 2, From: 255, To: 255},
			{Block: 1, Number: 3, Role: timeline.ArmSlot, From: 64, To: 127},
			{Block: 1, Number: 4, Role: timeline.ConditionSlot, From: 128, To: 255}}},
		&timeline.DeviceType{Base: base{ID: "sparker"}, Name: "spark machine", Slots: []timeline.Slot{
			{Block: 1, Number: 1, Role: timeline.EffectSlot, Head: 1, From: 255, To: 255},
			{Block: 1, Number: 2, Role: timeline.WarmUpSlot, From: 255, To: 255}}},
	}
}

func stageRig() []timeline.Record {
	recs := []timeline.Record{
		&timeline.Bank{Base: base{ID: "rb"}, Name: "relay bank", Type: "relay", Address: 1},
		&timeline.Bank{Base: base{ID: "ib"}, Name: "igniter bank", Type: "igniter", Address: 2},
		&timeline.Device{Base: base{ID: "bar1"}, Name: "bar 1", Type: "bar", Starts: []timeline.Patch{{Universe: 1, Slot: 10}}},
		&timeline.Device{Base: base{ID: "sm"}, Name: "sparker", Type: "sparker", Starts: []timeline.Patch{{Universe: 1, Slot: 20}}},
		&timeline.Group{Base: base{ID: "flames"}, Name: "flames", Members: []timeline.ID{"f1", "f2"}},
		&timeline.Group{Base: base{ID: "jets"}, Name: "jets", Members: []timeline.ID{"j1", "j2"}},
	}
	for _, u := range []struct {
		id, article, unit timeline.ID
		output            int
	}{{"j1", "jet", "rb", 1}, {"j2", "jet", "rb", 2}, {"c1", "comet", "ib", 1}, {"c2", "comet", "ib", 2}, {"bang", "bang", "rb", 3},
		{"f1", "flame", "bar1", 1}, {"f2", "flame", "bar1", 2}, {"sp", "sparks", "sm", 1}} {
		spare := u.article == "comet" // or a stage without cues would have them loaded and unused
		recs = append(recs, &timeline.Placed{Base: base{ID: u.id}, Name: string(u.id), Article: u.article, Spare: spare},
			&timeline.Wire{Base: base{ID: "w-" + u.id}, Placed: u.id, Driver: u.unit, Output: u.output})
	}
	return recs
}

// cue is an edit that puts a cue on a lane of the stage; its id is song, lane
// and time in milliseconds. An open time of 0 leaves it to the article.
func cue(song, lane timeline.ID, at timeline.Time, open ...timeline.Time) timeline.Edit {
	return func(d *timeline.Draft) error {
		id := strings.ReplaceAll(fmt.Sprintf("%s-%s-%s", song, lane, trimZeros((at*1000).Text(1))), "--", "-m")
		c := &timeline.Cue{Base: base{ID: timeline.ID(strings.ReplaceAll(id, ".", "-"))}, Lane: lane, At: timeline.AtTime(at)}
		if len(open) > 0 {
			c.Open = open[0]
		}
		d.Put(song, c)
		return nil
	}
}

// field is an edit that writes a field of a record outside songs; the list
// items of a list field are separated by semicolons.
func field(kind string, id timeline.ID, name, text string) timeline.Edit {
	return func(d *timeline.Draft) error {
		v := timeline.Value{Text: text}
		if timeline.KindOf(kind).Field(name).Type == timeline.ListField {
			v = timeline.Value{Items: strings.Split(text, ";")}
			if text == "" {
				v.Items = nil
			}
		}
		return d.Set(timeline.Ref{Kind: kind, ID: id}, name, v)
	}
}

// put is an edit that puts records outside songs.
func put(recs ...timeline.Record) timeline.Edit {
	return func(d *timeline.Draft) error { d.Put("", recs...); return nil }
}

func remove(kind string, id timeline.ID) timeline.Edit {
	return func(d *timeline.Draft) error { return d.Remove(timeline.Ref{Kind: kind, ID: id}) }
}

// ruleCase is one line of a table: edits of the stage, and the findings of the
// rule, each as `record` or `record: part of its text`.
type ruleCase struct {
	name  string
	edits []timeline.Edit
	want  []string
}

// edits is short for a list of them.
func edits(list ...timeline.Edit) []timeline.Edit { return list }

// runCases checks a table of cases for one rule, on the tour.
func runCases(t *testing.T, name string, cases []ruleCase) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := stage(t, c.edits...)
			requireFindings(t, c.want, ofRule(name, Check(timeline.Compile(s, nil), Facts{})))
		})
	}
}

func ofRule(name string, all []Finding) []Finding {
	var list []Finding
	for _, f := range all {
		if f.Rule == name {
			list = append(list, f)
		}
	}
	return list
}

func requireFindings(t *testing.T, want []string, got []Finding) {
	t.Helper()
	assert.Empty(t, explainedGaps(got), "what a finding rests on stands among the numbers that explain names")
	var lines []string
	for _, f := range got {
		lines = append(lines, f.Ref.String()+": "+f.Text)
		require.NotEmpty(t, f.Help, "a finding says what would be valid")
		require.NotContains(t, strings.ToLower(f.Text+f.Help), "safe")
	}
	require.Len(t, lines, len(want), "%s", strings.Join(lines, "\n"))
	for i, w := range want {
		parts := strings.Split(w, ": ")
		require.True(t, strings.HasPrefix(lines[i], parts[0]+": ") && containsAll(lines[i], parts[1:]), "want %q\ngot  %q", w, lines[i])
	}
}

func containsAll(s string, parts []string) bool {
	for _, p := range parts {
		if !strings.Contains(s, p) {
			return false
		}
	}
	return true
}

// fixed applies the fix of every finding of a rule, one after another, and
// gives what the rule finds then.
func fixed(t *testing.T, name string, s *timeline.Show, night timeline.ID) []Finding {
	t.Helper()
	for range 10 {
		found := ofRule(name, Check(timeline.Compile(s, s.Night(night)), Facts{}))
		if len(found) == 0 {
			return nil
		}
		require.NotNil(t, found[0].Fix, "%s: %s", found[0].Ref, found[0].Text)
		next, err := s.Edit(found[0].Fix.Edits...)
		require.NoError(t, err)
		s = next
	}
	return ofRule(name, Check(timeline.Compile(s, s.Night(night)), Facts{}))
}

// The stage itself has nothing to find: what a test finds, it has put there.
func TestStageHasNoFindings(t *testing.T) {
	requireFindings(t, nil, Check(timeline.Compile(stage(t), nil), Facts{}))
}
