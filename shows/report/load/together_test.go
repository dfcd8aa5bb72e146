package load

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// The load plan says beside each effect what fires with it on the same output, and
// whether somebody has said that it is meant.
func TestLoadPlanSaysWhatFiresTogether(t *testing.T) {
	for _, declared := range []bool{true, false} {
		s := testshow.Edited(t, testshow.Staged(t), func(d *timeline.Draft) error {
			d.Put("", &timeline.Placed{Base: timeline.Base{ID: "j2"}, Name: "jet 2", Article: "jet", Position: "left"},
				&timeline.Wire{Base: timeline.Base{ID: "w9"}, Placed: "j2", Driver: "b1", Output: 3, Together: declared})
			return nil
		})
		plan, err := NewPlan(timeline.Compile(s, s.Night("n1")), report.Filter{})
		require.NoError(t, err)
		said := map[string][]string{}
		for _, g := range plan.Groups {
			for _, l := range g.Lines {
				said[l.PlacedName] = l.State
			}
		}
		more := map[bool]string{true: "", false: ", which nobody has said is meant"}[declared]
		require.Contains(t, said["jet 1"], "fires with jet 2"+more)
		require.Contains(t, said["jet 2"], "fires with jet 1"+more)
		for name, state := range said {
			if name != "jet 1" && name != "jet 2" {
				require.NotContains(t, state, "fires with jet 1", name)
			}
		}
	}
}
