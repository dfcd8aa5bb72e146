package session

import (
	"context"
	"encoding/json"
	"errors"
	"path/filepath"

	"emberbeat/audio"
	"emberbeat/audio/ear"
	"emberbeat/audio/ltc"
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
	c := heardCache{s.cache, hash, ear.Locks{}, song.Audio.Heard}
	if p := c.peaks(); p != nil {
		return p, nil
	}
	found, known := c.timecode()
	p, found, err := peaksOf(ctx, path, song.Audio.Heard, found, known)
	if err != nil {
		return nil, err
	}
	_ = c.Put(c.peaksKey(), p.Encode()) // else it is made again
	c.putTimecode(found)
	return p, nil
}

// peaksOf reads the peaks of the channels that are heard. Where nobody has looked
// for timecode it is looked for on the way, and the file read again without it.
func peaksOf(ctx context.Context, path string, wanted []int, found []ltc.Found, known bool) (*audio.Pyramid, []ltc.Found, error) {
	for {
		src, err := audio.Open(path)
		if err != nil {
			return nil, nil, err
		}
		in := src.Info()
		heard := ltc.Heard(in.Channels, wanted, found)
		silence, b, codes := only(heard, in.Channels), audio.NewBuilder(in.Rate, in.Channels), ltc.NewFinder(in.Rate, in.Channels)
		err = audio.Run(ctx, src, 0, func(frames []float32) error {
			if !known {
				if err := codes.Write(frames); err != nil {
					return err
				}
			}
			if len(heard) < in.Channels {
				_ = silence(frames) // gives no error
			}
			return b.Write(frames)
		})
		src.Close()
		if err != nil {
			return nil, nil, err
		}
		if known {
			return b.Finish(), found, nil
		}
		if found, known = codes.Close(), true; len(ltc.Heard(in.Channels, wanted, found)) == len(heard) {
			return b.Finish(), found, nil
		}
	}
}

// timecodeOf looks for timecode on the channels of a recording, once for each
// content.
func (s *Session) timecodeOf(ctx context.Context, path, hash string) ([]ltc.Found, error) {
	c := heardCache{s.cache, hash, ear.Locks{}, nil}
	if found, known := c.timecode(); known {
		return found, nil
	}
	src, err := audio.Open(path)
	if err != nil {
		return nil, err
	}
	defer src.Close()
	codes := ltc.NewFinder(src.Info().Rate, src.Info().Channels)
	if err := audio.Run(ctx, src, 0, codes.Write); err != nil {
		return nil, err
	}
	found := codes.Close()
	c.putTimecode(found)
	return found, nil
}

// identOf decodes a recording for its samples' hash, once for each content.
func (s *Session) identOf(ctx context.Context, name, hash string) (audio.Ident, error) {
	var ident audio.Ident
	key := heardCache{s.cache, hash, ear.Locks{}, nil}.identKey()
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
