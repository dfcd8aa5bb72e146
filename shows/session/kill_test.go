package session_test

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"emberbeat/shows"
	"emberbeat/shows/session"
	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
)

// victimEnv names the show that the test program, started once more, is to
// edit and save until it is killed.
const victimEnv = "EMBERBEAT_TEST_VICTIM"

func TestMain(m *testing.M) {
	if dir := os.Getenv(victimEnv); dir != "" {
		fmt.Println("failed:", victim(dir))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// victim makes one edit after another, each in three files at once, and tells
// when an edit or a save is done.
func victim(dir string) error {
	s, err := session.Open(dir, session.Options{})
	if err != nil {
		return err
	}
	for n := count(s.Show()); ; n++ {
		if err := s.Do("count", countTo(n+1)); err != nil {
			return err
		}
		fmt.Printf("edit %d\n", n+1)
		if rand.IntN(2) == 0 {
			if err := s.Save(); err != nil {
				return err
			}
			fmt.Printf("save %d\n", n+1)
		}
	}
}

var killSongs = []timeline.ID{"one", "two"}

// countTo adds one cue to each song and writes their number into the title.
func countTo(n int) timeline.Edit {
	return func(d *timeline.Draft) error {
		for _, song := range killSongs {
			d.Put(song, &timeline.Cue{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("c%06d", n))},
				Lane: "lane", At: timeline.AtTime(timeline.Time(n) * timeline.Second)})
		}
		return d.Set(timeline.Ref{Kind: "show", ID: "victim"}, "title", timeline.Value{Text: fmt.Sprint(n)})
	}
}

func count(s *timeline.Show) int {
	n := 0
	fmt.Sscan(s.Head.Title, &n)
	return n
}

// TestTwoHundredKills kills programs that edit and save: afterwards the folder
// holds the last save or the one it was killed in, and no edit is lost.
func TestTwoHundredKills(t *testing.T) {
	kills := 200
	if testing.Short() {
		kills = 20
	}
	const side = 4 // shows killed side by side
	t.Setenv(shows.StateEnv, t.TempDir())
	var wg sync.WaitGroup
	for i := range side {
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
			random := rand.New(rand.NewPCG(1, uint64(i)))
			for k := range kills / side {
				if !t.Failed() {
					killOnce(t, dir, k, random)
				}
			}
		})
	}
	wg.Wait()
	t.Logf("%d of %d killed while editing, %d between the files of a save", whileEditing.Load(), kills, whileSaving.Load())
	require.Positive(t, whileEditing.Load())
}

// What the kills hit.
var whileEditing, whileSaving atomic.Int32

func killOnce(t *testing.T, dir string, k int, random *rand.Rand) {
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), victimEnv+"="+dir)
	c.Stderr = os.Stderr
	out, err := c.StdoutPipe()
	if !assertNoError(t, err) || !assertNoError(t, c.Start()) {
		return
	}
	lines := bufio.NewScanner(out)
	edits, saved := 0, 0
	timer := time.AfterFunc(time.Duration(5000+random.IntN(60000))*time.Microsecond, func() { _ = c.Process.Kill() })
	defer timer.Stop()
	for lines.Scan() {
		n := 0
		switch verb, rest, _ := strings.Cut(lines.Text(), " "); verb {
		case "edit":
			fmt.Sscan(rest, &n)
			edits = n
		case "save":
			fmt.Sscan(rest, &n)
			saved = n
		default:
			t.Errorf("kill %d: the program ended by itself: %s", k, lines.Text())
		}
	}
	_ = c.Wait()
	if edits > 0 {
		whileEditing.Add(1)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "songs", "*", ".*.new")); len(left) > 0 {
		whileSaving.Add(1)
	}
	checkAfterKill(t, dir, k, edits, saved)
}

// checkAfterKill looks at the show after the program told of so many edits
// and of a save of so many.
func checkAfterKill(t *testing.T, dir string, k, edits, saved int) {
	disk, err := shows.Load(dir)
	if !assertNoError(t, err) {
		return
	}
	assertWhole(t, k, disk.Show)
	if n := count(disk.Show); n < saved {
		t.Errorf("kill %d: the folder holds %d edits, and %d were saved", k, n, saved)
	}
	s, err := session.Open(dir, session.Options{})
	if !assertNoError(t, err) {
		return
	}
	assertWhole(t, k, s.Show())
	if n := count(s.Show()); n < edits || n > edits+1 && edits > 0 {
		t.Errorf("kill %d: %d edits came back, and %d were made", k, n, edits)
	}
	if r := s.Recovered(); r != nil && r.Problem != "" {
		t.Errorf("kill %d: %s", k, r.Problem)
	}
	n := count(s.Show())
	if label, ok := s.Undo(); ok && (label != "count" || count(s.Show()) != n-1) {
		t.Errorf("kill %d: undo of %q led from %d to %d", k, label, n, count(s.Show()))
	} else if ok {
		s.Redo()
	}
	assertNoError(t, s.Close())
}

// The checks below may run outside the test's own goroutine.

func assertNoError(t *testing.T, err error) bool {
	t.Helper()
	if err != nil {
		t.Error(err)
	}
	return err == nil
}

// assertWhole fails unless each edit is in all files or in none.
func assertWhole(t *testing.T, k int, s *timeline.Show) {
	t.Helper()
	for _, song := range killSongs {
		cues := s.Song(song).Cues
		if len(cues) != count(s) {
			t.Errorf("kill %d: song %s has %d cues, and the title says %d", k, song, len(cues), count(s))
		}
		for i, c := range cues {
			if want := fmt.Sprintf("c%06d", i+1); string(c.ID) != want {
				t.Errorf("kill %d: cue %d of song %s is %s, not %s", k, i, song, c.ID, want)
				return
			}
		}
	}
}
