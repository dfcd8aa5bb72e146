package rule

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// What a night takes out and says why is cut: nobody has forgotten it. Without a
// reason it stays an error, and what others play goes on.
func TestOutWithAReasonIsCut(t *testing.T) {
	both := edits(cue("a", "jets", 10*sec), cue("a", "f1", 20*sec), cue("a", "arm", 19*sec, 3*sec), cue("a", "fan", 18*sec, 4*sec), cue("b", "jets", 10*sec))
	wrong := func(changes string) (list []string, p *timeline.Plan) {
		s := stage(t, append(both, put(&timeline.Venue{Base: base{ID: "v"}, Name: "hall", Slug: "v"}, &timeline.Night{Base: base{ID: "n"}, Name: "night", Slug: "n", Venue: "v", Date: "2031-05-09"}), field("night", "n", "rig-changes", changes))...)
		p = timeline.Compile(s, s.Night("n"))
		for _, f := range Check(p, Facts{}) {
			if f.Rule == "lost-cue" || f.Rule == "unwired" {
				list = append(list, f.Rule+" "+f.Ref.String())
			}
		}
		return list, p
	}
	for _, c := range []struct {
		name, changes string
		want          []string
		cut, commands int // of the first song
	}{
		{"one of two", `placed=j1 out why="dead at sound-check"`, nil, 1, 2},
		{"one of two, nobody says why", `placed=j1 out`, []string{"lost-cue cue:a/a-jets-10000", "lost-cue cue:b/b-jets-10000"}, 0, 2},
		{"all of a cue", `placed=j1 out why=wind;placed=j2 out why=wind`, nil, 1, 1},
		{"one with and one without", `placed=j1 out why=wind;placed=j2 out`, []string{"lost-cue cue:a/a-jets-10000", "lost-cue cue:b/b-jets-10000"}, 1, 1},
		{"with its arm and fan", `placed=f1 out why=leak;placed=f2 out why=leak`, nil, 3, 2},
		{"the bank of all jets", `bank=rb out why="no power"`, nil, 0, 3},
		{"the bank, nobody says why", `bank=rb out`, []string{"unwired placed:j1", "unwired placed:j2"}, 0, 3},
	} {
		t.Run(c.name, func(t *testing.T) {
			list, p := wrong(c.changes)
			require.Equal(t, c.want, list)
			require.Len(t, p.Songs[0].Cut, c.cut)
			require.Len(t, p.Songs[0].Commands, c.commands)
		})
	}
}
