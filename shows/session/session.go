package session

import (
	"errors"
	"fmt"
	"sync"
	"time"

	"emberbeat/audio"
	"emberbeat/shows"
	"emberbeat/timeline"
)

// Options say how to open a show; the zero value opens it to be edited.
type Options struct {
	// ReadOnly opens the show on disk without lock and journal; unsaved edits
	// that wait in a journal are left there.
	ReadOnly bool
	// NoJournal opens it to be edited and saved at once: unsaved edits that
	// wait in a journal are left there, and none are written.
	NoJournal bool
	// Storage stands for the folder; nil = the folder itself.
	Storage shows.Storage
	// Clock tells the time; nil = the computer's.
	Clock func() time.Time
	// Told gives a show in the units that its reader wants; nil = its own.
	Told func(*timeline.Show) *timeline.Show
	// Cache keeps what was computed from recordings; nil = the user's.
	Cache *audio.Cache

	openJournal func(path string, flag int) (journalFile, error) // nil = the file itself
}

// Session is an open show. Its methods may be called from several goroutines.
type Session struct {
	dir   string
	st    shows.Storage
	clock func() time.Time
	cache *audio.Cache
	lock  *shows.DirLock // nil when read-only
	keeps bool           // edits that are not saved come back

	openJournal func(path string, flag int) (journalFile, error)
	toldIn      func(*timeline.Show) *timeline.Show // nil = as it is

	mu        sync.Mutex // guards what follows
	history   *timeline.History
	saved     *timeline.Show // as it is on disk
	places    shows.Places
	prints    shows.Prints
	notes     []shows.Problem
	strays    []string
	journal   *journal // nil when there is none
	recovered *Recovery
	gesture   gesture
	notKept   error
	told      map[*timeline.Show]told // of steps, by the snapshot that each led to
	heard     []string                // what was wrong with recordings added
	copies    []string                // recordings copied in for songs added

	now   pair // of the show as it is, or as a gesture shows it
	ahead pair // of what is foreseen beside it
}

// ErrReadOnly says that a show was opened only to be looked at.
var ErrReadOnly = errors.New("the show was opened read-only; open it to edit, or edit a copy")

// Open opens the show in a folder. Errors are those of shows.Load, and
// *shows.LockedError when another program has it open: it can then still be
// opened read-only.
func Open(dir string, o Options) (*Session, error) {
	s := &Session{dir: dir, st: o.Storage, clock: o.Clock, cache: o.Cache, toldIn: o.Told, openJournal: o.openJournal}
	if s.st == nil {
		s.st = shows.OS(dir)
	}
	if s.openJournal == nil {
		s.openJournal = openJournalFile
	}
	if s.clock == nil {
		s.clock = time.Now
	}
	if s.cache == nil {
		s.cache = audio.OpenCache("")
	}
	if !o.ReadOnly {
		if err := s.takeLock(); err != nil {
			return nil, err
		}
	}
	if err := s.load(); err != nil {
		s.giveLock()
		return nil, err
	}
	if s.keeps = !o.ReadOnly && !o.NoJournal; s.keeps {
		s.recover()
	}
	return s, nil
}

// takeLock locks the folder. A folder without a show is told before anything
// is put in it.
func (s *Session) takeLock() error {
	if _, err := s.st.ReadFile("show.toml"); err != nil {
		_, err := shows.Load(s.dir)
		if err != nil {
			return err
		}
	}
	l, err := shows.Lock(s.dir)
	s.lock = l
	return err
}

func (s *Session) giveLock() {
	if s.lock != nil {
		s.lock.Unlock()
		s.lock = nil
	}
}

func (s *Session) load() error {
	l, err := shows.LoadFrom(s.st)
	if err != nil {
		var none *shows.NoShowError
		if errors.As(err, &none) {
			none.Dir = s.dir
		}
		return err
	}
	if s.lock != nil {
		shows.SweepAudio(s.st, l)
	}
	if s.toldIn != nil {
		l.Show = s.toldIn(l.Show)
	}
	s.saved, s.places, s.prints, s.notes, s.strays = l.Show, l.Places, l.Prints, l.Notes, l.Strays
	s.history = timeline.NewHistory(l.Show)
	s.tell(l.Show, told{saved: true})
	return nil
}

// Cache keeps what was computed from recordings.
func (s *Session) Cache() *audio.Cache { return s.cache }

// Dir is the show's folder.
func (s *Session) Dir() string { return s.dir }

// Show gives the current snapshot.
func (s *Session) Show() *timeline.Show {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.history.Show()
}

// ReadOnly reports whether the show was opened only to be looked at.
func (s *Session) ReadOnly() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.lock == nil
}

// Dirty reports whether there are edits that are not saved.
func (s *Session) Dirty() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.history.Show() != s.saved
}

// Places says where records stand on disk, as of the last load or save.
func (s *Session) Places() shows.Places {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.places
}

// Notes lists what the folder says that is not known but kept.
func (s *Session) Notes() []shows.Problem { return s.notes }

// Strays lists the files that interrupted work had left in the folder when it
// was opened; the next save takes them away.
func (s *Session) Strays() []string { return s.strays }

// Labels names the steps that undo and redo would walk, nearest first.
func (s *Session) Labels() (undo, redo []string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.history.Labels()
}

// Save writes what has changed to the folder. After an error the folder is as
// it was, unless the error says otherwise, and the edits stay unsaved.
// *shows.ChangedError says that another program has changed the files since.
func (s *Session) Save() error { return s.save(true) }

// SaveOver is Save that overwrites what another program has changed; the
// version it overwrites is kept among the older ones.
func (s *Session) SaveOver() error { return s.save(false) }

func (s *Session) save(careful bool) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.lock == nil {
		return ErrReadOnly
	}
	s.gesture = gesture{}
	show := s.history.Show()
	o := shows.SaveOptions{Prints: s.prints, Places: s.places, Keep: shows.KeepVersion}
	before := s.saved
	if !careful {
		o.Prints, before = nil, nil
	}
	o.Commit = func(p shows.Prints) error {
		s.journal.saving(p.Digest())
		return nil
	}
	done, err := shows.SaveTo(s.st, show, before, o)
	if err != nil {
		return err
	}
	s.saved, s.places, s.prints, s.notKept = show, done.Places, done.Prints, done.NotKept
	s.journal.saved(done.Prints.Digest(), show)
	t := s.told[show]
	t.saved = true
	s.tell(show, t)
	s.recovered = nil
	return nil
}

// Warnings tells what does not work of that which only protects: the journal
// and the older versions.
func (s *Session) Warnings() []error {
	s.mu.Lock()
	defer s.mu.Unlock()
	var list []error
	if err := s.journal.broken(); err != nil {
		list = append(list, fmt.Errorf("unsaved edits are not kept for after a crash: %w; save often", err))
	}
	if s.notKept != nil {
		list = append(list, fmt.Errorf("the older version was not kept: %w", s.notKept))
	}
	return list
}

// Close ends the session. Edits that are not saved stay in the journal and
// come back when the show is next opened; see Discard. Without a journal they are
// lost, and the recordings that came in with them go as well.
func (s *Session) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	var err error
	if s.lock != nil {
		err = s.journal.close(s.history.Show() != s.saved)
		if !s.keeps && len(s.copies) > 0 && s.history.Show() != s.saved {
			s.takeBack()
		}
	}
	s.giveLock()
	return err
}

// Discard goes back to the show as it was last saved; the edits since are
// put aside in the state folder, and there is nothing to undo.
func (s *Session) Discard() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.gesture, s.recovered = gesture{}, nil
	s.history = timeline.NewHistory(s.saved)
	return s.journal.setAside(s.saved, s.prints.Digest())
}
