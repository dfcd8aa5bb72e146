package session

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"emberbeat/audio"
)

// hashOf gives the hash of a file. A file of the same path, size and time as
// before is not read again, in this session or the next.
func (s *Session) hashOf(ctx context.Context, path string) (string, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	info, err := os.Stat(abs)
	if err != nil {
		return "", err
	}
	key := audio.Key{Kind: "file hash", Version: 1, Hash: fmt.Sprintf("%s %d %d", abs, info.Size(), info.ModTime().UnixNano())}
	if b, ok := s.cache.Get(key); ok {
		return string(b), nil
	}
	hash, err := audio.HashFile(ctx, abs)
	if err == nil {
		_ = s.cache.Put(key, []byte(hash))
	}
	return hash, err
}
