package app

import (
	"errors"
	"io"
	"math"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/testsound"
	"emberbeat/timeline"
)

// slowDevice takes sound in blocks when told to, and lets it be heard as its own clock goes.
type slowDevice struct {
	r       io.Reader
	playing bool
	taken   int64 // frames
	heard   int64
	err     error
}

const slowBlock = 2400 // frames: 50 ms

// pass lets time go by: what was taken is heard, and blocks are taken so that one is always ahead.
func (d *slowDevice) pass(t time.Duration) {
	if !d.playing {
		return
	}
	d.heard += int64(t.Seconds() * DeviceRate)
	for d.taken < d.heard+slowBlock {
		b := make([]byte, slowBlock*audio.DeviceFrame)
		_, _ = io.ReadFull(d.r, b)
		d.taken += slowBlock
	}
}

func (d *slowDevice) Play()  { d.playing = true }
func (d *slowDevice) Pause() { d.playing = false }
func (d *slowDevice) Buffered() int {
	return int(d.taken-d.heard/slowBlock*slowBlock) * audio.DeviceFrame
}
func (d *slowDevice) Err() error { return d.err }
func (d *slowDevice) Close()     {}

func tone(seconds int) *audio.PCM {
	p := &audio.PCM{Rate: 44100, Channels: 1}
	for i := range seconds * p.Rate {
		p.Samples = append(p.Samples, int16(8000*math.Sin(float64(i)/20)))
	}
	return p
}

// The device says only every 50 ms how far it is; between, the playhead goes on evenly, never back, and stays within a block of the ear.
func TestPlayheadIsWhatIsHeard(t *testing.T) {
	var d *slowDevice
	p := player{open: func(r io.Reader) (Device, error) { d = &slowDevice{r: r}; return d, nil }}
	p.load(tone(10))
	now := time.Unix(1000, 0)
	p.play(2 * timeline.Second)
	d.pass(0)
	last, worst := timeline.Time(0), timeline.Time(0)
	for range 1000 {
		now = now.Add(2 * time.Millisecond)
		d.pass(2 * time.Millisecond)
		at := p.heard(now)
		require.GreaterOrEqual(t, at, last, "the playhead never goes back")
		last = at
		ear := 2*timeline.Second + timeline.FromSamples(d.heard, DeviceRate)
		worst = max(worst, apart(at, ear))
	}
	require.Less(t, worst, 10*timeline.Millisecond)
	t.Logf("at most %v s from what is heard", worst)
}

func TestOutputDelayIsTakenOff(t *testing.T) {
	var d *slowDevice
	p := player{open: func(r io.Reader) (Device, error) { d = &slowDevice{r: r}; return d, nil }, delay: 100 * time.Millisecond}
	p.load(tone(10))
	now := time.Unix(1000, 0)
	p.play(0)
	d.pass(0)
	p.heard(now)
	for range 100 {
		now = now.Add(10 * time.Millisecond)
		d.pass(10 * time.Millisecond)
		p.heard(now)
	}
	require.InDelta(t, 0.9, p.heard(now).Seconds(), 0.011)
}

func TestDeviceThatIsMissingOrGoesAway(t *testing.T) {
	p := player{open: func(io.Reader) (Device, error) { return nil, errors.New("no card") }}
	p.load(tone(2))
	p.play(0)
	require.True(t, p.silent)
	require.Equal(t, "no card", p.detail)
	begun := time.Now()
	for p.heard(time.Now()) < 100*timeline.Millisecond {
		require.Less(t, time.Since(begun), hang)
		time.Sleep(5 * time.Millisecond)
	}
	p.device.Close()

	d := &slowDevice{}
	p = player{open: func(r io.Reader) (Device, error) { d.r = r; return d, nil }}
	p.load(tone(2))
	p.play(0)
	d.pass(200 * time.Millisecond)
	d.err = errors.New("unplugged")
	again, lost := p.tick(time.Now())
	require.True(t, again)
	require.True(t, lost)
	require.True(t, p.silent)
	require.True(t, p.playing(), "the playhead goes on")
	p.device.Close()
}

func TestClicksFollowTheBeatMap(t *testing.T) {
	beats := timeline.SteadyBeatMap(timeline.Second, timeline.Second/2, timeline.Metre{Num: 6, Den: 8}, 4)
	list := clicks(beats, 8*timeline.Second, 48000)
	require.NotEmpty(t, list)
	for i, c := range list {
		if i > 0 {
			require.Equal(t, int64(3*24000), c.Frame-list[i-1].Frame, "6/8 is felt in two")
			require.NotEqual(t, c.Accent, list[i-1].Accent)
		}
	}
}

// A recording that is too long to be kept is drawn all the same.
func TestLongRecordingIsDrawnAndNotKept(t *testing.T) {
	path := filepath.Join(t.TempDir(), "long.wav")
	pcm := tone(3)
	require.NoError(t, testsound.WriteWAV16(path, pcm.Rate, 1, pcm.Samples))
	got := make(chan *audio.PCM, 1)
	s := loadSound(path, 2*time.Second, func() {}, func(p *audio.PCM, err error) {
		require.NoError(t, err)
		got <- p
	})
	require.Nil(t, <-got)
	require.EqualValues(t, len(pcm.Samples), s.peaks.Load().Frames)
}
