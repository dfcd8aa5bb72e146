package match

import (
	"math"

	"emberbeat/audio/fourier"
)

// The spectrum that landmarks are read from: short frames, and bands a quarter
// tone wide where the ear tells notes apart.
const (
	frameSize   = 2048 // samples at matchRate, 186 ms
	frameHop    = 256  // 23 ms
	bandsOctave = 24
	lowestBand  = 200.0 // Hz
	bandCount   = 111   // up to 4.8 kHz
)

// frameSeconds is the time from frame to frame; frame i is about i·frameSeconds.
const frameSeconds = float64(frameHop) / matchRate

// bander makes a band spectrum of sound at matchRate that comes in blocks.
type bander struct {
	fft         *fourier.Transform
	win         []float32
	buf         []float32
	block, spec []float32
	edges       [bandCount][2]int
	out         []uint8 // bandCount values a frame, in steps of half a decibel
}

func newBander() *bander {
	b := &bander{fft: fourier.New(frameSize), win: make([]float32, frameSize), block: make([]float32, frameSize), spec: make([]float32, frameSize/2+1)}
	for i := range b.win {
		b.win[i] = float32(0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/frameSize))
	}
	for k := range b.edges {
		bin := func(half float64) float64 {
			return lowestBand * math.Exp2((float64(k)+half)/bandsOctave) * frameSize / matchRate
		}
		from := int(math.Ceil(bin(-0.5)))
		b.edges[k] = [2]int{from, max(from+1, int(math.Ceil(bin(0.5))))}
	}
	b.buf = make([]float32, frameSize/2) // the first frame is about the first sample
	return b
}

// feed takes the next samples.
func (b *bander) feed(x []float32) {
	b.buf = append(b.buf, x...)
	at := 0
	for ; at+frameSize <= len(b.buf); at += frameHop {
		block, win := (*[frameSize]float32)(b.block), (*[frameSize]float32)(b.win)
		for i, v := range (*[frameSize]float32)(b.buf[at:]) {
			block[i] = v * win[i]
		}
		b.fft.Power(b.block, b.spec)
		for _, e := range b.edges {
			power := float32(0)
			for _, v := range b.spec[e[0]:e[1]] {
				if v > power {
					power = v
				}
			}
			b.out = append(b.out, level(power))
		}
	}
	b.buf = b.buf[:copy(b.buf, b.buf[at:])]
}

// level is a power in steps of half a decibel above -107 dB of a full-scale sine: the
// step is looked up by the highest bits of the power, between two of which there is one
// step at most.
func level(power float32) uint8 {
	bits := math.Float32bits(power)
	v := levels[min(bits, infinite)>>levelBits]
	if v < 255 && power >= reached[v+1] {
		v++
	}
	return v
}

const (
	infinite  = 0x7f800000
	levelBits = 19 // of the mantissa that the table leaves out: runs are up to a sixteenth long, .27 dB
)

// reached is the least power of each step, and levels that of the least power of
// each run of the highest bits.
var reached, levels = func() (least [256]float32, of [infinite>>levelBits + 1]uint8) {
	const full = frameSize * frameSize / 16 // of a sine under a Hann window
	for v := 1; v < len(least); v++ {
		least[v] = float32((math.Pow(10, ((float64(v)-0.5)/2-107)/10) - 1e-12) * full)
	}
	at := 0
	for i := range of {
		for at < 255 && math.Float32frombits(uint32(i)<<levelBits) >= least[at+1] {
			at++
		}
		of[i] = uint8(at)
	}
	return least, of
}()

// flush makes the frames around the end.
func (b *bander) flush() { b.feed(make([]float32, frameSize/2)) }
