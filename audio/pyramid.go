package audio

import "math"

// Peak sums up a stretch of sound for drawing.
type Peak struct {
	// Min and Max are the lowest and the highest sample of any channel, where
	// 32767 is full scale: sound in opposite phase does not vanish.
	Min, Max int16
	// RMS is the root of the mean square over all channels, 32768 full scale.
	RMS uint16
	// Low, Mid and High are the level of the mono mix below LowMid, between
	// and above MidHigh, in quarter decibels above -63.75 dB of full scale
	// (square wave), so that 255 is full scale and 0 is silence.
	Low, Mid, High uint8
}

// PyramidBase is the number of frames in one Peak of the finest level, and
// pyramidFactor the number of Peaks in one of the next level.
const (
	PyramidBase   = 256
	pyramidFactor = 4
)

// Where the bands of a Peak part, in Hz.
const (
	LowMid  = 200
	MidHigh = 4000
)

// Pyramid holds the peaks of a song, or of as much of it as has been read, at
// several resolutions. It does not change; a Builder gives longer ones.
type Pyramid struct {
	Rate   int
	Frames int64 // summed up so far
	// levels[k] holds one Peak for each whole PyramidBase * pyramidFactor^k
	// frames; only the last of levels[0] may stand for fewer.
	levels [][]Peak
}

// Range fills columns with the peaks of the frames from..to, each for an equal
// part of them. What lies outside the song is silence. Columns narrower than
// PyramidBase repeat one another: use PCM.Peaks there.
func (p *Pyramid) Range(from, to int64, columns []Peak) {
	n := int64(len(columns))
	width := to - from
	for i := range n {
		a := from + width*i/n
		b := from + width*(i+1)/n
		columns[i] = p.peak(floorDiv(a, PyramidBase), max(floorDiv(a, PyramidBase)+1, floorDiv(b, PyramidBase)))
	}
}

// peak sums up base peaks a..b.
func (p *Pyramid) peak(a, b int64) Peak {
	if len(p.levels) == 0 {
		return Peak{}
	}
	a, b = max(a, 0), min(b, int64(len(p.levels[0])))
	if a+1 == b {
		return p.levels[0][a]
	}
	var s peakSum
	for a < b {
		level, size := p.largest(a, b)
		frames := min(int64(PyramidBase)*size, p.Frames-a*PyramidBase)
		s.add(p.levels[level][a/size], float64(frames))
		a += size
	}
	return s.peak()
}

// largest finds the coarsest level that has a peak that begins at base peak a
// and ends before b, and how many base peaks that one holds.
func (p *Pyramid) largest(a, b int64) (level int, size int64) {
	size = 1
	for level+1 < len(p.levels) {
		next := size * pyramidFactor
		if a%next != 0 || a+next > b || a/next >= int64(len(p.levels[level+1])) {
			break
		}
		level, size = level+1, next
	}
	return level, size
}

// floorDiv is a/b rounded down.
func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// peakSum joins peaks.
type peakSum struct {
	min, max               int16
	frames                 float64
	square, low, mid, high float64 // sums of squares
}

// add joins a peak of that many frames.
func (s *peakSum) add(p Peak, frames float64) {
	if s.frames == 0 {
		s.min, s.max = p.Min, p.Max
	}
	s.min, s.max = min(s.min, p.Min), max(s.max, p.Max)
	s.frames += frames
	s.square += float64(p.RMS) * float64(p.RMS) * frames
	s.low += levelPower[p.Low] * frames
	s.mid += levelPower[p.Mid] * frames
	s.high += levelPower[p.High] * frames
}

// peak is what was joined.
func (s *peakSum) peak() Peak {
	if s.frames == 0 {
		return Peak{}
	}
	return Peak{
		Min: s.min, Max: s.max,
		RMS: uint16(math.Sqrt(s.square/s.frames) + 0.5),
		Low: toLevel(s.low / s.frames), Mid: toLevel(s.mid / s.frames), High: toLevel(s.high / s.frames),
	}
}

// levelPower is the mean square that each band level stands for.
var levelPower = func() (t [256]float64) {
	for i := 1; i < 256; i++ {
		t[i] = math.Pow(10, float64(i-255)/40)
	}
	return t
}()

// toLevel is the band level of a mean square.
func toLevel(power float64) uint8 {
	if power <= 0 {
		return 0
	}
	return uint8(max(0, min(255, math.Round(255+40*math.Log10(power)))))
}
