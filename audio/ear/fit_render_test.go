//go:build fit

package ear

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/gob"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gitlab.com/gomidi/midi/v2"
	"gitlab.com/gomidi/midi/v2/smf"

	"emberbeat/audio"
)

// The sound fonts of Debian's fluid-soundfont-gm and timgm6mb-soundfont.
var madeFonts = []string{"/usr/share/sounds/sf2/FluidR3_GM.sf2", "/usr/share/sounds/sf2/TimGM6mb.sf2"}

const (
	madeRate      = 44100
	ticksASecond  = 1000
	madeBeatTicks = 500 // at 120 beats a minute a tick is a millisecond
)

// smf writes the song as a MIDI file whose ticks are milliseconds.
func (s *madeSong) smf() []byte {
	type event struct {
		tick uint32
		msg  midi.Message
	}
	var ev []event
	for c, p := range s.channels {
		ev = append(ev, event{0, midi.ProgramChange(uint8(c), p[0])}, event{0, midi.ControlChange(uint8(c), midi.VolumeMSB, p[1])})
	}
	at := func(t float64) uint32 { return uint32(math.Round(t * ticksASecond)) }
	for _, n := range s.notes {
		ev = append(ev, event{at(n.from), midi.NoteOn(n.channel, n.key, n.velocity)}, event{at(n.to), midi.NoteOff(n.channel, n.key)})
	}
	slices.SortStableFunc(ev, func(a, b event) int { return int(a.tick) - int(b.tick) })
	var track smf.Track
	last := uint32(0)
	for _, e := range ev {
		track.Add(e.tick-last, e.msg)
		last = e.tick
	}
	track.Close(0)
	file := smf.New()
	file.TimeFormat = smf.MetricTicks(madeBeatTicks)
	_ = file.Add(track)
	var out bytes.Buffer
	_, _ = file.WriteTo(&out)
	return out.Bytes()
}

// render plays a MIDI file of the song with fluidsynth and treats the sound.
func (s *madeSong) render(t *testing.T, score []byte) []float32 {
	dir := t.TempDir()
	mid, raw := filepath.Join(dir, "song.mid"), filepath.Join(dir, "song.raw")
	require.NoError(t, os.WriteFile(mid, score, 0o600))
	out, err := exec.Command("fluidsynth", "-ni", "-r", "44100", "-g", "0.3", "-O", "float", "-T", "raw", "-F", raw, madeFonts[s.font], mid).CombinedOutput()
	require.NoError(t, err, "fluidsynth: %s", out)
	b, err := os.ReadFile(raw)
	require.NoError(t, err)
	require.NoError(t, os.Remove(raw))
	x := make([]float32, len(b)/8)
	for i := range x {
		l := math.Float32frombits(binary.LittleEndian.Uint32(b[8*i:]))
		r := math.Float32frombits(binary.LittleEndian.Uint32(b[8*i+4:]))
		x[i] = (l + r) / 2
	}
	x = x[:min(len(x), int(s.end*madeRate))]
	s.master(x)
	return x
}

// master makes a mix of the raw tracks as a record has it: brighter or
// darker, driven into a soft limit, with some noise.
func (s *madeSong) master(x []float32) {
	sum, low := 0.0, 0.0
	for _, v := range x {
		sum += float64(v) * float64(v)
	}
	gain := 0.12 / math.Sqrt(sum/float64(len(x))+1e-12) * math.Pow(10, s.drive/20)
	noise, rnd := math.Pow(10, s.hiss/20), rand.New(rand.NewPCG(3, uint64(len(x))))
	for i, v := range x {
		y := float64(v)
		low += 0.05 * (y - low)
		y = low*(1-s.tilt) + (y-low)*(1+s.tilt)
		x[i] = float32(math.Tanh(gain*y) + noise*rnd.NormFloat64())
	}
}

// inMemory is a Source of one channel.
type inMemory struct {
	audio.Source
	x    []float32
	left []float32
}

func (s *inMemory) Info() audio.Info {
	return audio.Info{Rate: madeRate, Channels: 1, Frames: int64(len(s.x))}
}

func (s *inMemory) Read(dst []float32) (int, error) {
	n := copy(dst, s.left)
	s.left = s.left[n:]
	if n == 0 {
		return 0, io.EOF
	}
	return n, nil
}

// keptSong is what is stored of a song once it has been listened to.
type keptSong struct {
	Rate                             int
	Duration                         float64
	Flux                             [bandCount][]float32
	Env                              [envCount][]uint8
	Tone, Bass, Timbre, Power, Short []float32
	Loud                             Loudness
}

// cachedFeatures gives the features stored under a path, or makes and stores them.
func cachedFeatures(t *testing.T, path string, open func() audio.Source) *features {
	if in, err := os.Open(path); err == nil {
		defer in.Close()
		var k keptSong
		if gob.NewDecoder(in).Decode(&k) == nil {
			return &features{rate: k.Rate, duration: k.Duration, flux: k.Flux, env: k.Env, tone: k.Tone, bass: k.Bass, timbre: k.Timbre, power: k.Power, short: k.Short, loud: k.Loud}
		}
	}
	f, err := listen(context.Background(), open(), nil)
	require.NoError(t, err)
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	out, err := os.Create(path)
	require.NoError(t, err)
	require.NoError(t, gob.NewEncoder(out).Encode(keptSong{f.rate, f.duration, f.flux, f.env, f.tone, f.bass, f.timbre, f.power, f.short, f.loud}))
	require.NoError(t, out.Close())
	return f
}

// features renders and hears the song, once.
func (s *madeSong) features(t *testing.T, dir string) *features {
	return cachedFeatures(t, filepath.Join(dir, s.id+".gob"), func() audio.Source {
		x := s.render(t, s.smf())
		return &inMemory{x: x, left: x}
	})
}
