package session_test

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"emberbeat/shows"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/testtool"

	"github.com/stretchr/testify/require"
)

// TestTwoHundredKills ends programs that edit and save, at each kind of point
// when they first come to it, at the second time and so on, once with all that
// they wrote and once as when the power goes. Afterwards the folder holds the
// last save or the one it ended in, no edit is lost with the program, and none
// that was safe with the power.
func TestTwoHundredKills(t *testing.T) {
	rounds := 25
	if testing.Short() {
		rounds = 4
	}
	const side = 4 // shows in which programs end side by side
	t.Setenv(shows.StateEnv, t.TempDir())
	random := testtool.Random(t, 0)
	victims := make([][]*victim, side)
	for round := range rounds {
		for i, p := range points {
			v := &victim{Point: p, Nth: round/2 + 1, PowerCut: round%2 == 1, Seed: random.Uint64()}
			victims[i%side] = append(victims[i%side], v)
		}
	}
	var wg sync.WaitGroup
	for _, list := range victims {
		dir := filepath.Join(t.TempDir(), "tour")
		s := timeline.NewShow("victim", "0", timeline.Rate25)
		d := timeline.NewDraft(s)
		for h, id := range killSongs {
			song := timeline.KindOf("song").New(id).(*timeline.SongHead)
			song.Title, song.Slug, song.Start.H = string(id), string(id), uint8(h)
			d.Put("", song)
			d.Put(id, timeline.KindOf("lane").New("lane"))
		}
		require.NoError(t, shows.Create(dir, d.Show()))
		wg.Go(func() {
			before := 0
			for _, v := range list {
				if v.Dir = dir; !t.Failed() {
					before = killOnce(t, v, before)
				}
			}
			if !t.Failed() {
				saveAfterKills(t, dir, before)
			}
		})
	}
	wg.Wait()
	t.Logf("%d ended, %d of them between the files of a save", rounds*len(points), whileSaving.Load())
	require.Positive(t, whileSaving.Load())
}

// whileSaving counts the ends that left new files beside the old ones.
var whileSaving atomic.Int32

// killOnce starts a victim in a show of so many edits and gives how many there
// are once it has ended.
func killOnce(t *testing.T, v *victim, before int) int {
	what := fmt.Sprintf("%s, time %d, power cut %t, seed %d", v.Point, v.Nth, v.PowerCut, v.Seed)
	text, err := json.Marshal(v)
	if !assertNoError(t, what, err) {
		return 0
	}
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), victimEnv+"="+string(text))
	c.Stderr = os.Stderr
	out, err := c.StdoutPipe()
	if !assertNoError(t, what, err) || !assertNoError(t, what, c.Start()) {
		return 0
	}
	told := map[string]int{}
	last, ended := "", false // another goroutine may still tell of its edit after the end
	for lines := bufio.NewScanner(out); lines.Scan(); {
		last = lines.Text()
		ended = ended || last == "end "+string(v.Point)
		verb, rest, _ := strings.Cut(last, " ")
		n := 0
		if _, err := fmt.Sscan(rest, &n); err == nil {
			told[verb] = max(told[verb], n)
		}
	}
	_ = c.Wait() // it was killed
	if !ended {
		t.Errorf("%s: the program ended elsewhere: %q", what, last)
	}
	if left, _ := filepath.Glob(filepath.Join(v.Dir, "songs", "*", ".*.new")); len(left) > 0 {
		whileSaving.Add(1)
	}
	edits := max(before, told["edit"])
	safe := edits
	if v.PowerCut {
		safe = max(before, told["safe"], told["save"])
	}
	return checkAfterKill(t, v.Dir, what, told["save"], safe, edits)
}

// checkAfterKill looks at the show after a program told of so many edits, of
// which so many were saved and so many must come back, and gives how many did.
func checkAfterKill(t *testing.T, dir, what string, saved, safe, edits int) int {
	disk, err := shows.Load(dir)
	if !assertNoError(t, what, err) {
		return 0
	}
	assertWhole(t, what, disk.Show)
	if n := count(disk.Show); n < saved || n > edits+1 {
		t.Errorf("%s: the folder holds %d edits, and %d were saved", what, n, saved)
	}
	s, err := session.Open(dir, session.Options{})
	if !assertNoError(t, what, err) {
		return 0
	}
	assertWhole(t, what, s.Show())
	n := count(s.Show())
	if n < safe || n > edits+1 { // one more was perhaps made and not yet told
		t.Errorf("%s: %d edits came back; %d were made, and %d were safe", what, n, edits, safe)
	}
	if r := s.Recovered(); r != nil && r.Problem != "" {
		t.Errorf("%s: %s", what, r.Problem)
	}
	if label, ok := s.Undo(); ok && (label != "count" || count(s.Show()) != n-1) {
		t.Errorf("%s: undo of %q led from %d to %d", what, label, n, count(s.Show()))
	} else if ok {
		s.Redo()
	}
	assertNoError(t, what, s.Close())
	return n
}

// saveAfterKills saves once more, after which nothing may be left of all the
// saves that ended half way.
func saveAfterKills(t *testing.T, dir string, edits int) {
	s, err := session.Open(dir, session.Options{})
	if !assertNoError(t, "at the end", err) {
		return
	}
	assertNoError(t, "at the end", s.Do("count", countTo(edits+1)))
	assertNoError(t, "at the end", s.Save())
	assertNoError(t, "at the end", s.Close())
	l, err := shows.Load(dir)
	if assertNoError(t, "at the end", err) && (len(l.Strays) > 0 || count(l.Show) != edits+1) {
		t.Errorf("at the end: %d edits, and %q are left", count(l.Show), l.Strays)
	}
}

// The checks below may run outside the test's own goroutine.

func assertNoError(t *testing.T, what string, err error) bool {
	t.Helper()
	if err != nil {
		t.Errorf("%s: %v", what, err)
	}
	return err == nil
}

// assertWhole fails unless each edit is in all files or in none.
func assertWhole(t *testing.T, what string, s *timeline.Show) {
	t.Helper()
	for _, song := range killSongs {
		cues := s.Song(song).Cues
		if len(cues) != count(s) {
			t.Errorf("%s: song %s has %d cues, and the title says %d", what, song, len(cues), count(s))
		}
		for i, c := range cues {
			if want := fmt.Sprintf("c%06d", i+1); string(c.ID) != want {
				t.Errorf("%s: cue %d of song %s is %s, not %s", what, i, song, c.ID, want)
				return
			}
		}
	}
}
