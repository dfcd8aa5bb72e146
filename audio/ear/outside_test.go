package ear_test

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/ear"
	"emberbeat/timeline/testtool"
)

const soundFont = "/usr/share/sounds/sf2/FluidR3_GM.sf2" // Debian's fluid-soundfont-gm

// General MIDI drum keys.
var drumKeys = map[byte]byte{'k': 36, 's': 38, 'h': 42, 'c': 49, 'o': 46}

// midiSong is a song of one repeated bar: a drum line per letter, and bass notes.
type midiSong struct {
	name  string
	bpm   float64
	beats int
	drums []string // lines of equal length, one hit letter or . a step
	bass  []byte   // a note a beat, 0 for none; one row a bar, repeated over four roots
}

var midiSongs = []midiSong{
	{"rock", 118, 4, []string{"k...k.k.", "..s...s.", "hhhhhhhh"}, []byte{40, 0, 40, 0}},
	{"fast punk", 176, 4, []string{"k.k.k.k.", ".s.s.s.s", "hhhhhhhh"}, []byte{40, 40, 40, 40}},
	{"ballad", 68, 4, []string{"k.....k.k.......", "....s.......s...", "h.h.h.h.h.h.h.h."}, []byte{36, 0, 0, 43}},
	{"waltz", 138, 3, []string{"k.....", "..s.s.", "h.h.h."}, []byte{38, 0, 0}},
	{"dance", 128, 4, []string{"k.k.k.k.", ".o.o.o.o", "..s...s."}, []byte{45, 0, 45, 45}},
	{"shuffle", 104, 4, []string{"k.....k.....", "...s.....s..", "h.hh.hh.hh.h"}, []byte{40, 44, 47, 44}},
}

type midiEvent struct {
	tick int
	data []byte
}

const ticksPerBeat = 480

// write makes the file and gives beats, bars and onsets in seconds.
func (m midiSong) write(t *testing.T, path string, bars int) (beats, downs, onsets []float64) {
	const lead = ticksPerBeat // a beat of silence
	var ev []midiEvent
	steps := len(m.drums[0])
	struck := map[int]bool{}
	for bar := range bars {
		start := lead + bar*m.beats*ticksPerBeat
		for b := range m.beats {
			at := start + b*ticksPerBeat
			beats = append(beats, float64(at))
			if n := m.bass[b]; n != 0 {
				n += []byte{0, 5, 7, 3}[bar%4]
				ev = append(ev, midiEvent{at, []byte{0x90, n, 100}}, midiEvent{at + ticksPerBeat*9/10, []byte{0x80, n, 0}})
				struck[at] = true
			}
		}
		downs = append(downs, float64(start))
		for _, line := range m.drums {
			for i := range steps {
				if key, ok := drumKeys[line[i]]; ok {
					at := start + i*m.beats*ticksPerBeat/steps
					ev = append(ev, midiEvent{at, []byte{0x99, key, 100}})
					struck[at] = true
				}
			}
		}
	}
	for bar := 0; bar <= bars*m.beats*ticksPerBeat+lead; bar++ {
		if struck[bar] {
			onsets = append(onsets, float64(bar))
		}
	}
	require.NoError(t, os.WriteFile(path, m.encode(ev), 0o600))
	for _, v := range [][]float64{beats, downs, onsets} {
		for i := range v {
			v[i] *= 60 / m.bpm / ticksPerBeat
		}
	}
	return beats, downs, onsets
}

// encode writes a standard MIDI file of format 0.
func (m midiSong) encode(ev []midiEvent) []byte {
	us := uint32(math.Round(60e6 / m.bpm))
	body := []byte{0, 0xff, 0x51, 3, byte(us >> 16), byte(us >> 8), byte(us), 0, 0xc0, 33} // a finger bass
	last := 0
	for {
		next := -1
		for i, e := range ev {
			if e.tick >= 0 && (next < 0 || e.tick < ev[next].tick) {
				next = i
			}
		}
		if next < 0 {
			break
		}
		body = appendDelta(body, ev[next].tick-last)
		body = append(body, ev[next].data...)
		last = ev[next].tick
		ev[next].tick = -1
	}
	body = append(body, 0, 0xff, 0x2f, 0)
	out := append([]byte("MThd"), 0, 0, 0, 6, 0, 0, 0, 1, ticksPerBeat>>8, ticksPerBeat&0xff)
	out = append(out, "MTrk"...)
	out = binary.BigEndian.AppendUint32(out, uint32(len(body)))
	return append(out, body...)
}

// appendDelta writes a MIDI variable-length number: seven bits a byte, the most significant first.
func appendDelta(b []byte, n int) []byte {
	rev := []byte{byte(n & 0x7f)}
	for n >>= 7; n > 0; n >>= 7 {
		rev = append(rev, byte(n&0x7f)|0x80)
	}
	for i := len(rev) - 1; i >= 0; i-- {
		b = append(b, rev[i])
	}
	return b
}

func run(t *testing.T, name string, args ...string) []byte {
	var errOut bytes.Buffer
	c := exec.Command(name, args...)
	c.Stderr = &errOut
	out, err := c.Output()
	require.NoError(t, err, "%s %v: %s", name, args, errOut.String())
	return out
}

func seconds(t *testing.T, out []byte) []float64 {
	var list []float64
	for s := bufio.NewScanner(bytes.NewReader(out)); s.Scan(); {
		v, err := strconv.ParseFloat(strings.Fields(s.Text() + " x")[0], 64)
		require.NoError(t, err)
		list = append(list, v)
	}
	return list
}

func hearFile(t *testing.T, path string) *ear.Analysis {
	src, err := audio.Open(path)
	require.NoError(t, err)
	defer src.Close()
	a, err := ear.Analyse(t.Context(), src, ear.Options{})
	require.NoError(t, err)
	wellFormed(t, a)
	return a
}

// On songs rendered with sampled instruments we are held against aubio 0.4,
// which hears the same files in the same run.
func TestRenderedSongsBesideAubio(t *testing.T) {
	testtool.Need(t, "fluidsynth", soundFont, "aubioonset", "aubiotrack")
	var ours, theirs [2]float64
	for _, m := range midiSongs {
		t.Run(m.name, func(t *testing.T) {
			mid, wav := filepath.Join(t.TempDir(), "song.mid"), filepath.Join(t.TempDir(), "song.wav")
			beats, downs, onsets := m.write(t, mid, int(30*m.bpm/60/float64(m.beats)))
			run(t, "fluidsynth", "-ni", "-r", "44100", "-g", "0.5", "-T", "wav", "-F", wav, soundFont, mid)
			a := hearFile(t, wav)
			require.InDelta(t, m.bpm, a.BPM, 0.01)
			b, o := fMeasure(beats, a.Beats, 0.05), fMeasure(onsets, a.Onsets, 0.05)
			require.GreaterOrEqual(t, b, 0.97, "beats")
			t.Logf("%d of %d onsets", len(a.Onsets), len(onsets))
			require.GreaterOrEqual(t, o, 0.95, "onsets")
			e := errorsOf(beats, a.Beats)
			// a sampled drum needs some milliseconds to speak
			require.InDelta(t, 0.003, e[len(e)/2], 0.006, "bias")
			down := fMeasure(downs, a.Downbeats, 0.05)
			require.True(t, down > 0.9 || a.Confidence.Downbeats < 0.6, "bars %.2f, sure %.2f", down, a.Confidence.Downbeats)
			tb := fMeasure(beats, seconds(t, run(t, "aubiotrack", "-i", wav)), 0.05)
			to := fMeasure(onsets, seconds(t, run(t, "aubioonset", "-i", wav)), 0.05)
			t.Logf("beats %.3f, aubio %.3f; onsets %.3f, aubio %.3f; bars %.2f sure %.2f", b, tb, o, to, down, a.Confidence.Downbeats)
			ours[0], ours[1] = ours[0]+b, ours[1]+o
			theirs[0], theirs[1] = theirs[0]+tb, theirs[1]+to
		})
	}
	require.Greater(t, ours[0], theirs[0], "beats, all songs")
	require.GreaterOrEqual(t, ours[1], theirs[1], "onsets, all songs")
}

func TestSpeechIsNoMusic(t *testing.T) {
	testtool.Need(t, "espeak-ng")
	wav := filepath.Join(t.TempDir(), "speech.wav")
	text := strings.Repeat("The audience stands behind the line, and nobody goes on stage before the all clear has been given. ", 4)
	run(t, "espeak-ng", "-v", "en", "-w", wav, text)
	a := hearFile(t, wav)
	t.Logf("%d beats, %.1f bpm, sure %+v", len(a.Beats), a.BPM, a.Confidence)
	require.Less(t, a.Confidence.Beats, 0.3)
	require.False(t, a.Steady)
}
