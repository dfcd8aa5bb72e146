package session_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"emberbeat/shows"
	"emberbeat/shows/session"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// filesOf reads the show files in a folder.
func filesOf(t require.TestingT, dir string) map[string]string {
	files := map[string]string{}
	for _, pattern := range []string{"*.toml", "*/*/*.toml"} {
		names, err := filepath.Glob(filepath.Join(dir, pattern))
		require.NoError(t, err)
		for _, name := range names {
			b, err := os.ReadFile(name)
			require.NoError(t, err)
			files[name] = string(b)
		}
	}
	return files
}

// TestSessionAgreesWithAModel edits, undoes, saves and reopens at random, with
// the journal of a session that was never closed now and then, and compares
// with a list of snapshots. In the end all is undone and saved: the files must
// be those of the beginning, byte for byte.
func TestSessionAgreesWithAModel(t *testing.T) {
	outer, blank := t, os.DirFS(newShow(t))
	rapid.Check(t, func(t *rapid.T) {
		state, err := os.MkdirTemp(outer.TempDir(), "state")
		require.NoError(t, err)
		outer.Setenv(shows.StateEnv, state)
		dir := filepath.Join(state, "tour")
		require.NoError(t, os.CopyFS(dir, blank))
		start := filesOf(t, dir)
		now := time.Date(2031, 5, 9, 20, 0, 0, 0, time.UTC)
		reopen := func() *session.Session {
			s, err := session.Open(dir, session.Options{Clock: func() time.Time { return now }})
			require.NoError(t, err)
			return s
		}
		s := reopen()
		model := [][]string{{}} // cues after each step, notes appended to ids
		at, saved, made, gesture := 0, 0, 0, ""
		step := func(cues []string, joins bool) {
			if joins {
				if saved == at {
					saved = -1 // the saved snapshot is no longer in the line
				}
				model[at] = cues
				model = model[:at+1]
				return
			}
			if saved > at {
				saved = -1
			}
			model = append(model[:at+1], cues)
			at++
		}
		t.Repeat(map[string]func(*rapid.T){
			"add": func(t *rapid.T) {
				made++
				id := fmt.Sprintf("c%03d", made)
				require.NoError(t, s.Do("add", addCue(id, 0)))
				step(append(slices.Clone(model[at]), id), false)
				gesture = ""
			},
			"nudge": func(t *rapid.T) {
				if len(model[at]) == 0 {
					t.Skip("no cue")
				}
				made++
				id := model[at][len(model[at])-1][:4]
				note := fmt.Sprint(made)
				now = now.Add(time.Duration(rapid.SampledFrom([]int{0, 700, 701}).Draw(t, "ms")) * time.Millisecond)
				require.NoError(t, s.DoAs("nudge "+id, "nudge", setNote(id, note)))
				cues := slices.Clone(model[at])
				cues[len(cues)-1] = id + note
				joins := gesture == id+now.Add(-700*time.Millisecond).String() || gesture == id+now.String()
				step(cues, joins)
				gesture = id + now.String()
			},
			"undo": func(t *rapid.T) {
				_, ok := s.Undo()
				require.Equal(t, at > 0, ok)
				at = max(at-1, 0)
				gesture = ""
			},
			"redo": func(t *rapid.T) {
				_, ok := s.Redo()
				require.Equal(t, at+1 < len(model), ok)
				at = min(at+1, len(model)-1)
				gesture = ""
			},
			"save": func(t *rapid.T) {
				require.NoError(t, s.Save())
				saved, gesture = at, ""
			},
			"close and open": func(t *rapid.T) {
				dirty := s.Dirty()
				require.NoError(t, s.Close())
				s = reopen()
				if !dirty { // a clean end forgets what could be undone
					model, at, saved = [][]string{model[at]}, 0, 0
				}
				gesture = ""
			},
			"": func(t *rapid.T) {
				var got []string
				for _, c := range s.Show().Song("ember").Cues {
					got = append(got, string(c.ID)+c.Note)
				}
				require.Equal(t, model[at], append([]string{}, got...))
				require.Equal(t, at != saved, s.Dirty())
				require.Empty(t, s.Warnings())
				undo, redo := s.Labels()
				require.Len(t, undo, at)
				require.Len(t, redo, len(model)-1-at)
			},
		})
		first := model[0]
		for {
			if _, ok := s.Undo(); !ok {
				break
			}
		}
		require.NoError(t, s.Save())
		if len(first) == 0 {
			require.Equal(t, start, filesOf(t, dir))
		}
		require.NoError(t, s.Close())
	})
}
