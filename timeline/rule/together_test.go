package rule

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// joined hangs two units on one output, as declared.
func sharing(a, b string, more ...timeline.Edit) []timeline.Edit {
	return append(edits(func(d *timeline.Draft) error {
		first := d.Show().Rig
		i := slices.IndexFunc(first.Wires, func(w *timeline.Wire) bool { return w.ID == timeline.ID("w-"+a) })
		w := *first.Wires[i]
		w.ID, w.Placed, w.Together = timeline.ID("w-"+b), timeline.ID(b), true
		d.Put("", &w)
		return nil
	}), more...)
}

// What no cue names and yet opens is found by every rule that looks at what
// opens: the cue aims at the first unit, and the finding is about the second.
func TestAnOutputOpensAllThatHangsOnIt(t *testing.T) {
	hall := func(field string, more ...timeline.Edit) []timeline.Edit {
		return append(more, fieldOf("venue", "v", field))
	}
	runNight(t, "single-use", []nightCase{
		{"carried first, then by its own cue", sharing("c1", "c2", cue("a", "c1", 10*sec), cue("a", "c2", 20*sec)), []string{"cue:a/a-c2-20000: c2: comet is used up earlier in this song at 01:00:10:00 by c1 on the same output"}},
		{"carried by what can be used again", sharing("j1", "c2", cue("a", "j1", 10*sec), cue("a", "j1", 20*sec)), []string{"cue:a/a-j1-20000: c2: comet is used up earlier in this song at 01:00:10:00 by j1 on the same output"}},
		{"in two songs", sharing("j1", "c2", cue("a", "j1", 10*sec), cue("b", "j1", 20*sec)), []string{"cue:b/b-j1-20000: c2: comet is used up in song 1"}},
		{"after another article on the same igniter", edits(laneArticle("c1", "bang"), cue("a", "c1", 10*sec), func(d *timeline.Draft) error {
			d.Put("a", &timeline.Cue{Base: base{ID: "again"}, Lane: "c1", Article: "comet", At: timeline.AtTime(20 * sec)})
			return nil
		}), []string{"cue:a/again: c1: comet is used up earlier in this song at 01:00:10:00 by a command of bang"}},
		{"together", sharing("c1", "c2", cue("a", "c1", 10*sec)), nil},
	})
	runNight(t, "gas-in-room", []nightCase{
		{"two jets by one cue", sharing("j1", "j2", cue("a", "j1", 10*sec), field("article", "jet", "use-each", "14.4"), field("venue", "v", "volume", "2000")), []string{"venue:v: an estimate: 28.8 kg of CO2"}},
		{"one of them out of the rig", sharing("j1", "j2", cue("a", "j1", 10*sec), field("article", "jet", "use-each", "14.4"), field("venue", "v", "volume", "3000"), field("night", "n", "rig-changes", "placed=j2 out")), nil},
	})
	runNight(t, "separation", []nightCase{
		{"the other stands too near", hall("audience=b from=-9,-4 to=9,-4", sharing("j1", "j2", cue("a", "j1", 10*sec), stands("j1", 0, 30), stands("j2", 0, 0), field("article", "jet", "separation", "8"))...), []string{"article:jet: j2"}},
	})
	runNight(t, "performers", []nightCase{
		{"the other's clear zone", hall("performers=singer at=0,0 radius=1", sharing("j1", "j2", cue("a", "j1", 10*sec), stands("j1", 0, 30), stands("j2", 0, 2), field("article", "jet", "clear", "3"))...), []string{"article:jet: j2"}},
	})
	runNight(t, "roof", []nightCase{
		{"the other is too high", sharing("j1", "c1", cue("a", "j1", 10*sec), field("article", "comet", "height", "8"), field("venue", "v", "trim", "5")), []string{"placed:c1"}},
	})
	runNight(t, "dense", []nightCase{
		{"three cues, six reports", append(sharing("bang", "j2", field("placed", "j2", "article", "bang")), cue("a", "bang", 0), cue("a", "bang", sec), cue("a", "bang", 2*sec)), []string{"cue:a/a-bang-0: 6 reports"}},
	})
	runNight(t, "banned", []nightCase{
		{"what is carried is played", hall("banned=comet", sharing("j1", "c1", cue("a", "j1", 10*sec))...), []string{"article:comet: 1 command"}},
	})
	runNight(t, "loaded-unused", []nightCase{
		{"carried", sharing("j1", "c1", cue("a", "j1", 10*sec), field("placed", "c1", "spare", "false")), nil},
		{"nothing opens it", edits(cue("a", "j1", 10*sec), field("placed", "c1", "spare", "false")), []string{"article:comet"}},
	})
	runNight(t, "recovery", []nightCase{
		{"carried in its recovery", sharing("j1", "j2", cue("a", "j2", 10*sec), cue("a", "j1", 13*sec)), []string{"cue:a/a-j1-13000: j1, j2: commanded 3 s after its last command"}},
	})
	runNight(t, "supply-empty", []nightCase{
		{"the other's bottle", sharing("j1", "j2", cue("a", "j1", 10*sec), field("article", "jet", "use-each", "2"), put(&timeline.Supply{Base: base{ID: "cyl"}, Name: "cylinder", Fill: 1, Units: 1, Usable: 1, Feeds: []timeline.ID{"j2"}})), []string{"supply:cyl"}},
	})
	runNight(t, "hand-single-use", []nightCase{
		{"a key fires what a cue has carried", sharing("j1", "c1", cue("a", "j1", 10*sec), key(1, aims("c1"))), []string{"handcue:h1: timecode uses it up in song 1"}},
		{"a key carries what a cue fires", sharing("j1", "c1", cue("a", "c1", 10*sec), key(1, aims("j1"))), []string{"handcue:h1: timecode uses it up in song 1"}},
	})
}

// fieldOf writes a field given as name=text.
func fieldOf(kind string, id timeline.ID, text string) timeline.Edit {
	i := slices.Index([]byte(text), '=')
	return field(kind, id, text[:i], text[i+1:])
}

func laneArticle(lane, article timeline.ID) timeline.Edit {
	return func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "lane", Song: "a", ID: lane}, "article", timeline.Value{Text: string(article)})
	}
}

// Sharing an output is declared on the wires, or it is an error; declared or
// not, it is counted.
func TestWiredTogether(t *testing.T) {
	shared := field("wire", "w-c2", "output", "1")
	third := put(&timeline.Placed{Base: base{ID: "c3"}, Name: "c3", Article: "comet", Spare: true}, &timeline.Wire{Base: base{ID: "w-c3"}, Placed: "c3", Driver: "ib", Output: 1})
	text := "wire:w-c1: igniter bank output 1: c1, c2 hang on it and open together"
	runCases(t, "wired-together", []ruleCase{
		{"outputs of their own", edits(cue("a", "c1", 10*sec)), nil},
		{"undeclared", edits(shared), []string{text}},
		{"declared by the second wire", sharing("c1", "c2"), nil},
		{"a third that nobody declared", sharing("c1", "c2", third), []string{"wire:w-c1: c1, c2, c3"}},
		{"a third, declared as well", sharing("c1", "c2", third, field("wire", "w-c3", "together", "true")), nil},
		{"one head of a device", edits(field("wire", "w-f2", "output", "1")), []string{"wire:w-f1: bar 1 head 1: f1, f2"}},
		{"two heads of a device", edits(), nil},
		{"on a dead bank", edits(shared, field("bank", "ib", "dead", "true")), nil},
	})
	runNight(t, "wired-together", []nightCase{
		{"one of them out of the night's rig", edits(shared, field("night", "n", "rig-changes", "placed=c2 out")), nil},
		{"plugged in for the night", edits(field("night", "n", "rig-changes", "placed=c2 unit=ib output=1")), []string{text}},
	})
	p := timeline.Compile(stage(t, shared, cue("a", "c1", 10*sec)), nil)
	require.Len(t, p.Songs[0].Commands, 2, "undeclared, and counted")
	require.Equal(t, "c1", p.Songs[0].Commands[1].With.Placed.Name)
}
