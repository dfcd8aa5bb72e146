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

// MaxKept is the longest recording that is kept in memory to be played: an hour of stereo at 48 kHz takes 690 MB. A longer one is played from
// a file, which takes as much on the disk while its show is open.
const MaxKept = time.Hour

// Folder is where recordings lie that are too long for memory, "" where there is no such place.
func Folder() string {
	dir := audio.OpenCache("").Dir()
	if dir == "" {
		return ""
	}
	return filepath.Join(dir, "spool")
}

// Sound is a song's recording: its samples to play, its peaks to draw. It is filled by one goroutine and read by the window; what the
// window may read while it is being filled is atomic.
type Sound struct {
	Name  string       // as the song names it
	Path  string       // "" for a song without a recording
	Only  []int        // channels that are wanted, from 1; none = all
	PCM   *audio.PCM   // once ready; nil when too long
	Spool *audio.Spool // in its place, of one that is too long; nil where there was no room for it
	Ready bool         // it was read, or cannot be
	Err   error        // why it cannot
	Stop  context.CancelFunc

	// Timecode is what its channels hold; they are not among the samples. It is there once Ready.
	Timecode []ltc.Found
	// Channels is how many channels the recording has, 0 before it is known.
	Channels int

	folder  string // for what is too long; "" = that is not played
	noRoom  error  // why it is not
	spooled *audio.Spool
	stopped bool
	found   []ltc.Found
	all     int
	peaks   atomic.Pointer[audio.Pyramid]
	done    atomic.Int64
	total   atomic.Int64
	scratch []audio.Peak
}

// LoadSound starts to read a recording, to play the channels that are wanted, counted from 1; none are all. A channel that holds timecode
// is never among the samples: what chases it would run with the song. told is called from another goroutine when there is more to see; finished once, with the samples
// or an error. A recording that is longer than longest is kept in a file in a folder; without one, "", only its peaks are kept.
func LoadSound(path string, only []int, longest time.Duration, folder string, told func(), finished func(*audio.PCM, error)) *Sound {
	ctx, stop := context.WithCancel(context.Background())
	s := &Sound{Path: path, Only: only, folder: folder}
	s.Stop = func() {
		stop()
		s.stopped = true
		if s.Spool != nil {
			_ = s.Spool.Close() // it holds nothing that anybody would miss
			s.Spool = nil
		}
	}
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
	s.PCM, s.Spool, s.Err, s.Ready = pcm, s.spooled, err, true
	s.Timecode, s.Channels = s.found, s.all
	if s.stopped {
		s.Stop() // it came too late
	}
}

// Music gives what is played of it, nil where there is nothing.
func (s *Sound) Music() audio.Music {
	switch {
	case s.PCM != nil:
		return s.PCM
	case s.Spool != nil:
		return s.Spool
	}
	return nil
}

// Unplayed says why a recording that was read is not played, or cannot be read back, "" where it is.
func (s *Sound) Unplayed() string {
	switch {
	case s.Spool != nil && s.Spool.Err() != nil:
		return "the recording could not be read back: " + s.Spool.Err().Error()
	case s.Music() != nil || s.Path == "" || !s.Ready || s.Err != nil:
		return ""
	case s.noRoom != nil:
		return "the recording is longer than an hour, and there is no room to play it from: " + s.noRoom.Error()
	}
	return "the recording is longer than an hour"
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
	var spool *audio.SpoolWriter
	peaks, pcm := audio.NewBuilder(info.Rate, info.Channels), audio.NewPCM(src)
	codes := ltc.NewFinder(info.Rate, info.Channels)
	limit := int(longest.Seconds()) * info.Rate * info.Channels
	if info.Frames*int64(info.Channels) > int64(limit) { // known beforehand: nothing of it need be in memory
		spool, pcm = s.begin(info, nil), nil
	}
	keep := func(frames []float32) error {
		switch {
		case spool != nil:
			return s.spoolOr(&spool, spool.Write(frames))
		case pcm == nil:
		case len(pcm.Samples)+len(frames) > limit:
			spool = s.begin(info, pcm.Samples)
			if pcm = nil; spool != nil {
				return s.spoolOr(&spool, spool.Write(frames))
			}
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
	defer func() {
		if spool != nil {
			_ = spool.Close() // what was begun is not wanted any more
		}
	}()
	if err := audio.Run(ctx, src, 0, keep, peaks.Write, codes.Write, show); err != nil {
		return nil, err
	}
	s.found, s.all = codes.Close(), info.Channels
	heard := ltc.Heard(info.Channels, s.Only, s.found)
	if spool != nil {
		s.spooled, spool = spool.Finish(heard), nil
	}
	if pcm == nil || len(heard) == info.Channels {
		s.peaks.Store(peaks.Finish())
		return pcm, nil
	}
	pcm.Leave(heard)
	s.peaks.Store(audio.PyramidOf(pcm)) // a picture of what is heard
	return pcm, nil
}

// begin begins to keep a recording in a file, with what is in memory already; nil where that cannot be.
func (s *Sound) begin(info audio.Info, samples []int16) *audio.SpoolWriter {
	if s.folder == "" {
		return nil
	}
	w, err := audio.NewSpool(s.folder, info.Rate, info.Channels)
	if err != nil {
		s.noRoom = err
		return nil
	}
	_ = s.spoolOr(&w, w.Append(samples))
	return w
}

// spoolOr gives a file up in which there is no more room: the recording is drawn all the same.
func (s *Sound) spoolOr(w **audio.SpoolWriter, err error) error {
	if err != nil {
		s.noRoom = err
		_ = (*w).Close()
		*w = nil
	}
	return nil
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
