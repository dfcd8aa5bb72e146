package session

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"emberbeat/audio"
	"emberbeat/shows"
	"emberbeat/timeline"
)

// bringAudio makes sure that a recording is in the show folder, gives its path
// there, with '/', and reports whether it was copied.
func (s *Session) bringAudio(ctx context.Context, from, hash string) (to string, copied bool, err error) {
	if inside, ok := s.inside(from); ok {
		return inside, false, nil
	}
	name := plainName(filepath.Base(from))
	ext := path.Ext(name)
	for n := 1; ; n++ {
		to := shows.AudioDir + "/" + name
		if n > 1 {
			to = fmt.Sprintf("%s/%s-%d%s", shows.AudioDir, strings.TrimSuffix(name, ext), n, ext)
		}
		there, err := audio.HashFile(ctx, s.pathOf(to))
		switch {
		case shows.Outward(s.dir, to) != nil:
			continue // a link to somewhere else has taken that name
		case err == nil && there == hash:
			return to, false, nil // the very same is there already
		case err == nil:
			continue // another recording of that name
		case errors.Is(err, fs.ErrNotExist):
			return to, true, s.copyIn(ctx, from, to, hash)
		default:
			return "", false, err
		}
	}
}

// Bring makes sure that a recording, whose hash is that of what was listened to, is in
// the show folder, does the edit that names its path there as one step, and gives that
// path. Where the edit is refused no copy is left behind.
func (s *Session) Bring(ctx context.Context, from, hash, label string, edit func(path string) timeline.Edit) (string, error) {
	if s.ReadOnly() {
		return "", ErrReadOnly
	}
	path, copied, err := s.bringAudio(ctx, from, hash)
	if err != nil {
		return "", err
	}
	if err := s.Do(label, edit(path)); err != nil {
		if copied {
			_ = s.st.Remove(path) // it is only too much
		}
		return "", err
	}
	if copied {
		s.brought(path)
	}
	return path, nil
}

// inside gives the path of a file that is in the show folder already.
func (s *Session) inside(file string) (string, bool) {
	dir, err1 := filepath.EvalSymlinks(s.dir)
	real, err2 := filepath.EvalSymlinks(file)
	if err1 != nil || err2 != nil {
		return "", false
	}
	dir, err1 = filepath.Abs(dir)
	real, err2 = filepath.Abs(real)
	if err1 != nil || err2 != nil {
		return "", false
	}
	rel, err := filepath.Rel(dir, real)
	return filepath.ToSlash(rel), err == nil && filepath.IsLocal(rel)
}

// brought remembers a copy of a recording that nothing on the disk refers to yet.
func (s *Session) brought(name string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.copies = append(s.copies, name)
}

// takeBack takes copies of recordings away again that no song on the disk refers
// to. The caller holds the lock.
func (s *Session) takeBack() {
	l, err := shows.LoadFrom(s.st)
	if err != nil {
		return // what cannot be read may refer to all of them
	}
	for _, name := range s.copies {
		if !slices.ContainsFunc(l.Show.Songs, func(g *timeline.Song) bool { return g.Audio.Path == name }) {
			_ = s.st.Remove(name) // it is only too much
		}
	}
}

// copyIn copies a recording into the show folder: whole, or not at all. It must
// still be the one that was listened to, or looked for.
func (s *Session) copyIn(ctx context.Context, from, to, hash string) error {
	f, err := audio.OpenFile(from)
	if err != nil {
		return err
	}
	defer f.Close()
	sum := sha256.New()
	err = shows.CopyIn(s.st, to, io.TeeReader(&contextReader{ctx, f}, sum), func() error {
		if hex.EncodeToString(sum.Sum(nil)) != hash {
			return &audio.FileError{Path: from, What: "changed while it was listened to", Want: "add it again once it is finished"}
		}
		return nil
	})
	var changed *audio.FileError
	switch {
	case err == nil:
		return nil
	case ctx.Err() != nil:
		err = ctx.Err()
	case !errors.As(err, &changed):
		err = &shows.FileError{File: to, Doing: "written", Err: err, Safe: "nothing was changed"}
	}
	_ = s.st.Remove(to) // nothing stood there
	return err
}

// PutBack copies a recording that was found elsewhere to where a song expects it in
// the show folder. It must have the hash of the song's file.
func (s *Session) PutBack(ctx context.Context, song *timeline.SongHead, from string) error {
	if s.ReadOnly() {
		return ErrReadOnly
	}
	if err := s.outward(song.Audio.Path); err != nil {
		return err
	}
	if _, err := s.hashOf(ctx, s.pathOf(song.Audio.Path)); !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s is there already", song.Audio.Path)
	}
	return s.copyIn(ctx, from, song.Audio.Path, song.Audio.FileHash)
}

type contextReader struct {
	ctx context.Context
	io.Reader
}

// Read reads on unless the context has ended.
func (r *contextReader) Read(b []byte) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, err
	}
	return r.Reader.Read(b)
}

// FileName is what the copy of a recording is called in the show's folder, unless
// another recording has that name.
func FileName(file string) string { return plainName(filepath.Base(file)) }

// plainName makes a file name that every system takes.
func plainName(name string) string {
	name = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || strings.ContainsRune(`<>:"/\|?*`, r) {
			return '-'
		}
		return r
	}, strings.ToValidUTF8(name, "-"))
	name = timeline.CleanText(name)
	name = strings.TrimLeft(strings.TrimRight(name, ". "), ".")
	if name == "" {
		return "recording"
	}
	return name
}

// pathOf gives the path of a file in the show folder.
func (s *Session) pathOf(name string) string { return filepath.Join(s.dir, filepath.FromSlash(name)) }
