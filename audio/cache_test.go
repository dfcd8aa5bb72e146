package audio_test

import (
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"emberbeat/audio"

	"github.com/stretchr/testify/require"
)

func TestCacheKeepsWhatWasPut(t *testing.T) {
	c := audio.OpenCache(filepath.Join(t.TempDir(), "not", "yet"))
	key := audio.Key{Hash: "abc", Kind: "peaks", Version: 1}
	_, ok := c.Get(key)
	require.False(t, ok)
	require.NoError(t, c.Put(key, []byte("data")))
	got, ok := c.Get(key)
	require.True(t, ok)
	require.Equal(t, "data", string(got))
	for _, other := range []audio.Key{{"abd", "peaks", 1}, {"abc", "beats", 1}, {"abc", "peaks", 2}, {"../../abc", "peaks", 1}} {
		_, ok := c.Get(other)
		require.False(t, ok, "%v", other)
	}
	require.NoError(t, c.Put(key, nil))
	got, ok = c.Get(key)
	require.True(t, ok)
	require.Empty(t, got)
}

// entry is the one file in a cache's folder.
func entry(t *testing.T, dir string) string {
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	require.NoError(t, err)
	require.Len(t, files, 1)
	return files[0]
}

func TestCacheIgnoresDamagedEntries(t *testing.T) {
	for name, damage := range map[string]func(b []byte) []byte{
		"empty":    func([]byte) []byte { return nil },
		"cut":      func(b []byte) []byte { return b[:len(b)-1] },
		"one bit":  func(b []byte) []byte { b[len(b)-1] ^= 1; return b },
		"no magic": func(b []byte) []byte { b[0] ^= 1; return b },
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			c := audio.OpenCache(dir)
			key := audio.Key{Hash: "abc", Kind: "peaks"}
			require.NoError(t, c.Put(key, []byte("data")))
			b, err := os.ReadFile(entry(t, dir))
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(entry(t, dir), damage(b), 0o644))
			_, ok := c.Get(key)
			require.False(t, ok)
			require.NoError(t, c.Put(key, []byte("again")))
			got, _ := c.Get(key)
			require.Equal(t, "again", string(got))
		})
	}
}

func TestCacheWithoutAPlaceToWrite(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o644))
	c := audio.OpenCache(filepath.Join(file, "sub"))
	require.Error(t, c.Put(audio.Key{Hash: "a"}, []byte("x")))
	_, ok := c.Get(audio.Key{Hash: "a"})
	require.False(t, ok)
}

func TestCacheFolderByEnvironment(t *testing.T) {
	t.Setenv(audio.CacheEnv, "/somewhere")
	require.Equal(t, "/somewhere", audio.OpenCache("").Dir())
	t.Setenv(audio.CacheEnv, "")
	t.Setenv("XDG_CACHE_HOME", "/home/me/c")
	require.Equal(t, filepath.Join("/home/me/c", "emberbeat"), audio.OpenCache("").Dir())
	t.Setenv("XDG_CACHE_HOME", "")
	t.Setenv("HOME", "")
	c := audio.OpenCache("")
	require.Empty(t, c.Dir())
	require.Error(t, c.Put(audio.Key{}, nil))
}

func TestCacheRemovesTheLongestUnused(t *testing.T) {
	dir := t.TempDir()
	c := audio.OpenCache(dir)
	c.SetLimit(5000)
	left := filepath.Join(dir, "put-123")
	require.NoError(t, os.WriteFile(left, make([]byte, 10), 0o644))
	old := time.Now().Add(-2 * time.Hour)
	require.NoError(t, os.Chtimes(left, old, old))
	foreign := filepath.Join(dir, "mine.txt")
	require.NoError(t, os.WriteFile(foreign, make([]byte, 9000), 0o644))

	key := func(i int) audio.Key { return audio.Key{Hash: "a", Kind: "k", Version: i} }
	known := map[string]bool{}
	for i := range 4 {
		require.NoError(t, c.Put(key(i), make([]byte, 1000)))
		entries, err := filepath.Glob(filepath.Join(dir, "*.entry"))
		require.NoError(t, err)
		require.Len(t, entries, i+1)
		for _, entry := range entries {
			if !known[entry] { // the clock of the file system may be coarse: say how old it is
				known[entry] = true
				put := time.Now().Add(time.Duration(i-10) * time.Minute)
				require.NoError(t, os.Chtimes(entry, put, put))
			}
		}
	}
	_, ok := c.Get(key(0)) // used again: now the youngest
	require.True(t, ok)
	require.NoError(t, c.Put(key(4), make([]byte, 1000)))
	for i, want := range []bool{true, false, false, true, true} {
		_, ok := c.Get(key(i))
		require.Equal(t, want, ok, "entry %d", i)
	}
	require.NoFileExists(t, left)
	require.FileExists(t, foreign)
}

func TestCacheFromManySides(t *testing.T) {
	c := audio.OpenCache(t.TempDir())
	key := audio.Key{Hash: "a"}
	var wg sync.WaitGroup
	for i := range 8 {
		wg.Go(func() {
			data := []byte{byte(i), byte(i), byte(i)}
			for range 20 {
				require.NoError(t, c.Put(key, data))
				if got, ok := c.Get(key); ok {
					require.Len(t, got, 3)
					require.Equal(t, got[0], got[2], "never half of one and half of another")
				}
			}
		})
	}
	wg.Wait()
}
