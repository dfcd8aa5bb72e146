package session_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"emberbeat/shows"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// victimEnv holds, as JSON, the victim that the test program, started once
// more, is to be.
const victimEnv = "EMBERBEAT_TEST_VICTIM"

func TestMain(m *testing.M) {
	if text := os.Getenv(victimEnv); text != "" {
		v := &victim{}
		err := json.Unmarshal([]byte(text), v)
		if err == nil {
			err = v.run()
		}
		fmt.Println("failed:", err)
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// point is a kind of place at which a victim ends.
type point string

const (
	afterEdit    point = "after an edit"
	journalWrite point = "in a write to the journal"
	journalSync  point = "before the journal is on the disk"
	fileWrite    point = "in a write of a file"
	fileRename   point = "before a rename"
	fileRemove   point = "before a removal"
	folderMade   point = "before a folder is made"
	folderSync   point = "before a folder is on the disk"
)

var points = []point{afterEdit, journalWrite, journalSync, fileWrite, fileRename, fileRemove, folderMade, folderSync}

// victim edits and saves a show until it has come to a point for the nth time;
// there it ends itself, as the system would end it. Nothing about that waits for
// a clock, so that it ends there on any machine.
type victim struct {
	Dir   string
	Point point
	Nth   int
	// PowerCut takes along what the journal has written and not yet made sure
	// of, but for a torn half.
	PowerCut bool
	Seed     uint64 // of when it saves

	mu      sync.Mutex // guards what follows
	came    int        // how often to the point
	journal *unsureFile
	edits   atomic.Int64
}

// run makes one edit after another, each in three files at once, and tells when
// an edit or a save is done.
func (v *victim) run() error {
	o := session.Options{Storage: victimStorage{shows.OS(v.Dir), v}}
	s, err := session.Open(v.Dir, o.WithJournal(v.openJournal))
	if err != nil {
		return err
	}
	chance := rand.New(rand.NewPCG(v.Seed, 0))
	for n, left := count(s.Show()), 50*v.Nth; ; n, left = n+1, left-1 {
		if left == 0 {
			return errors.New("it never comes to the point")
		}
		if err := s.Do("count", countTo(n+1)); err != nil {
			return err
		}
		v.edits.Store(int64(n + 1))
		fmt.Printf("edit %d\n", n+1)
		v.at(afterEdit, nil)
		if chance.IntN(2) == 0 {
			if err := s.Save(); err != nil {
				return err
			}
			fmt.Printf("save %d\n", n+1)
		}
	}
}

// at comes to a point; where the victim ends there, it first does what is left
// half done.
func (v *victim) at(p point, half func()) {
	if p != v.Point {
		return
	}
	v.mu.Lock() // for good, where the victim ends
	if v.came++; v.came < v.Nth {
		v.mu.Unlock()
		return
	}
	if half != nil {
		half()
	}
	if v.journal != nil {
		v.journal.tear()
	}
	fmt.Println("end", p)
	self, err := os.FindProcess(os.Getpid())
	if err == nil {
		err = self.Kill()
	}
	if err != nil {
		fmt.Println("failed:", err)
		os.Exit(1)
	}
	select {}
}

func (v *victim) openJournal(path string, flag int) (session.JournalFile, error) {
	f, err := session.OpenJournalFile(path, flag)
	if err != nil {
		return nil, err
	}
	v.journal = &unsureFile{JournalFile: f, v: v}
	return v.journal, nil
}

// unsureFile is a journal's file. Before a power cut it holds back what is
// written until it is to be on the disk.
type unsureFile struct {
	session.JournalFile
	v    *victim
	mu   sync.Mutex
	held []byte
}

func (f *unsureFile) Write(b []byte) (int, error) {
	f.v.at(journalWrite, func() { _, _ = f.write(b[:len(b)/2]) })
	return f.write(b)
}

func (f *unsureFile) write(b []byte) (int, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.v.PowerCut {
		f.held = append(f.held, b...)
		return len(b), nil
	}
	return f.JournalFile.Write(b)
}

// Sync tells how many edits are safe from now on.
func (f *unsureFile) Sync() error {
	f.v.at(journalSync, nil)
	edits := f.v.edits.Load() // all that is written of them is here
	f.mu.Lock()
	defer f.mu.Unlock()
	_, err := f.JournalFile.Write(f.held)
	f.held = nil
	if err == nil {
		err = f.JournalFile.Sync()
	}
	if err == nil {
		fmt.Printf("safe %d\n", edits)
	}
	return err
}

// tear lets half of what is held back reach the disk.
func (f *unsureFile) tear() {
	f.mu.Lock() // for good
	_, _ = f.JournalFile.Write(f.held[:len(f.held)/2])
}

// victimStorage is the show's folder, in which a victim comes to points.
type victimStorage struct {
	shows.Storage
	v *victim
}

func (s victimStorage) Write(name string, r io.Reader) error {
	b, err := io.ReadAll(r)
	if err != nil {
		return err
	}
	s.v.at(fileWrite, func() { _ = s.Storage.Write(name, strings.NewReader(string(b[:len(b)/2]))) })
	return s.Storage.Write(name, strings.NewReader(string(b)))
}

func (s victimStorage) Rename(from, to string) error {
	s.v.at(fileRename, nil)
	return s.Storage.Rename(from, to)
}

func (s victimStorage) Remove(name string) error {
	s.v.at(fileRemove, nil)
	return s.Storage.Remove(name)
}

func (s victimStorage) MkdirAll(dir string) error {
	s.v.at(folderMade, nil)
	return s.Storage.MkdirAll(dir)
}

func (s victimStorage) SyncDir(dir string) error {
	s.v.at(folderSync, nil)
	return s.Storage.SyncDir(dir)
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
