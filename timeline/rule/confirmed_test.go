package rule

import (
	"testing"

	"emberbeat/timeline"
)

func TestUnconfirmedBeats(t *testing.T) {
	beats := field("song", "a", "beats", "1.1 at=0.000000 metre=4/4;30.1 at=58.000000")
	onBar := func(lane timeline.ID, bar int) timeline.Edit {
		return func(d *timeline.Draft) error {
			d.Put("a", &timeline.Cue{Base: base{ID: timeline.ID(string(lane) + string(rune('a'+bar)))}, Lane: lane, At: timeline.AtBar(timeline.BarBeat{Bar: bar})})
			return nil
		}
	}
	runCases(t, "unconfirmed-beats", []ruleCase{
		{"comets on bars", edits(beats, onBar("c1", 5), onBar("c2", 7)), []string{"song:a: 2 cues of flame or pyrotechnics stand on beats that nobody has confirmed"}},
		{"flames on bars", edits(beats, onBar("f1", 5)), []string{"song:a: 1 cue"}},
		{"confirmed", edits(beats, onBar("c1", 5), field("song", "a", "confirmed", "true")), nil},
		{"at a time", edits(beats, cue("a", "c1", 10*sec)), nil},
		{"CO2 on bars", edits(beats, onBar("j1", 5)), nil},
		{"no beat map", edits(cue("a", "c1", 10*sec)), nil},
	})
}
