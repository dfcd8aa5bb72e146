package session

import (
	"context"
	"encoding/json"
	"errors"
	"path/filepath"

	"emberbeat/audio"
	"emberbeat/audio/ear"
	"emberbeat/shows"
	"emberbeat/timeline"
)

// Recording gives the path of a song's recording on this computer; "" for a
// song without one, and where the path leads out of the show folder, which Facts
// tells. Whether the file is there is another matter.
func (s *Session) Recording(song *timeline.SongHead) string {
	if song.Audio.Path == "" || s.outward(song.Audio.Path) != nil {
		return ""
	}
	return s.pathOf(song.Audio.Path)
}

// outward says how the path of a recording leads out of the show folder, or nil.
func (s *Session) outward(path string) error {
	if !filepath.IsLocal(filepath.FromSlash(path)) {
		return errors.New("the path leads out of the show folder")
	}
	return shows.Outward(s.dir, path)
}

// Peaks gives the peaks of a song's recording, from the cache or by decoding
// it. Errors are *audio.FileError, or ctx.Err().
func (s *Session) Peaks(ctx context.Context, song *timeline.SongHead) (*audio.Pyramid, error) {
	path := s.Recording(song)
	hash, err := s.hashOf(ctx, path)
	if err != nil {
		_, err = audio.Open(path) // says it better
		return nil, err
	}
	c := heardCache{s.cache, hash, ear.Locks{}}
	if p := c.peaks(); p != nil {
		return p, nil
	}
	src, err := audio.Open(path)
	if err != nil {
		return nil, err
	}
	defer src.Close()
	b := audio.NewBuilder(src.Info().Rate, src.Info().Channels)
	if err := audio.Run(ctx, src, 0, b.Write); err != nil {
		return nil, err
	}
	p := b.Finish()
	_ = c.Put(c.peaksKey(), p.Encode()) // else it is made again
	return p, nil
}

// identOf decodes a recording for its samples' hash, once for each content.
func (s *Session) identOf(ctx context.Context, name, hash string) (audio.Ident, error) {
	var ident audio.Ident
	key := heardCache{s.cache, hash, ear.Locks{}}.identKey()
	if b, ok := s.cache.Get(key); ok && json.Unmarshal(b, &ident) == nil {
		return ident, nil
	}
	ident, err := audio.Identify(ctx, s.pathOf(name), nil)
	if err == nil {
		if b, err := json.Marshal(ident); err == nil {
			_ = s.cache.Put(key, b)
		}
	}
	return ident, err
}
