package audio

import (
	"encoding/binary"
	"errors"
	"io"
	"os"
	"sync"
	"sync/atomic"
)

// Spool is a song that is too long for memory: its samples lie in a file of its own, and what is near the place that is played is held. It is
// Music for one Transport. All but Span may be called from any goroutine; Close once it is played no more.
type Spool struct {
	rate, channels int // as it is played
	frames         int64
	stored         int   // channels in the file
	heard          []int // of those, counted from 1
	file           *spoolFile

	pages  []atomic.Pointer[[]int16]
	want   atomic.Int64 // page that is played
	last   atomic.Int64 // the one before: what fades out after a jump goes on there
	held   atomic.Int64 // page that is held besides, with the next
	wake   chan struct{}
	end    chan struct{}
	ended  sync.WaitGroup
	lock   sync.Mutex // of loading
	failed atomic.Pointer[error]
}

// Sizes of what is held. A page has the frames of the next one that a Transport can ask for across its end.
const (
	spoolPage  = 1 << 16 // frames
	spoolAhead = 4       // pages
)

// spoolFile is a file that is gone when it is closed.
type spoolFile struct {
	*os.File
	left bool // it could not be taken out of the folder while it is open
}

// Close closes it; nothing of it stays.
func (f *spoolFile) Close() error {
	err := f.File.Close()
	if f.left {
		err = errors.Join(err, os.Remove(f.Name()))
	}
	return err
}

// SpoolWriter takes the samples of a Spool.
type SpoolWriter struct {
	rate, channels int
	file           *spoolFile
	frames         int64
	block          []byte
}

// NewSpool begins a spool in a folder, for frames of so many channels. The error is of the file system.
func NewSpool(dir string, rate, channels int) (*SpoolWriter, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, err
	}
	f, err := os.CreateTemp(dir, "spool-*")
	if err != nil {
		return nil, err
	}
	left := os.Remove(f.Name()) != nil // where an open file has no name any more, nothing is left by a crash
	return &SpoolWriter{rate: rate, channels: channels, file: &spoolFile{f, left}}, nil
}

// Write appends frames; it is a sink for Run.
func (w *SpoolWriter) Write(frames []float32) error {
	w.block = w.block[:0]
	for _, v := range frames {
		w.block = binary.LittleEndian.AppendUint16(w.block, uint16(ToPCM(v)))
	}
	return w.flush()
}

// Append appends what is in memory.
func (w *SpoolWriter) Append(samples []int16) error {
	for len(samples) > 0 {
		n := min(len(samples), spoolPage/w.channels*w.channels)
		w.block = w.block[:0]
		for _, v := range samples[:n] {
			w.block = binary.LittleEndian.AppendUint16(w.block, uint16(v))
		}
		if err := w.flush(); err != nil {
			return err
		}
		samples = samples[n:]
	}
	return nil
}

func (w *SpoolWriter) flush() error {
	_, err := w.file.Write(w.block)
	w.frames += int64(len(w.block) / 2 / w.channels)
	return err
}

// Close gives the spool up.
func (w *SpoolWriter) Close() error { return w.file.Close() }

// Finish gives the song of the channels that are heard, counted from 1 and in order, as PCM.Leave leaves them. The writer is done.
func (w *SpoolWriter) Finish(heard []int) *Spool {
	s := &Spool{rate: w.rate, frames: w.frames, stored: w.channels, heard: heard, file: w.file, wake: make(chan struct{}, 1), end: make(chan struct{})}
	s.channels = s.mixed(make([]int16, w.channels)).Channels
	s.pages = make([]atomic.Pointer[[]int16], (w.frames+spoolPage-1)/spoolPage)
	s.want.Store(-1)
	s.last.Store(-1)
	s.held.Store(-1)
	s.ended.Go(s.keep)
	return s
}

// mixed gives what is heard of stored samples, in one or two channels.
func (s *Spool) mixed(samples []int16) *PCM {
	p := &PCM{Rate: s.rate, Channels: s.stored, Samples: samples}
	p.Leave(s.heard)
	return p.TwoChannels()
}

// Shape gives rate and channels.
func (s *Spool) Shape() (rate, channels int) { return s.rate, s.channels }

// Frames is its length.
func (s *Spool) Frames() int64 { return s.frames }

// Span gives samples that are held, and has those held that come next.
func (s *Spool) Span(first, n int64) []int16 {
	i := first / spoolPage
	if w := s.want.Load(); i != w && i != w-1 {
		s.turn(i)
		select {
		case s.wake <- struct{}{}:
		default:
		}
	}
	p := s.pages[i].Load()
	if p == nil {
		return nil
	}
	from, c := (first-i*spoolPage)*int64(s.channels), int64(s.channels)
	return (*p)[from : from+n*c]
}

// turn makes another page the one that is played.
func (s *Spool) turn(i int64) {
	if w := s.want.Swap(i); w != i {
		s.last.Store(w)
	}
}

// Fetch has what comes at a frame held before it is played; it waits for the file. Outside the song it does nothing.
func (s *Spool) Fetch(frame int64) {
	if i := frame / spoolPage; frame >= 0 && frame < s.frames {
		s.turn(i)
		s.load(i)
		s.load(i + 1)
	}
}

// Hold has what comes at a frame held for as long as nothing else is: where a loop goes back to. A negative one holds nothing.
func (s *Spool) Hold(frame int64) {
	s.held.Store(-1)
	if i := frame / spoolPage; frame >= 0 && frame < s.frames {
		s.held.Store(i)
		s.load(i)
		s.load(i + 1)
	}
}

// Err says why something of it could not be read back, nil while all can: that is silent.
func (s *Spool) Err() error {
	if e := s.failed.Load(); e != nil {
		return *e
	}
	return nil
}

// Close forgets the song and its file.
func (s *Spool) Close() error {
	close(s.end)
	s.ended.Wait()
	s.lock.Lock()
	defer s.lock.Unlock()
	for i := range s.pages {
		s.pages[i].Store(nil)
	}
	return s.file.Close()
}

// keep holds what is near the place that is played, and lets go of the rest.
func (s *Spool) keep() {
	for {
		select {
		case <-s.end:
			return
		case <-s.wake:
		}
		w := s.want.Load()
		for i := w; i <= w+spoolAhead && s.want.Load() == w; i++ {
			s.load(i)
		}
		s.load(w - 1)
		s.drop()
	}
}

// near reports whether a page is one of those that are held.
func (s *Spool) near(i int64) bool {
	w, l, h := s.want.Load(), s.last.Load(), s.held.Load()
	return i >= w-1 && i <= w+spoolAhead || l >= 0 && i >= l-1 && i <= l+1 || h >= 0 && (i == h || i == h+1)
}

func (s *Spool) drop() {
	s.lock.Lock()
	defer s.lock.Unlock()
	for i := range s.pages {
		if !s.near(int64(i)) && s.pages[i].Load() != nil {
			s.pages[i].Store(nil)
		}
	}
}

// load reads a page that is not held yet.
func (s *Spool) load(i int64) {
	s.lock.Lock()
	defer s.lock.Unlock()
	if i < 0 || i >= int64(len(s.pages)) || s.pages[i].Load() != nil {
		return
	}
	first := i * spoolPage
	n := min(spoolPage+WidestSpan, s.frames-first)
	b := make([]byte, n*int64(2*s.stored))
	if got, err := s.file.ReadAt(b, first*int64(2*s.stored)); got < len(b) {
		if err == nil || err == io.EOF {
			err = io.ErrUnexpectedEOF
		}
		s.failed.Store(&err)
		return
	}
	samples := make([]int16, len(b)/2)
	for k := range samples {
		samples[k] = int16(binary.LittleEndian.Uint16(b[2*k:]))
	}
	mixed := s.mixed(samples).Samples
	s.pages[i].Store(&mixed)
}
