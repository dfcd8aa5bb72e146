package mp3

import (
	"math"

	"emberbeat/audio/bits"
)

// frameDecoder turns frames of MPEG audio layer III into samples (ISO/IEC
// 11172-3 §2.4.3.4, 13818-3 §2.4.3).
//
// github.com/hajimehoshi/go-mp3 0.3.4 was to do this. It loses a byte in
// padded frames at 22.05 kHz with 24, 32, 80, 96 or 160 kbit/s, which turns the
// sound into noise (signal to noise -9 dB; measured against ffmpeg), allocates
// for each bit it reads, and clips to 16 bit.
type frameDecoder struct {
	channels  int // of the stream
	reservoir reservoir
	side      sideInfo
	scales    [2]scaleFactors
	lines     [2][lineCount]float32
	used      [2]int // lines that may be other than zero, from the lowest
	banks     [2]bank
}

// newFrameDecoder makes a decoder for a stream whose first frame has header h.
func newFrameDecoder(h header) *frameDecoder {
	return &frameDecoder{channels: h.channels()}
}

// decode decodes one frame into out, which holds its samples interleaved. What
// cannot be decoded, because bytes before it are missing, is silence that fades
// in and out with the filter bank.
func (d *frameDecoder) decode(h header, frame []byte, out []float32) {
	var sideBytes [40]byte
	copy(sideBytes[:], frame[h.dataAt()-h.sideSize():h.dataAt()])
	side := bits.Reader{Buf: sideBytes[:]}
	d.side.read(h, &side)
	main, whole := d.reservoir.add(frame[h.dataAt():], d.side.mainBegin)
	for g := range h.granules() {
		if whole {
			d.readGranule(h, g, &main)
			d.stereo(h, &d.side.granules[g])
		} else {
			d.silence()
		}
		d.synthesize(h, g, out[g*lineCount*d.channels:])
	}
}

// silence empties a granule.
func (d *frameDecoder) silence() {
	d.lines = [2][lineCount]float32{}
	d.used = [2]int{}
	d.side.granules = [2][2]granule{}
}

// readGranule reads scale factors and lines of all channels in granule g.
func (d *frameDecoder) readGranule(h header, g int, main *bits.Reader) {
	for ch := range h.channels() {
		gr, s := &d.side.granules[g][ch], &d.scales[ch]
		end := min(main.Pos+gr.length, main.End)
		if h.lowRate() {
			s.readLow(gr, ch == 1 && h.intensity(), main)
		} else {
			s.read(gr, &d.side.share[ch], g == 1, main)
		}
		d.used[ch] = readLines(gr, main, end, &d.lines[ch])
		main.Pos = end
		scaleLines(h, gr, s, &d.lines[ch], d.used[ch])
	}
}

// synthesize makes samples of the lines of granule g.
func (d *frameDecoder) synthesize(h header, g int, out []float32) {
	for ch := range min(h.channels(), d.channels) {
		gr := &d.side.granules[g][ch]
		d.banks[ch].run(h, gr, &d.lines[ch], d.used[ch], out[ch:], d.channels)
	}
	if h.channels() < d.channels { // a mono frame among stereo ones
		for i := 0; i < lineCount*d.channels; i += d.channels {
			out[i+1] = out[i]
		}
	}
}

// reservoir keeps the main data of past frames, in which that of the next
// may begin.
type reservoir struct {
	buf  [maxFrame + longestPast + 8]byte
	have int // bytes in buf
}

// longestPast is the number of bytes that a frame can reach back.
const longestPast = 511

// add appends data and gives a reader that begins the given bytes before it.
// ok is false where those are missing.
func (m *reservoir) add(data []byte, begin int) (r bits.Reader, ok bool) {
	past := min(m.have, longestPast)
	copy(m.buf[:], m.buf[m.have-past:m.have])
	m.have = past + copy(m.buf[past:len(m.buf)-8], data)
	clear(m.buf[m.have : m.have+8])
	if begin > past {
		return bits.Reader{}, false
	}
	return bits.Reader{Buf: m.buf[:m.have+8], Pos: (past - begin) * 8, End: m.have * 8}, true
}

// power is v^(4/3) for all values a line can have.
var power = func() (t [8207]float32) {
	for i := range t {
		t[i] = float32(math.Cbrt(float64(i)) * float64(i))
	}
	return t
}()

// gains is 2^(e/4), and quarter(e) finds it.
var gains = func() (t [512]float32) {
	for i := range t {
		t[i] = float32(math.Exp2(float64(i-gainZero) / 4))
	}
	return t
}()

const gainZero = 400

func quarter(e int) float32 { return gains[max(0, min(len(gains)-1, e+gainZero))] }
