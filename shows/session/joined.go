package session

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"

	"emberbeat/audio"
	"emberbeat/shows"
	"emberbeat/timeline"
	"emberbeat/timeline/merge"
)

// ErrNoStart says that no state of a show is kept that another copy of it can have
// started from.
var ErrNoStart = errors.New("no save of this folder is kept that the other can have started from")

// StartedFrom gives the state of the show in a folder that a copy most likely
// started from: of the saves that were kept here and of ours, what is nearest to it.
// It gives how that is named and, in words, what it is.
func StartedFrom(dir string, ours, theirs *timeline.Show) (base *timeline.Show, name, what string, err error) {
	list, numbers, err := shows.VersionsIn(dir)
	if err != nil {
		return nil, "", "", err
	}
	if len(list) == 0 {
		return nil, "", "", ErrNoStart
	}
	states := []*timeline.Show{ours}
	for _, v := range list {
		var show *timeline.Show
		if l, err := v.Load(); err == nil {
			show = l.Show
		}
		states = append(states, show)
	}
	i := merge.Started(theirs, states)
	switch {
	case i < 0:
		return nil, "", "", merge.ErrOther
	case i == 0:
		return ours, dir, "the show as it is", nil
	}
	return states[i], fmt.Sprintf("%s@%d", dir, numbers[i-1]), list[i-1].String(), nil
}

// BringRecordings copies into the show folder the recordings that a show names
// and that are missing here, from another folder, where they are the very ones. It
// gives the copied paths, and those that were found in neither.
func (s *Session) BringRecordings(ctx context.Context, show *timeline.Show, from string) (copied, missing []string, err error) {
	for _, g := range show.Songs {
		name := g.Audio.Path
		if name == "" || shows.Outward(s.dir, name) != nil {
			continue
		}
		if _, err := os.Stat(s.pathOf(name)); !errors.Is(err, fs.ErrNotExist) {
			continue
		}
		source := filepath.Join(from, filepath.FromSlash(name))
		hash, err := audio.HashFile(ctx, source)
		switch {
		case ctx.Err() != nil:
			return copied, missing, ctx.Err()
		case err != nil || g.Audio.FileHash != "" && hash != g.Audio.FileHash || shows.Outward(from, name) != nil:
			missing = append(missing, name)
			continue
		}
		if err := s.st.MkdirAll(path.Dir(name)); err != nil {
			return copied, missing, err
		}
		if err := s.copyIn(ctx, source, name, hash); err != nil {
			return copied, missing, err
		}
		s.brought(name)
		copied = append(copied, name)
	}
	return copied, missing, nil
}
