package audio

import (
	"fmt"
	"io"

	"emberbeat/audio/bits"
	"emberbeat/audio/vorbis"
)

// oggSource reads Vorbis out of Ogg.
type oggSource struct {
	rate, channels int
	frames         int64 // in all, -1 while unknown
	warnings       bits.Warnings
	pages          oggPages
	decoder        vorbis.Decoder
	packets        [][]byte // of the current page, not yet decoded
	gap            bool     // pages were lost since the last one with a position
	at             int64    // position of the frame decoded next
	skip           int64    // decoded frames to leave out
	silence        int64    // frames of silence to give before more is decoded
	total          int64    // frames the file says it has, -1 if it does not
	done           int64    // frames given
	block          []float32
	ready          []float32 // what of block is not yet given
	over           bool
}

// newOGG opens the Vorbis stream in r, which holds size bytes.
func newOGG(r io.ReadSeeker, size int64) (Source, error) {
	s := &oggSource{pages: oggPages{in: bits.NewWindow(r)}}
	if err := s.readHeaders(); err != nil {
		return nil, err
	}
	end, err := oggEnd(r, size, s.pages.serial)
	if err != nil {
		return nil, err
	}
	chained, err := oggChained(r)
	if err != nil {
		return nil, err
	}
	if chained {
		end = -1
	}
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return nil, err
	}
	s = &oggSource{pages: oggPages{in: bits.NewWindow(r)}}
	if err := s.readHeaders(); err != nil {
		return nil, err
	}
	s.decoder.Prepare()
	s.rate, s.channels = s.decoder.Shape()
	s.block = make([]float32, s.decoder.Longest()*s.channels)
	return s, s.start(end, 0)
}

// readHeaders finds the first Vorbis stream and reads its three headers.
func (s *oggSource) readHeaders() error {
	const enough = 64 // pages that other streams may begin with
	for !s.pages.bound {
		err := s.pages.next()
		if err == io.EOF || s.pages.count > enough {
			return bits.Wrong(bits.WantAgain, "is an Ogg file without a Vorbis stream")
		}
		if err != nil {
			return err
		}
		p := &s.pages.page
		if p.flags&oggFirst != 0 && len(p.packets) > 0 && vorbis.Begins(p.packets[0]) {
			s.pages.bound, s.pages.serial = true, p.serial
			s.packets = p.packets
		}
	}
	return s.readHeaderPackets()
}

// readHeaderPackets reads the three headers, the first of which is there.
func (s *oggSource) readHeaderPackets() error {
	for range 3 {
		for len(s.packets) == 0 {
			if err := s.pages.next(); err == io.EOF {
				return bits.Wrong(bits.WantAgain, "is an Ogg Vorbis file that ends inside its header")
			} else if err != nil {
				return err
			}
			s.packets = s.pages.page.packets
		}
		if err := s.decoder.Header(s.packets[0]); err != nil {
			return err
		}
		s.packets = s.packets[1:]
	}
	rate, channels := s.decoder.Shape()
	return checkShape(channels, rate)
}

// oggEnd is the position at the end of the last page of a stream, -1 if that
// cannot be told: the stream does not end there, and the file does.
func oggEnd(r io.ReadSeeker, size int64, serial uint32) (int64, error) {
	buf := make([]byte, 2*oggLongest)
	for from := size; from > 0; {
		from = max(0, from-oggLongest) // each page lies whole in one view
		if _, err := r.Seek(from, io.SeekStart); err != nil {
			return 0, err
		}
		n, err := io.ReadFull(r, buf)
		if err != nil && err != io.ErrUnexpectedEOF {
			return 0, err
		}
		if end, found := lastPosition(buf[:n], serial); found {
			return end, nil
		}
	}
	return -1, nil
}

// lastPosition is the position of the last page of the stream in b, -1 if more
// follows behind that page.
func lastPosition(b []byte, serial uint32) (position int64, found bool) {
	for at := len(b) - oggHead; at >= 0; at-- {
		size := oggSize(b[at:])
		if size == 0 || !oggIntact(b[at:at+size]) {
			continue
		}
		var o oggPages
		o.take(b[at : at+size])
		if o.page.serial != serial || o.page.position < 0 {
			continue
		}
		if o.page.flags&oggLast == 0 && at+size < len(b) {
			return -1, true
		}
		return o.page.position, true
	}
	return -1, false
}

// follow goes on with the stream that begins where one has ended, or with the
// next one that can be played behind it. What cannot is told with its length.
func (s *oggSource) follow(done int64) {
	for s.pages.chained {
		s.pages = oggPages{in: s.pages.in, known: s.pages.known, strange: s.pages.strange}
		s.decoder, s.packets, s.gap = vorbis.Decoder{}, nil, false
		if err := s.readHeaders(); err != nil {
			s.skipStream(done, "that is damaged, or no Vorbis")
			continue
		}
		if rate, channels := s.decoder.Shape(); rate != s.rate || channels != s.channels {
			s.skipStream(done, fmt.Sprintf("of %d Hz and %d channels, not %d Hz and %d", rate, channels, s.rate, s.channels))
			continue
		}
		s.decoder.Prepare()
		if n := s.decoder.Longest() * s.channels; n > len(s.block) {
			s.block = make([]float32, n)
		}
		if s.start(-1, done) == nil {
			return
		}
		s.warnings.Add("The file goes on after %s with a stream without any sound.", bits.Clock(done, s.rate))
	}
	s.over = true
}

// skipStream passes over a stream that is not played.
func (s *oggSource) skipStream(done int64, what string) {
	rate, _ := s.decoder.Shape()
	if rate <= 0 {
		rate = s.rate
	}
	frames := int64(0)
	s.pages.bound, s.pages.serial = true, s.pages.page.serial
	for s.pages.next() == nil {
		frames = max(frames, s.pages.page.position)
	}
	s.warnings.Add("The file goes on after %s with a stream %s, which is not read: %.2f s of sound are lost.",
		bits.Clock(done, s.rate), what, float64(frames)/float64(rate))
}

// start reads up to the first page that ends a packet of sound, and settles
// where the sound begins and ends.
func (s *oggSource) start(end, done int64) error {
	s.total, s.frames, s.at, s.skip = -1, -1, 0, 0
	damaged := false
	for len(s.packets) == 0 {
		if err := s.pages.next(); err == io.EOF {
			return bits.Wrong(bits.WantAgain, "is an Ogg Vorbis file without any sound")
		} else if err != nil {
			return err
		}
		s.packets = s.pages.page.packets
		damaged = damaged || s.pages.passed
	}
	p := &s.pages.page
	frames := s.decoder.Frames(s.packets)
	if damaged && p.position >= 0 { // the stream begins before what is left of it
		if end >= 0 {
			s.total, s.frames = end, end
		}
		s.bridge(p.position-frames, done)
		return nil
	}
	if p.flags&oggLast == 0 && p.position >= 0 {
		s.at = max(0, p.position-frames)
		s.skip = max(0, frames-p.position) // an encoder may begin before 0
	}
	if end >= s.at {
		s.total, s.frames = end-s.at, end-s.at
	}
	return nil
}

func (s *oggSource) Info() Info {
	return Info{Format: OGG, Rate: s.rate, Channels: s.channels, Frames: s.frames, Warnings: s.warnings}
}

func (s *oggSource) Close() error { return nil }

func (s *oggSource) Read(dst []float32) (int, error) {
	channels := s.channels
	want, n := int64(len(dst)/channels), int64(0)
	if s.total >= 0 {
		want = min(want, s.total-s.done) // the last block may reach beyond
	}
	for n < want && !s.over {
		rest := dst[n*int64(channels) : want*int64(channels)]
		switch {
		case s.silence > 0:
			n += s.giveSilence(rest)
		case len(s.ready) > 0:
			got := copy(rest, s.ready)
			s.ready = s.ready[got:]
			n += int64(got / channels)
		default:
			if err := s.decode(s.done + n); err != nil {
				return int(n), err
			}
		}
	}
	s.done += n
	if n == 0 && len(dst) >= channels {
		return 0, s.end()
	}
	return int(n), nil
}

// giveSilence gives some of the silence that stands for lost pages.
func (s *oggSource) giveSilence(dst []float32) int64 {
	n := min(s.silence, int64(len(dst)/s.channels))
	clear(dst[:n*int64(s.channels)])
	s.silence -= n
	return n
}

// decode decodes the next packet, where done frames have been given.
func (s *oggSource) decode(done int64) error {
	if len(s.packets) == 0 {
		return s.nextPage(done)
	}
	n := s.decoder.Decode(s.packets[0], s.block)
	s.packets = s.packets[1:]
	drop := min(s.skip, int64(n))
	s.skip -= drop
	s.at += int64(n) - drop
	s.ready = s.block[drop*int64(s.channels) : n*s.channels]
	if p := &s.pages.page; s.total < 0 && p.flags&oggLast != 0 && p.position >= 0 && s.at > p.position {
		over := min(s.at-p.position, int64(len(s.ready)/s.channels)) // the last block may reach beyond
		s.at -= over
		s.ready = s.ready[:int64(len(s.ready))-over*int64(s.channels)]
	}
	return nil
}

// nextPage goes on to the next page. Where pages are lost, as much silence takes
// their place.
func (s *oggSource) nextPage(done int64) error {
	if s.pages.page.flags&oggLast != 0 {
		return s.behind(done)
	}
	err := s.pages.next()
	s.gap = s.gap || s.pages.lost
	if err == io.EOF {
		if s.gap || s.pages.cut {
			s.warnings.Add("The file is cut short or damaged after %s.", bits.Clock(done, s.rate))
		}
		s.follow(done)
		return nil
	}
	if err != nil {
		return err
	}
	s.packets = s.pages.page.packets
	if s.pages.lost {
		s.decoder.Forget()
	}
	if position := s.pages.page.position; s.gap && position >= 0 {
		s.gap = false
		s.bridge(position-s.decoder.Frames(s.packets)-s.at, done)
	}
	return nil
}

// behind looks for another stream behind the last page of one.
func (s *oggSource) behind(done int64) error {
	for {
		if err := s.pages.next(); err == io.EOF {
			s.follow(done)
			return nil
		} else if err != nil {
			return err
		}
	}
}

// bridge puts silence in the place of lost frames.
func (s *oggSource) bridge(lost, done int64) {
	lost = max(0, lost)
	seconds := float64(lost) / float64(s.rate)
	if fits := s.total >= 0 && done+lost <= s.total; !fits && lost > bits.LongestGap*int64(s.rate) {
		s.at += lost
		s.warnings.Add("The file is damaged: %.2f s from %s on are lost, and what follows comes as much too early.", seconds, bits.Clock(done, s.rate))
		return
	}
	s.silence, s.at = lost, s.at+lost
	s.warnings.Add("The file is damaged: %.2f s (%d frames) from %s on are lost and silent.", seconds, lost, bits.Clock(done, s.rate))
}

// end settles the length at the end of the sound.
func (s *oggSource) end() error {
	if s.done == 0 {
		return bits.Wrong(bits.WantAgain, "is an Ogg Vorbis file without any sound that can be read")
	}
	if s.frames > s.done && len(s.warnings) == 0 {
		s.warnings.Add("The file is cut short: %d frames are announced, %d are there.", s.frames, s.done)
	}
	s.frames = s.done
	for _, frames := range s.pages.strange {
		s.warnings.Add("A stream of the file has lost its beginning and is not read: about %.2f s of sound are lost.", float64(frames)/float64(s.rate))
	}
	s.pages.strange = nil // it is told once
	return io.EOF
}
