package shows

import (
	"fmt"

	"emberbeat/timeline"
)

// SaveOptions say more about a save; the zero value will do.
type SaveOptions struct {
	// Prints and Places are those of the show as it was last read or written.
	// With Prints, a file that somebody else has changed since is not
	// overwritten: the save fails with *ChangedError.
	Prints Prints
	Places Places
	// Keep is handed the storage before anything in it changes, to keep an
	// older version. Its error does not stop the save; see Saved.NotKept.
	Keep func(Storage) error
	// Commit is called with the prints to be, once all new files are written
	// beside the old ones. Its error stops the save.
	Commit func(Prints) error
}

// Saved is what a save has done.
type Saved struct {
	Places  Places
	Prints  Prints
	Written []string // files written, sorted
	Removed []string
	NotKept error // why the older version could not be kept, or nil
}

// Save writes a show to its folder: only files whose bytes change, all of them
// or none. before is the show as it was last loaded or saved, whose unchanged
// parts are not looked at; nil looks at all. The last ten versions are kept
// (see Versions). Nobody else may have the folder open (*LockedError).
func Save(dir string, show, before *timeline.Show) error {
	l, err := Lock(dir)
	if err != nil {
		return err
	}
	defer l.Unlock()
	_, err = SaveTo(OS(dir), show, before, SaveOptions{Keep: KeepVersion})
	return err
}

// SaveTo is Save for any storage, without lock and older versions. Errors:
// *FileError, *ChangedError, or one that names records which cannot be stored.
// After an error the folder holds the old show, unless the error says
// otherwise.
func SaveTo(st Storage, show, before *timeline.Show, o SaveOptions) (*Saved, error) {
	if err := checkStorable(show); err != nil {
		return nil, err
	}
	if err := finishPending(st); err != nil {
		return nil, err
	}
	sweep(st)
	s := &saver{st: st, SaveOptions: o}
	s.plan(show, before)
	if err := s.compare(); err != nil {
		return nil, err
	}
	if len(s.unsure) > 0 {
		if err := s.sure(s.unsure...); err != nil {
			return nil, err
		}
	}
	if len(s.todo) == 0 && len(s.gone) == 0 {
		return s.result(), nil
	}
	if err := s.readable(show); err != nil {
		return nil, err
	}
	if o.Keep != nil {
		s.notKept = o.Keep(st)
	}
	if err := s.writeBeside(); err != nil {
		s.clean()
		return nil, err
	}
	if o.Commit != nil {
		if err := o.Commit(s.prints()); err != nil {
			s.clean()
			return nil, err
		}
	}
	if err := s.commit(); err != nil {
		return nil, err
	}
	return s.result(), nil
}

// checkStorable refuses what could not be read back.
func checkStorable(s *timeline.Show) error {
	if !s.Head.ID.Valid() {
		return fmt.Errorf("the show has no valid id")
	}
	for _, name := range []string{"song", "venue", "night"} {
		k := timeline.KindOf(name)
		slug, taken := k.Field("slug"), map[string]timeline.ID{}
		for _, r := range k.List(s, "") {
			text := slug.Get(r).Text
			if !timeline.ID(text).Valid() {
				return fmt.Errorf("%s:%s cannot be stored: its slug is %q; it needs a name of a-z, 0-9 and -", name, r.RecordID(), text)
			}
			if other, ok := taken[text]; ok {
				return fmt.Errorf("%s:%s cannot be stored: its slug %q is that of %s:%s; choose another", name, r.RecordID(), text, name, other)
			}
			taken[text] = r.RecordID()
		}
	}
	return nil
}
