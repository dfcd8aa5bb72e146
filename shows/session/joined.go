package session

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"

	"emberbeat/audio"
	"emberbeat/shows"
	"emberbeat/timeline"
)

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
