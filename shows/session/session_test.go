package session_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"emberbeat/shows"
	"emberbeat/shows/session"
	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
)

// newShow makes a show of one song with two lanes in a new folder, and a state
// folder of its own for the test.
func newShow(t testing.TB) string {
	t.Helper()
	t.Setenv(shows.StateEnv, t.TempDir())
	dir := filepath.Join(t.TempDir(), "tour")
	s := timeline.NewShow("tour1", "Gravel and Tin", timeline.Rate25)
	song := timeline.KindOf("song").New("ember").(*timeline.SongHead)
	song.Title, song.Slug, song.Length = "Ember", "ember", timeline.Minute
	d := timeline.NewDraft(s)
	d.Put("", song)
	for _, id := range []timeline.ID{"jets", "flames"} {
		d.Put("ember", timeline.KindOf("lane").New(id))
	}
	require.NoError(t, shows.Create(dir, d.Show()))
	return dir
}

func open(t testing.TB, dir string, o session.Options) *session.Session {
	t.Helper()
	s, err := session.Open(dir, o)
	require.NoError(t, err)
	return s
}

// addCue is an edit that adds a cue.
func addCue(id string, at timeline.Time) timeline.Edit {
	return func(d *timeline.Draft) error {
		d.Put("ember", &timeline.Cue{Base: timeline.Base{ID: timeline.ID(id)}, Lane: "jets", At: timeline.AtTime(at)})
		return nil
	}
}

func setNote(id, note string) timeline.Edit {
	return func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "cue", Song: "ember", ID: timeline.ID(id)}, "note", timeline.Value{Text: note})
	}
}

func cueIDs(s *timeline.Show) []string {
	ids := []string{}
	for _, c := range s.Song("ember").Cues {
		ids = append(ids, string(c.ID))
	}
	return ids
}

func TestEditUndoSave(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, session.Options{})
	require.False(t, s.Dirty())
	require.NoError(t, s.Do("add a cue", addCue("a", timeline.Second)))
	require.NoError(t, s.Do("add a cue", addCue("b", 2*timeline.Second)))
	require.True(t, s.Dirty())
	label, ok := s.Undo()
	require.True(t, ok)
	require.Equal(t, "add a cue", label)
	require.Equal(t, []string{"a"}, cueIDs(s.Show()))
	require.NoError(t, s.Save())
	require.False(t, s.Dirty())
	file, line := s.Places().Place(timeline.Ref{Kind: "cue", Song: "ember", ID: "a"})
	require.Equal(t, "songs/ember/cues.toml", file)
	require.Equal(t, 6, line)
	_, ok = s.Redo()
	require.True(t, ok, "redo goes on working after a save")
	require.True(t, s.Dirty())
	require.NoError(t, s.Save())
	require.NoError(t, s.Close())

	s = open(t, dir, session.Options{})
	require.Equal(t, []string{"a", "b"}, cueIDs(s.Show()))
	require.Nil(t, s.Recovered())
	require.NoError(t, s.Close())
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, e := range left {
		require.NotContains(t, e.Name(), ".lock", "the lock goes with the session")
	}
}

func TestFailedEditChangesNothing(t *testing.T) {
	s := open(t, newShow(t), session.Options{})
	defer s.Close()
	require.ErrorContains(t, s.Do("note", addCue("a", 0), setNote("gone", "x")), "no such record")
	require.Empty(t, cueIDs(s.Show()))
	require.False(t, s.Dirty())
	undo, _ := s.Labels()
	require.Empty(t, undo)
}

func TestEditThatChangesNothingIsNoStep(t *testing.T) {
	s := open(t, newShow(t), session.Options{})
	defer s.Close()
	require.NoError(t, s.Do("add", addCue("a", 0)))
	require.NoError(t, s.Do("again", addCue("a", 0)))
	undo, _ := s.Labels()
	require.Equal(t, []string{"add"}, undo)
}

func TestUnsavedEditsComeBack(t *testing.T) {
	dir := newShow(t)
	at := time.Date(2031, 5, 9, 14, 2, 0, 0, time.UTC)
	s := open(t, dir, session.Options{Clock: func() time.Time { return at }})
	require.NoError(t, s.Do("saved", addCue("a", timeline.Second)))
	require.NoError(t, s.Save())
	require.NoError(t, s.Do("one", addCue("b", 2*timeline.Second)))
	require.NoError(t, s.Do("two", addCue("c", 3*timeline.Second)))
	require.NoError(t, s.Do("three", addCue("d", 4*timeline.Second)))
	s.Undo()
	require.NoError(t, s.Close())

	s = open(t, dir, session.Options{})
	r := s.Recovered()
	require.NotNil(t, r)
	require.Equal(t, session.Recovery{Edits: 2, Since: at}, *r)
	require.True(t, s.Dirty())
	require.Equal(t, []string{"a", "b", "c"}, cueIDs(s.Show()))
	undo, redo := s.Labels()
	require.Equal(t, []string{"two", "one", "saved"}, undo, "steps before the save can be undone as well")
	require.Equal(t, []string{"three"}, redo)
	for range 3 {
		s.Undo()
	}
	require.Empty(t, cueIDs(s.Show()))
	for range 4 {
		s.Redo()
	}
	require.Equal(t, []string{"a", "b", "c", "d"}, cueIDs(s.Show()))
	require.NoError(t, s.Save())
	require.NoError(t, s.Close())
	l, err := shows.Load(dir)
	require.NoError(t, err)
	require.Equal(t, []string{"a", "b", "c", "d"}, cueIDs(l.Show))
}

func TestUnsavedEditsFollowAMovedFolder(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, session.Options{})
	require.NoError(t, s.Do("one", addCue("a", 0)))
	require.NoError(t, s.Close())
	moved := dir + " (moved)"
	require.NoError(t, os.Rename(dir, moved))
	s = open(t, moved, session.Options{})
	require.Equal(t, []string{"a"}, cueIDs(s.Show()))
	require.NoError(t, s.Close())

	copied := dir + " (copied)"
	require.NoError(t, os.CopyFS(copied, os.DirFS(moved)))
	s = open(t, copied, session.Options{})
	require.Empty(t, cueIDs(s.Show()), "the edits belong to the original, which is still there")
	require.NoError(t, s.Close())
	s = open(t, moved, session.Options{})
	defer s.Close()
	require.Equal(t, []string{"a"}, cueIDs(s.Show()))
}

func TestDiscardGoesBackToTheSavedShow(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, session.Options{})
	require.NoError(t, s.Do("one", addCue("b", 0)))
	require.NoError(t, s.Close())
	s = open(t, dir, session.Options{})
	require.NotNil(t, s.Recovered())
	require.NoError(t, s.Discard())
	require.Nil(t, s.Recovered())
	require.False(t, s.Dirty())
	require.NoError(t, s.Do("two", addCue("c", 0)))
	require.NoError(t, s.Close())
	s = open(t, dir, session.Options{})
	defer s.Close()
	require.Equal(t, []string{"c"}, cueIDs(s.Show()))
}

func TestOneShotSessionLeavesTheJournalAlone(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, session.Options{})
	require.NoError(t, s.Do("one", addCue("b", 0)))
	require.NoError(t, s.Close())

	s = open(t, dir, session.Options{NoJournal: true})
	require.Nil(t, s.Recovered())
	require.NoError(t, s.Do("two", addCue("c", 0)))
	require.NoError(t, s.Save())
	require.NoError(t, s.Close())

	s = open(t, dir, session.Options{})
	defer s.Close()
	require.Equal(t, []string{"b", "c"}, cueIDs(s.Show()), "the journal is made again on top of what was saved since")
	require.Contains(t, s.Recovered().Problem, "another program has changed")
}

func TestJournalThatConflictsIsSetAside(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, session.Options{})
	require.NoError(t, s.Do("one", addCue("b", 0)))
	require.NoError(t, s.Close())
	s = open(t, dir, session.Options{NoJournal: true})
	require.NoError(t, s.Do("other", addCue("b", timeline.Minute)))
	require.NoError(t, s.Save())
	require.NoError(t, s.Close())

	s = open(t, dir, session.Options{})
	defer s.Close()
	r := s.Recovered()
	require.Contains(t, r.Problem, "another program has changed the same records")
	require.Equal(t, 1, r.Edits)
	require.FileExists(t, r.Aside)
	require.False(t, s.Dirty())
}

func TestUnreadableJournalIsMovedAway(t *testing.T) {
	for name, text := range map[string]string{"noise": "\x00\x01 no journal", "lines": "a\nb\nc\n"} {
		t.Run(name, func(t *testing.T) {
			dir := newShow(t)
			s := open(t, dir, session.Options{})
			require.NoError(t, s.Do("one", addCue("b", 0)))
			require.NoError(t, s.Close())
			require.NoError(t, os.WriteFile(journalOf(t), []byte(text), 0o600))
			s = open(t, dir, session.Options{})
			defer s.Close()
			r := s.Recovered()
			require.Contains(t, r.Problem, "cannot be read")
			b, err := os.ReadFile(r.Aside)
			require.NoError(t, err)
			require.Equal(t, text, string(b))
			require.NoError(t, s.Do("on", addCue("c", 0)))
			require.Empty(t, s.Warnings())
		})
	}
}

// A journal that ends in its first line holds no edit, and nobody is told of it.
func TestJournalJustBegunIsNone(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, session.Options{})
	require.NoError(t, s.Do("one", addCue("b", 0)))
	require.NoError(t, s.Close())
	whole, err := os.ReadFile(journalOf(t))
	require.NoError(t, err)
	first, _, _ := bytes.Cut(whole, []byte("\n"))
	for _, length := range []int{0, 1, 20, len(first)} {
		require.NoError(t, os.WriteFile(journalOf(t), first[:length], 0o600))
		s = open(t, dir, session.Options{})
		require.Nil(t, s.Recovered(), "%d bytes", length)
		require.NoError(t, s.Do("on", addCue("c", 0)))
		require.Empty(t, s.Warnings())
		require.NoError(t, s.Close())
	}
}

func TestDamageInTheMiddleOfAJournal(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, session.Options{})
	for i := range 5 {
		require.NoError(t, s.Do("edit", addCue(fmt.Sprintf("c%d", i), 0)))
	}
	require.NoError(t, s.Close())
	path := journalOf(t)
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	b[len(b)/2] ^= 1
	require.NoError(t, os.WriteFile(path, b, 0o600))
	s = open(t, dir, session.Options{})
	r := s.Recovered()
	require.Contains(t, r.Problem, "damaged")
	require.FileExists(t, r.Aside)
	got := cueIDs(s.Show())
	require.NotEmpty(t, got)
	require.NoError(t, s.Do("more", addCue("z", 0)))
	require.NoError(t, s.Close())
	s = open(t, dir, session.Options{})
	defer s.Close()
	require.Equal(t, append(got, "z"), cueIDs(s.Show()))
}

func TestCutOffJournalKeepsWhatIsWhole(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, session.Options{})
	require.NoError(t, s.Do("one", addCue("a", 0)))
	require.NoError(t, s.Do("two", addCue("b", 0)))
	require.NoError(t, s.Close())
	path := journalOf(t)
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	for cut := range whole {
		require.NoError(t, os.WriteFile(path, whole[:cut], 0o600))
		s, err := session.Open(dir, session.Options{})
		require.NoError(t, err)
		require.LessOrEqual(t, len(cueIDs(s.Show())), 1)
		require.NoError(t, s.Close())
		_ = os.Remove(path)
	}
}

// journalOf finds the one journal in the test's state folder.
func journalOf(t testing.TB) string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(os.Getenv(shows.StateEnv), "journals", "*.journal"))
	require.NoError(t, err)
	require.Len(t, found, 1)
	return found[0]
}

func TestKeyRepeatsAreOneStep(t *testing.T) {
	now := time.Date(2031, 5, 9, 14, 2, 0, 0, time.UTC)
	dir := newShow(t)
	s := open(t, dir, session.Options{Clock: func() time.Time { return now }})
	require.NoError(t, s.Do("add", addCue("a", 0)))
	nudge := func(after time.Duration, note string) {
		now = now.Add(after)
		require.NoError(t, s.DoAs("nudge a", "nudge", setNote("a", note)))
	}
	nudge(0, "1")
	nudge(600*time.Millisecond, "2")
	nudge(700*time.Millisecond, "3") // 0.7 s after the one before
	undo, _ := s.Labels()
	require.Equal(t, []string{"nudge", "add"}, undo)
	nudge(701*time.Millisecond, "4")
	undo, _ = s.Labels()
	require.Len(t, undo, 3)
	require.NoError(t, s.Save())
	nudge(0, "5")
	undo, _ = s.Labels()
	require.Len(t, undo, 4, "a save ends the gesture")
	require.NoError(t, s.Close())

	s = open(t, dir, session.Options{})
	defer s.Close()
	for _, want := range []string{"5", "4", "3", ""} {
		require.Equal(t, want, s.Show().Song("ember").Cue("a").Note)
		s.Undo()
	}
}

func TestSecondOpener(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, session.Options{})
	_, err := session.Open(dir, session.Options{})
	var locked *shows.LockedError
	require.ErrorAs(t, err, &locked)
	require.Equal(t, os.Getpid(), locked.PID)
	host, _ := os.Hostname()
	require.Equal(t, host, locked.Host)
	require.WithinDuration(t, time.Now(), locked.Since, time.Minute)

	second := open(t, dir, session.Options{ReadOnly: true})
	require.True(t, second.ReadOnly())
	require.ErrorIs(t, second.Do("x", addCue("a", 0)), session.ErrReadOnly)
	require.ErrorIs(t, second.Save(), session.ErrReadOnly)
	require.NoError(t, second.Close())
	require.NoError(t, s.Do("x", addCue("a", 0)), "the first goes on")
	require.NoError(t, s.Save())
	require.NoError(t, s.Close())
	third := open(t, dir, session.Options{})
	require.NoError(t, third.Close())
}

func TestForeignChangeIsNotOverwritten(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, session.Options{})
	defer s.Close()
	require.NoError(t, s.Do("title", func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "show", ID: "tour1"}, "title", timeline.Value{Text: "Ours"})
	}))
	path := filepath.Join(dir, "show.toml")
	require.NoError(t, os.WriteFile(path, []byte("schema = 1\nid = \"tour1\"\ntitle = \"Theirs\"\n"), 0o644))
	var changed *shows.ChangedError
	require.ErrorAs(t, s.Save(), &changed)
	require.Equal(t, []string{"show.toml"}, changed.Files)
	require.True(t, s.Dirty())
	require.NoError(t, s.SaveOver())
	versions, err := shows.Versions("tour1")
	require.NoError(t, err)
	require.Len(t, versions, 1)
	old, err := versions[0].Load()
	require.NoError(t, err)
	require.Equal(t, "Theirs", old.Show.Head.Title)
}

func TestStateFolderThatCannotBeUsed(t *testing.T) {
	dir := newShow(t)
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o644))
	t.Setenv(shows.StateEnv, filepath.Join(file, "below"))
	s := open(t, dir, session.Options{})
	require.NoError(t, s.Do("one", addCue("a", 0)))
	require.Len(t, s.Warnings(), 1)
	require.NoError(t, s.Save(), "saving goes on working")
	require.Len(t, s.Warnings(), 2)
	require.ErrorContains(t, s.Warnings()[0], "unsaved edits are not kept")
	require.ErrorContains(t, s.Warnings()[1], "the older version was not kept")
	require.NoError(t, s.Close())
}

func TestOpenWhatIsNoShow(t *testing.T) {
	var none *shows.NoShowError
	for _, dir := range []string{t.TempDir(), filepath.Join(t.TempDir(), "gone")} {
		_, err := session.Open(dir, session.Options{})
		require.ErrorAs(t, err, &none)
		require.Equal(t, dir, none.Dir)
		left, _ := os.ReadDir(dir)
		require.Empty(t, left)
	}
}

// A show on a stick that is not plugged in keeps its unsaved edits, though a copy
// of it elsewhere is offered them: the offer names the stick's folder, is made
// once, and the stick has its edits when it is back.
func TestUnsavedEditsAreNeverTakenAway(t *testing.T) {
	stick := newShow(t)
	copied := filepath.Join(t.TempDir(), "copy")
	require.NoError(t, os.CopyFS(copied, os.DirFS(stick)))
	s := open(t, stick, session.Options{})
	require.NoError(t, s.Do("one", addCue("b", 0)))
	require.NoError(t, s.Close())
	away := stick + " (away)"
	require.NoError(t, os.Rename(stick, away))

	s = open(t, copied, session.Options{})
	require.Equal(t, []string{"b"}, cueIDs(s.Show()))
	require.Equal(t, 1, s.Recovered().Edits)
	real, err := filepath.EvalSymlinks(filepath.Dir(stick))
	require.NoError(t, err)
	require.Equal(t, filepath.Join(real, filepath.Base(stick)), s.Recovered().From)
	require.NoError(t, s.Discard())
	require.NoError(t, s.Close())
	s = open(t, copied, session.Options{})
	require.Nil(t, s.Recovered(), "it was said once that they are not wanted here")
	require.Empty(t, cueIDs(s.Show()))
	require.NoError(t, s.Close())

	require.NoError(t, os.Rename(away, stick))
	s = open(t, stick, session.Options{})
	defer s.Close()
	require.Equal(t, []string{"b"}, cueIDs(s.Show()))
	require.Empty(t, s.Recovered().From)
}

// syncedFile counts what a journal wrote since it was last made sure of.
type syncedFile struct {
	session.JournalFile
	unsure *int
}

func (f syncedFile) Write(b []byte) (int, error) { *f.unsure += len(b); return f.JournalFile.Write(b) }
func (f syncedFile) Sync() error                 { *f.unsure = 0; return f.JournalFile.Sync() }

// Unsaved edits are on the disk when a show is closed, even where the journal's
// own timer has not come round.
func TestJournalIsSureWhenItsShowIsClosed(t *testing.T) {
	unsure := 0
	s := open(t, newShow(t), session.Options{}.WithJournal(func(path string, flag int) (session.JournalFile, error) {
		f, err := session.OpenJournalFile(path, flag)
		return syncedFile{f, &unsure}, err
	}))
	require.NoError(t, s.Do("add a cue", addCue("a", timeline.Second)))
	require.NoError(t, s.Close())
	require.Zero(t, unsure, "bytes that a power cut could still take")
}
