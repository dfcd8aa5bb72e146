package play

import (
	"context"
	"fmt"
	"path/filepath"
	"sync/atomic"
	"time"

	"emberbeat/audio"
	"emberbeat/audio/ltc"
	"emberbeat/render"
	"emberbeat/timeline"
)

// MaxKept is the longest recording that is kept in memory to be played: an hour of stereo at 48 kHz takes 690 MB. A longer one is drawn
// and planned to like any other, and stays silent.
const MaxKept = time.Hour

// Sound is a song's recording: its samples to play, its peaks to draw. It is filled by one goroutine and read by the window; what the
// window may read while it is being filled is atomic.
type Sound struct {
	Name  string     // as the song names it
	Path  string     // "" for a song without a recording
	Only  []int      // channels that are wanted, from 1; none = all
	PCM   *audio.PCM // once ready; nil when too long
	Ready bool       // it was read, or cannot be
	Err   error      // why it cannot
	Stop  context.CancelFunc

	// Timecode is what its channels hold; they are not among the samples. It is there once Ready.
	Timecode []ltc.Found
	// Channels is how many channels the recording has, 0 before it is known.
	Channels int

	found   []ltc.Found
	all     int
	peaks   atomic.Pointer[audio.Pyramid]
	done    atomic.Int64
	total   atomic.Int64
	scratch []audio.Peak
}

// LoadSound starts to read a recording, to play the channels that are wanted, counted from 1; none are all. A channel that holds timecode
// is never among the samples: what chases it would run with the song. told is called from another goroutine when there is more to see; finished once, with the samples
// or an error. Of a recording that is longer than longest only the peaks are kept.
func LoadSound(path string, only []int, longest time.Duration, told func(), finished func(*audio.PCM, error)) *Sound {
	ctx, stop := context.WithCancel(context.Background())
	s := &Sound{Path: path, Only: only, Stop: stop}
	go func() {
		pcm, err := s.read(ctx, longest, told)
		finished(pcm, err)
	}()
	return s
}

// NoSound is what a song without a recording has.
func NoSound() *Sound { return &Sound{Stop: func() {}, Ready: true} }

// Take keeps what was read, or why it could not be.
func (s *Sound) Take(pcm *audio.PCM, err error) {
	s.PCM, s.Err, s.Ready = pcm, err, true
	s.Timecode, s.Channels = s.found, s.all
}

// Music gives what is played of it, nil where there is nothing.
func (s *Sound) Music() audio.Music {
	if s.PCM == nil {
		return nil
	}
	return s.PCM
}

// Drawn gives what there is to be drawn of it so far, nil before there is any.
func (s *Sound) Drawn() *audio.Pyramid { return s.peaks.Load() }

// tellEvery is the time between two pictures of a waveform that is still being read.
const tellEvery = 150 * time.Millisecond

func (s *Sound) read(ctx context.Context, longest time.Duration, told func()) (kept *audio.PCM, err error) {
	defer func() {
		if fault := recover(); fault != nil { // a file may hold anything; the window goes on
			kept, err = nil, fmt.Errorf("%s cannot be read: %v", filepath.Base(s.Path), fault)
		}
	}()
	src, err := audio.Open(s.Path)
	if err != nil {
		return nil, err
	}
	defer src.Close()
	info := src.Info()
	s.total.Store(info.Frames)
	peaks, pcm := audio.NewBuilder(info.Rate, info.Channels), audio.NewPCM(src)
	codes := ltc.NewFinder(info.Rate, info.Channels)
	limit := int(longest.Seconds()) * info.Rate * info.Channels
	keep := func(frames []float32) error {
		switch {
		case pcm == nil:
		case len(pcm.Samples)+len(frames) > limit:
			pcm = nil
		default:
			return pcm.Write(frames)
		}
		return nil
	}
	last := time.Now()
	show := func(frames []float32) error {
		s.done.Add(int64(len(frames) / info.Channels))
		if now := time.Now(); now.Sub(last) > tellEvery {
			last = now
			s.peaks.Store(peaks.Pyramid())
			told()
		}
		return nil
	}
	if err := audio.Run(ctx, src, 0, keep, peaks.Write, codes.Write, show); err != nil {
		return nil, err
	}
	s.found, s.all = codes.Close(), info.Channels
	heard := ltc.Heard(info.Channels, s.Only, s.found)
	if pcm == nil || len(heard) == info.Channels {
		s.peaks.Store(peaks.Finish())
		return pcm, nil
	}
	pcm.Leave(heard)
	s.peaks.Store(audio.PyramidOf(pcm)) // a picture of what is heard
	return pcm, nil
}

// Columns fills out with the sound between two times, exactly sample by sample where columns are narrower than a peak.
func (s *Sound) Columns(from, to timeline.Time, out []render.Column) {
	p := s.peaks.Load()
	if p == nil || len(out) == 0 {
		clear(out)
		return
	}
	if cap(s.scratch) < len(out) {
		s.scratch = make([]audio.Peak, len(out))
	}
	peaks := s.scratch[:len(out)]
	first, last := from.Samples(p.Rate), to.Samples(p.Rate)
	if s.Ready && s.PCM != nil && (last-first)/int64(len(out)) < audio.PyramidBase {
		s.PCM.Peaks(first, last, peaks)
	} else {
		p.Range(first, last, peaks)
	}
	for i, k := range peaks {
		out[i] = render.Column(k)
	}
}

// Part gives how much of the recording has been read, 0 to 1; false while its length is unknown.
func (s *Sound) Part() (float64, bool) {
	total := s.total.Load()
	if total <= 0 {
		return 0, false
	}
	return min(float64(s.done.Load())/float64(total), 1), true
}
