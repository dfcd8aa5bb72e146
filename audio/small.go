package audio

import (
	"encoding/binary"
	"math"
)

// SmallRate is the rate of small sound, in samples a second: a quarter of that of a
// disc, and still a song that is known by ear.
const SmallRate = 11025

// SmallWAV gives a song as a WAV file of one channel, 8 bits and SmallRate, for a page
// that is passed on: 11 kB a second. A frame of it sounds at the time that the song's
// sounds at. What 8 bits round away goes into the next sample, above what is heard
// best; nothing of it is random.
func SmallWAV(p *PCM) []byte {
	t := newTrack(p)
	k := newKernel(newRatio(int64(t.rate), SmallRate))
	n := int(max(0, cursor{}.until(t.frames, k.ratio)))
	le := binary.LittleEndian
	out := append(make([]byte, 0, 45+n), "RIFF"...)
	out = le.AppendUint32(out, uint32(36+n+n%2))
	out = le.AppendUint32(append(out, "WAVEfmt "...), 16)
	out = le.AppendUint16(le.AppendUint16(out, wavPCM), 1)
	out = le.AppendUint32(le.AppendUint32(out, SmallRate), SmallRate)
	out = le.AppendUint16(le.AppendUint16(out, 1), 8)
	out = le.AppendUint32(append(out, "data"...), uint32(n))
	left := 0.0
	for i := range n {
		l, r := k.at(t, cursor{}.advance(int64(i), k.ratio))
		want := (l+r)/2*127 + left
		whole := min(max(math.Round(want), -128), 127)
		left = min(max(want-whole, -1), 1)
		out = append(out, byte(int(whole)+128))
	}
	if n%2 == 1 {
		out = append(out, 0) // chunks are of even length
	}
	return out
}
