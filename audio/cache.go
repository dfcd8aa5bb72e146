package audio

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

// Key names an entry of a Cache.
type Key struct {
	Hash    string // of the content the entry was made from
	Kind    string // what it is: "peaks", "beats"
	Version int    // of the way it was made; others are as good as missing
}

// Cache keeps what was computed from sound files, in a folder outside the
// shows. Nothing depends on it: an entry that is missing, damaged or cannot be
// written is made again. It may be used by several goroutines and programs.
type Cache struct {
	dir   string // "" for a cache that holds nothing
	limit int64  // bytes

	lock sync.Mutex
	size int64 // bytes in the folder by our count, -1 before the first one
}

// CacheLimit is the size at which the entries longest unused are removed.
const CacheLimit = 512 << 20

// CacheEnv is the environment variable that moves the cache elsewhere.
const CacheEnv = "EMBERBEAT_CACHE"

// OpenCache is the cache in the folder dir, or for "" in the user's. It gives
// one that holds nothing if there is no such place.
func OpenCache(dir string) *Cache {
	if dir == "" {
		dir = os.Getenv(CacheEnv)
	}
	if base, err := os.UserCacheDir(); dir == "" && err == nil {
		dir = filepath.Join(base, "emberbeat")
	}
	return &Cache{dir: dir, limit: CacheLimit, size: -1}
}

// Dir is the cache's folder, "" if it has none.
func (c *Cache) Dir() string { return c.dir }

// SetLimit changes the size at which old entries are removed, in bytes.
func (c *Cache) SetLimit(bytes int64) {
	c.lock.Lock()
	defer c.lock.Unlock()
	c.limit = bytes
}

const (
	cacheMagic  = "ebcache\x01"
	cacheSuffix = ".entry"
	cacheHead   = len(cacheMagic) + 4
)

// path is the file of an entry. Whatever the key holds, it is one name.
func (c *Cache) path(key Key) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%q %q %d", key.Hash, key.Kind, key.Version))
	return filepath.Join(c.dir, hex.EncodeToString(sum[:20])+cacheSuffix)
}

// Get gives the data that was last put under key.
func (c *Cache) Get(key Key) ([]byte, bool) {
	if c.dir == "" {
		return nil, false
	}
	path := c.path(key)
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, false
	}
	if len(b) < cacheHead || string(b[:len(cacheMagic)]) != cacheMagic ||
		binary.LittleEndian.Uint32(b[len(cacheMagic):]) != crc32.ChecksumIEEE(b[cacheHead:]) {
		os.Remove(path)
		return nil, false
	}
	now := time.Now()
	os.Chtimes(path, now, now) // in use; where that fails it only looks older
	return b[cacheHead:], true
}

// Put keeps data under key. The error says why it could not; all goes on
// without.
func (c *Cache) Put(key Key, data []byte) error {
	if c.dir == "" {
		return errors.New("there is no cache folder")
	}
	b := append([]byte(cacheMagic), binary.LittleEndian.AppendUint32(nil, crc32.ChecksumIEEE(data))...)
	b = append(b, data...)
	if err := os.MkdirAll(c.dir, 0o755); err != nil {
		return fmt.Errorf("cache: %w", err)
	}
	if err := replaceFile(c.path(key), b); err != nil {
		return fmt.Errorf("cache: %w", err)
	}
	c.grow(int64(len(b)))
	return nil
}

// replaceFile writes a file beside path and moves it there, so that a reader
// sees the old content or the new.
func replaceFile(path string, b []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), "put-*")
	if err != nil {
		return err
	}
	_, err = f.Write(b)
	err = errors.Join(err, f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}

// grow counts bytes written and removes old entries when there are too many.
func (c *Cache) grow(bytes int64) {
	c.lock.Lock()
	defer c.lock.Unlock()
	if c.size >= 0 {
		c.size += bytes
	}
	if c.size < 0 || c.size > c.limit {
		c.size = c.trim()
	}
}

// staleAfter is the age of a half-written file that nobody is writing any more.
const staleAfter = time.Hour

// trim removes what broken-off writing left and, if there is too much, the
// entries longest unused until the rest fits well. It gives the size of the
// rest.
func (c *Cache) trim() int64 {
	var total int64
	files := c.files()
	for _, f := range files {
		total += f.Size()
	}
	goal := c.limit
	if total > goal {
		goal -= goal / 4
	}
	slices.SortFunc(files, func(a, b fs.FileInfo) int { return a.ModTime().Compare(b.ModTime()) })
	for _, f := range files {
		entry := strings.HasSuffix(f.Name(), cacheSuffix)
		useless := entry && total > goal || !entry && time.Since(f.ModTime()) > staleAfter
		if useless && os.Remove(filepath.Join(c.dir, f.Name())) == nil {
			total -= f.Size()
		}
	}
	return total
}

// files lists our files in the cache's folder.
func (c *Cache) files() []fs.FileInfo {
	entries, err := os.ReadDir(c.dir)
	if err != nil {
		return nil
	}
	var list []fs.FileInfo
	for _, e := range entries {
		ours := strings.HasSuffix(e.Name(), cacheSuffix) || strings.HasPrefix(e.Name(), "put-")
		if info, err := e.Info(); err == nil && ours && info.Mode().IsRegular() {
			list = append(list, info)
		}
	}
	return list
}
