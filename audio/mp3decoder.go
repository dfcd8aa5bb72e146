package audio

import "math"

// mp3Decoder turns frames of MPEG audio layer III into samples (ISO/IEC
// 11172-3 §2.4.3.4, 13818-3 §2.4.3).
//
// github.com/hajimehoshi/go-mp3 0.3.4 was to do this. It loses a byte in
// padded frames at 22.05 kHz with 24, 32, 80, 96 or 160 kbit/s, which turns the
// sound into noise (signal to noise -9 dB; measured against ffmpeg), allocates
// for each bit it reads, and clips to 16 bit.
type mp3Decoder struct {
	channels  int // of the stream
	reservoir mp3Reservoir
	side      mp3Side
	scales    [2]mp3Scale
	lines     [2][mp3Lines]float32
	used      [2]int // lines that may be other than zero, from the lowest
	banks     [2]mp3Bank
}

// newMP3Decoder makes a decoder for a stream whose first frame has header h.
func newMP3Decoder(h mp3Header) *mp3Decoder {
	return &mp3Decoder{channels: h.channels()}
}

// decode decodes one frame into out, which holds its samples interleaved. What
// cannot be decoded, because bytes before it are missing, is silence that fades
// in and out with the filter bank.
func (d *mp3Decoder) decode(h mp3Header, frame []byte, out []float32) {
	var sideBytes [40]byte
	copy(sideBytes[:], frame[h.dataAt()-h.sideSize():h.dataAt()])
	side := bitReader{buf: sideBytes[:]}
	d.side.read(h, &side)
	main, whole := d.reservoir.add(frame[h.dataAt():], d.side.mainBegin)
	for g := range h.granules() {
		if whole {
			d.readGranule(h, g, &main)
			d.stereo(h, &d.side.granules[g])
		} else {
			d.silence()
		}
		d.synthesize(h, g, out[g*mp3Lines*d.channels:])
	}
}

// silence empties a granule.
func (d *mp3Decoder) silence() {
	d.lines = [2][mp3Lines]float32{}
	d.used = [2]int{}
	d.side.granules = [2][2]mp3Granule{}
}

// readGranule reads scale factors and lines of all channels in granule g.
func (d *mp3Decoder) readGranule(h mp3Header, g int, main *bitReader) {
	for ch := range h.channels() {
		gr, s := &d.side.granules[g][ch], &d.scales[ch]
		end := min(main.pos+gr.length, main.end)
		if h.lowRate() {
			s.readLow(gr, ch == 1 && h.intensity(), main)
		} else {
			s.read(gr, &d.side.share[ch], g == 1, main)
		}
		d.used[ch] = readLines(gr, main, end, &d.lines[ch])
		main.pos = end
		scaleLines(h, gr, s, &d.lines[ch], d.used[ch])
	}
}

// synthesize makes samples of the lines of granule g.
func (d *mp3Decoder) synthesize(h mp3Header, g int, out []float32) {
	for ch := range min(h.channels(), d.channels) {
		gr := &d.side.granules[g][ch]
		d.banks[ch].run(h, gr, &d.lines[ch], d.used[ch], out[ch:], d.channels)
	}
	if h.channels() < d.channels { // a mono frame among stereo ones
		for i := 0; i < mp3Lines*d.channels; i += d.channels {
			out[i+1] = out[i]
		}
	}
}

// mp3Reservoir keeps the main data of past frames, in which that of the next
// may begin.
type mp3Reservoir struct {
	buf  [mp3MaxFrame + mp3Past + 8]byte
	have int // bytes in buf
}

// mp3Past is the number of bytes that a frame can reach back.
const mp3Past = 511

// add appends data and gives a reader that begins the given bytes before it.
// ok is false where those are missing.
func (m *mp3Reservoir) add(data []byte, begin int) (r bitReader, ok bool) {
	past := min(m.have, mp3Past)
	copy(m.buf[:], m.buf[m.have-past:m.have])
	m.have = past + copy(m.buf[past:len(m.buf)-8], data)
	clear(m.buf[m.have : m.have+8])
	if begin > past {
		return bitReader{}, false
	}
	return bitReader{buf: m.buf[:m.have+8], pos: (past - begin) * 8, end: m.have * 8}, true
}

// mp3Power is v^(4/3) for all values a line can have.
var mp3Power = func() (t [8207]float32) {
	for i := range t {
		t[i] = float32(math.Cbrt(float64(i)) * float64(i))
	}
	return t
}()

// mp3Gain is 2^(e/4), and quarter(e) finds it.
var mp3Gain = func() (t [512]float32) {
	for i := range t {
		t[i] = float32(math.Exp2(float64(i-mp3GainZero) / 4))
	}
	return t
}()

const mp3GainZero = 400

func quarter(e int) float32 { return mp3Gain[max(0, min(len(mp3Gain)-1, e+mp3GainZero))] }
