package app

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/shows/example"
)

// lightRate is the sample rate of the light example's recordings.
const lightRate = 8000

// light is the example with recordings that take no time to be read: a tone as long as each, in a WAV file. Most tests need a recording, and none
// of those that take it needs this one; reading the example's own was most of what they cost. It is made once and copied.
var light = sync.OnceValues(func() (map[string][]byte, error) {
	files := map[string][]byte{}
	err := fs.WalkDir(example.FS(), ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || strings.HasPrefix(path, "audio/") {
			return err
		}
		files[path], err = fs.ReadFile(example.FS(), path)
		return err
	})
	if err != nil {
		return nil, err
	}
	recording := regexp.MustCompile(`audio = "(audio/.*)\.ogg"\nfile-hash = "(\w+)"\n(?:.*\n)?sample-rate = (\d+)\nframes = (\d+)\n`)
	for path, text := range files {
		m := recording.FindSubmatch(text)
		if m == nil {
			continue
		}
		wav, err := toneFile(string(m[3]), string(m[4]))
		if err != nil {
			return nil, err
		}
		hash := sha256.Sum256(wav)
		text = bytes.Replace(text, append(m[1], ".ogg"...), append(bytes.Clone(m[1]), ".wav"...), 1)
		files[path] = bytes.Replace(text, m[2], []byte(hex.EncodeToString(hash[:])), 1)
		files[string(m[1])+".wav"] = wav
	}
	return files, nil
})

// toneFile gives a WAV file as long as a number of frames at a rate.
func toneFile(rate, frames string) ([]byte, error) {
	r, err := strconv.Atoi(rate)
	if err != nil {
		return nil, err
	}
	n, err := strconv.Atoi(frames)
	if err != nil {
		return nil, err
	}
	samples := make([]int16, n*lightRate/r)
	for i := range samples {
		samples[i] = int16(8000 * math.Sin(float64(i)/20))
	}
	var b bytes.Buffer
	err = audio.EncodeWAV16(&b, lightRate, 1, samples)
	return b.Bytes(), err
}

// copyLight copies the light example, all of it or without its recordings.
func copyLight(t *testing.T, dir string, recordings bool) {
	t.Helper()
	files, err := light()
	require.NoError(t, err)
	for path, b := range files {
		if !recordings && strings.HasPrefix(path, "audio/") {
			continue
		}
		to := filepath.Join(dir, filepath.FromSlash(path))
		require.NoError(t, os.MkdirAll(filepath.Dir(to), 0o700))
		require.NoError(t, os.WriteFile(to, b, 0o600))
	}
}

// The light example is what the example is, but for its recordings: the rules find the same in both.
func TestLightExampleIsTheExample(t *testing.T) {
	h := withExample(t)
	own := newHand(t)
	dir := filepath.Join(t.TempDir(), "show")
	require.NoError(t, example.CopyTo(dir))
	require.NoError(t, own.a.Open(dir))
	own.settle()
	require.Len(t, h.a.work.Sounds, 1)
	require.NoError(t, h.sound().Err)
	require.NotNil(t, h.sound().PCM)
	require.NoError(t, own.sound().Err)
	require.NotNil(t, own.sound().PCM)
	require.Equal(t, len(own.a.work.Findings), len(h.a.work.Findings))
	for i, f := range own.a.work.Findings {
		require.Equal(t, f.Text, h.a.work.Findings[i].Text)
	}
}
