package play

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/ltc"
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
	p := Player{open: func(r io.Reader) (Device, error) { d = &slowDevice{r: r}; return d, nil }}
	p.Load(tone(10))
	now := time.Unix(1000, 0)
	p.Play(2 * timeline.Second)
	d.pass(0)
	last, worst := timeline.Time(0), timeline.Time(0)
	for range 1000 {
		now = now.Add(2 * time.Millisecond)
		d.pass(2 * time.Millisecond)
		at := p.Heard(now)
		require.GreaterOrEqual(t, at, last, "the playhead never goes back")
		last = at
		ear := 2*timeline.Second + timeline.FromSamples(d.heard, DeviceRate)
		worst = max(worst, max(at-ear, ear-at))
	}
	require.Less(t, worst, 10*timeline.Millisecond)
	t.Logf("at most %v s from what is heard", worst)
}

func TestOutputDelayIsTakenOff(t *testing.T) {
	var d *slowDevice
	p := Player{open: func(r io.Reader) (Device, error) { d = &slowDevice{r: r}; return d, nil }, delay: 100 * time.Millisecond}
	p.Load(tone(10))
	now := time.Unix(1000, 0)
	p.Play(0)
	d.pass(0)
	p.Heard(now)
	for range 100 {
		now = now.Add(10 * time.Millisecond)
		d.pass(10 * time.Millisecond)
		p.Heard(now)
	}
	require.InDelta(t, 0.9, p.Heard(now).Seconds(), 0.011)
}

func TestDeviceThatIsMissingOrGoesAway(t *testing.T) {
	p := Player{open: func(io.Reader) (Device, error) { return nil, errors.New("no card") }}
	p.Load(tone(2))
	p.Play(0)
	require.True(t, p.silent)
	require.Equal(t, "no card", p.detail)
	for begun := time.Now(); p.Heard(time.Now()) < 100*timeline.Millisecond; {
		require.Less(t, time.Since(begun), 5*time.Minute)
		time.Sleep(5 * time.Millisecond)
	}
	p.device.Close()

	d := &slowDevice{}
	p = Player{open: func(r io.Reader) (Device, error) { d.r = r; return d, nil }}
	p.Load(tone(2))
	p.Play(0)
	d.pass(200 * time.Millisecond)
	d.err = errors.New("unplugged")
	again, lost := p.Tick(time.Now())
	require.True(t, again)
	require.True(t, lost)
	require.True(t, p.silent)
	require.True(t, p.Playing(), "the playhead goes on")
	p.device.Close()
}

func TestClicksFollowTheBeatMap(t *testing.T) {
	beats := timeline.SteadyBeatMap(timeline.Second, timeline.Second/2, timeline.Metre{Num: 6, Den: 8}, 4)
	list := clicks(beats, 0, 8*timeline.Second, 48000)
	require.NotEmpty(t, list)
	for i, c := range list {
		if i > 0 {
			require.Equal(t, int64(3*24000), c.Frame-list[i-1].Frame, "6/8 is felt in two")
			require.NotEqual(t, c.Accent, list[i-1].Accent)
		}
	}
}

// A recording that is too long to be kept in memory is drawn, and played from a file that is gone when it is stopped; without a folder for
// that it is drawn all the same, and says why it is not heard.
func TestLongRecordingIsPlayedFromAFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "long.wav")
	pcm := tone(3)
	require.NoError(t, testsound.WriteWAV16(path, pcm.Rate, 1, pcm.Samples))
	full := filepath.Join(t.TempDir(), "full")
	require.NoError(t, os.WriteFile(full, nil, 0o600))
	room := t.TempDir()
	for _, folder := range []string{"", full, room} {
		got := make(chan *audio.PCM, 1)
		s := LoadSound(path, nil, 2*time.Second, folder, func() {}, func(p *audio.PCM, err error) {
			require.NoError(t, err)
			got <- p
		})
		kept := <-got
		require.Nil(t, kept)
		s.Take(kept, nil)
		require.EqualValues(t, len(pcm.Samples), s.peaks.Load().Frames)
		if folder != room {
			require.Nil(t, s.Music())
			require.Contains(t, s.Unplayed(), "longer than an hour")
			s.Stop()
			continue
		}
		require.Empty(t, s.Unplayed())
		var d *slowDevice
		p := Player{open: func(r io.Reader) (Device, error) { d = &slowDevice{r: r}; return d, nil }}
		p.Load(s.Music())
		p.Set(Way{From: timeline.Second, To: 2 * timeline.Second, Length: 3 * timeline.Second})
		p.Play(2500 * timeline.Millisecond)
		b := make([]byte, 4800*audio.DeviceFrame)
		_, err := io.ReadFull(d.r, b)
		require.NoError(t, err)
		loud := 0.0
		for i := 0; i < len(b); i += audio.DeviceFrame {
			loud = max(loud, float64(math.Float32frombits(binary.LittleEndian.Uint32(b[i:]))))
		}
		require.InDelta(t, 8000.0/(1<<15), loud, 0.01)
		p.Load(nil)
		s.Stop()
		left, err := os.ReadDir(room)
		require.NoError(t, err)
		require.Empty(t, left)
	}
}

// withTimecode writes a recording of some channels: music on all but one, which holds timecode from 01:00:00:00 on; 0 = none.
func withTimecode(t *testing.T, channels, code int) string {
	t.Helper()
	const rate = 48000
	first, err := timeline.Rate25.Frame(timeline.Timecode{H: 1})
	require.NoError(t, err)
	var b bytes.Buffer
	_, err = (&ltc.Stripe{Rate: timeline.Rate25, SampleRate: rate, Bits: 16, Level: -6, Runs: []ltc.Run{{First: first, Frames: 50}}}).WriteTo(&b)
	require.NoError(t, err)
	samples := make([]int16, 2*rate*channels)
	for i := range 2 * rate {
		for c := range channels {
			samples[i*channels+c] = int16(1000 * (c + 1)) // a level each, so that it can be told which is which
			if c+1 == code {
				samples[i*channels+c] = int16(binary.LittleEndian.Uint16(b.Bytes()[2*i:]))
			}
		}
	}
	path := filepath.Join(t.TempDir(), "song.wav")
	require.NoError(t, testsound.WriteWAV16(path, rate, channels, samples))
	return path
}

// What is played holds the wanted channels, and never timecode: of two channels the other one, of more all others in their places.
func TestTimecodeIsNeverPlayed(t *testing.T) {
	for _, c := range []struct {
		channels, code int
		only           []int
		levels         []int16
	}{
		{2, 0, nil, []int16{1000, 2000}},
		{2, 2, nil, []int16{1000}},
		{2, 1, nil, []int16{2000}},
		{2, 2, []int{2}, []int16{0, 0}},
		{1, 1, nil, []int16{0}},
		{4, 4, []int{1, 2, 4}, []int16{1000, 2000}},
		{4, 3, nil, []int16{1000, 2000, 0, 4000}},
		{4, 0, []int{3}, []int16{3000}},
	} {
		got := make(chan *audio.PCM, 1)
		s := LoadSound(withTimecode(t, c.channels, c.code), c.only, time.Minute, "", func() {}, func(p *audio.PCM, err error) {
			require.NoError(t, err)
			got <- p
		})
		pcm := <-got
		s.Take(pcm, nil)
		require.Equal(t, len(c.levels), pcm.Channels, "%v", c)
		require.EqualValues(t, 2*48000, pcm.Frames())
		for i, v := range pcm.Samples {
			require.Equal(t, c.levels[i%pcm.Channels], v, "%v, sample %d", c, i)
		}
		require.Equal(t, c.channels, s.Channels)
		if c.code == 0 {
			require.Empty(t, s.Timecode)
			continue
		}
		require.Len(t, s.Timecode, 1)
		start, ok := s.Timecode[0].Start()
		require.True(t, ok)
		require.Equal(t, timeline.Timecode{H: 1}, start)
		require.LessOrEqual(t, s.Drawn().Frames, int64(2*48000))
	}
}

// A count-in is a bar in the metre and at the tempo of what comes, and clicks go on from it evenly; while it is heard nothing of the song is, and
// what is told as heard comes to the song's beginning as that is heard.
func TestCountIn(t *testing.T) {
	for _, c := range []struct {
		metre timeline.Metre
		at    timeline.Time
		want  []bool // accents of the counts
	}{
		{timeline.Metre{Num: 4, Den: 4}, 0, []bool{true, false, false, false}},
		{timeline.Metre{Num: 3, Den: 4}, 3 * timeline.Second, []bool{true, false, false}},
		{timeline.Metre{Num: 6, Den: 8}, 6 * timeline.Second, []bool{true, false}},
		{timeline.Metre{Num: 4, Den: 4}, 5 * timeline.Second, []bool{false, false, true, false}}, // from a third beat on
	} {
		beats := timeline.SteadyBeatMap(0, timeline.Second/2, c.metre, 40)
		var d *slowDevice
		p := Player{open: func(r io.Reader) (Device, error) { d = &slowDevice{r: r}; return d, nil }}
		p.Load(tone(30))
		p.Set(Way{Beats: beats, Length: 30 * timeline.Second})
		from := p.Count(c.at, beats)
		long := beats.BarStart(2) - beats.BarStart(1)
		require.Equal(t, c.at-long, from)
		list := clicks(beats, c.at, c.at+long-1, 44100)
		require.Len(t, list, len(c.want))
		for i := range list {
			require.Equal(t, c.want[i], list[i].Accent, "%v", c)
		}
		b := make([]byte, long.Samples(DeviceRate)*audio.DeviceFrame) // the bar as it is heard: a click on each beat, and else nothing
		_, err := io.ReadFull(d.r, b)
		require.NoError(t, err)
		loudest := func(from, to timeline.Time) (top float64) {
			for i := from.Samples(DeviceRate); i < to.Samples(DeviceRate); i++ {
				top = max(top, math.Abs(float64(math.Float32frombits(binary.LittleEndian.Uint32(b[i*audio.DeviceFrame:])))))
			}
			return top
		}
		for i := range list {
			at := timeline.FromSamples(list[i].Frame, 44100) - c.at
			require.Greater(t, loudest(at, at+10*timeline.Millisecond), 0.1, "%v, count %d", c, i)
			require.Zero(t, loudest(at+100*timeline.Millisecond, at+200*timeline.Millisecond), "%v, after count %d", c, i)
		}
		p.Count(c.at, beats)
		now := time.Unix(1000, 0)
		d.pass(0)
		require.True(t, p.Counting(now))
		for heard := timeline.Time(0); heard < long+timeline.Second; heard += 20 * timeline.Millisecond {
			counts := p.Counting(now)
			if heard < long-60*timeline.Millisecond {
				require.True(t, counts, "%v at %v", c, heard)
			}
			if heard > long+60*timeline.Millisecond {
				require.False(t, counts, "%v at %v", c, heard)
				require.InDelta(t, (c.at + heard - long).Seconds(), p.Heard(now).Seconds(), 0.06)
			}
			now = now.Add(20 * time.Millisecond)
			d.pass(20 * time.Millisecond)
		}
		p.Count(c.at, beats)
		p.Play(c.at)
		require.False(t, p.Counting(now))
	}
	p := Player{}
	p.Load(tone(2))
	require.Equal(t, timeline.Second, p.Count(timeline.Second, nil), "without beats it plays at once")
	p.Close()
}

// Cues that come together tick once, and ticks stand among the clicks in order.
func TestTicksAmongClicks(t *testing.T) {
	beats := timeline.SteadyBeatMap(0, timeline.Second, timeline.Metre{Num: 4, Den: 4}, 4)
	list := withTicks(clicks(beats, 0, 3*timeline.Second, 1000), []timeline.Time{timeline.Second / 2, timeline.Second, timeline.Second, 5 * timeline.Second / 2}, 1000)
	require.Equal(t, []audio.Click{{Frame: 0, Accent: true}, {Frame: 500, Cue: true}, {Frame: 1000}, {Frame: 1000, Cue: true}, {Frame: 2000}, {Frame: 2500, Cue: true}, {Frame: 3000}}, list)
}
