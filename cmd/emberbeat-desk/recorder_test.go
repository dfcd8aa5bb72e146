package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// recordRate is the rate of the virtual sound device and of its recording.
const recordRate = 48000

// recorder is a sound device that nobody hears, and a recording of what it plays.
type recorder struct {
	t      *testing.T
	env    []string // what a program needs to play on it
	server *exec.Cmd
	taker  *exec.Cmd
	took   sync.WaitGroup
	heard  []int16 // one channel
	chunks []chunk
}

// chunk says when the recording had how many samples.
type chunk struct {
	samples int
	at      time.Time
}

// startRecorder starts a sound server of its own with a device that takes sound in real time.
func startRecorder(t *testing.T) *recorder {
	t.Helper()
	dir := t.TempDir()
	socket, conf := filepath.Join(dir, "socket"), filepath.Join(dir, "asound.conf")
	require.NoError(t, os.WriteFile(conf, []byte("pcm.!default { type pulse }\nctl.!default { type pulse }\n"), 0o600))
	r := &recorder{t: t, env: []string{"HOME=" + dir, "XDG_RUNTIME_DIR=" + dir, "PULSE_SERVER=unix:" + socket, "ALSA_CONFIG_PATH=" + conf}}
	r.server = exec.Command("pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1", "--use-pid-file=no", "--disable-shm=yes",
		"-L", fmt.Sprintf("module-null-sink sink_name=ear rate=%d", recordRate),
		"-L", "module-native-protocol-unix auth-anonymous=1 socket="+socket)
	var said bytes.Buffer
	r.server.Env, r.server.Stderr = append(os.Environ(), r.env...), &said
	require.NoError(t, r.server.Start())
	for end := time.Now().Add(hang); ; time.Sleep(50 * time.Millisecond) {
		if _, err := os.Stat(socket); err == nil {
			break
		}
		require.True(t, time.Now().Before(end), "no sound server came up: %s", said.String())
	}
	r.taker = exec.Command("parec", "--device=ear.monitor", "--format=s16le", "--channels=1", fmt.Sprintf("--rate=%d", recordRate), "--latency-msec=5")
	r.taker.Env = append(os.Environ(), r.env...)
	out, err := r.taker.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, r.taker.Start())
	r.took.Go(func() { r.take(out) })
	return r
}

func (r *recorder) take(from io.Reader) {
	b, odd := make([]byte, 1<<14), 0
	for {
		n, err := from.Read(b[odd:])
		now := time.Now()
		n += odd
		for i := 0; i+1 < n; i += 2 {
			r.heard = append(r.heard, int16(uint16(b[i])|uint16(b[i+1])<<8))
		}
		if odd = n % 2; odd == 1 {
			b[0] = b[n-1]
		}
		r.chunks = append(r.chunks, chunk{len(r.heard), now})
		if err != nil {
			return
		}
	}
}

// stop ends the recording; heard and chunks may be read after it.
func (r *recorder) stop() {
	r.taker.Process.Signal(syscall.SIGTERM)
	r.took.Wait()
	r.taker.Wait()
	r.server.Process.Signal(syscall.SIGTERM)
	r.server.Wait()
}

// when gives the moment at which a sample was played. What is read comes late by chance, never early, so the earliest of the chunks of a
// second around it counts.
func (r *recorder) when(sample int) time.Time {
	var first time.Time
	for _, c := range r.chunks {
		if off := c.samples - sample; off < -recordRate || off > recordRate {
			continue
		} else if at := c.at.Add(-samples(off)); first.IsZero() || at.Before(first) {
			first = at
		}
	}
	return first
}

func samples(n int) time.Duration { return time.Duration(n) * time.Second / recordRate }

// onsets gives the samples at which a click begins after silence.
func (r *recorder) onsets() []int {
	const loud, quiet = 3000, recordRate / 10
	var list []int
	last := -quiet
	for i, v := range r.heard {
		if v > loud || v < -loud {
			if i-last >= quiet {
				list = append(list, i)
			}
			last = i
		}
	}
	return list
}
