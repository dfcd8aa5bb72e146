package ltc_test

import (
	"bytes"
	"testing"

	"emberbeat/audio/ltc"
	"emberbeat/timeline"
)

// Whatever a sound holds, reading it ends, finds no frame shorter than it can
// be, and gives labels that exist.
func FuzzRead(f *testing.F) {
	for _, rate := range timeline.Rates() {
		var b bytes.Buffer
		s := stripe(rate, 22050, 1798, 4)
		if _, err := s.WriteTo(&b); err != nil {
			f.Fatal(err)
		}
		f.Add(b.Bytes())
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		samples := floats(data[:len(data)/2*2], 16)
		var last float64
		d := ltc.NewDecoder(22050, func(fr ltc.Frame) {
			if fr.Label.H > 23 || fr.Label.M > 59 || fr.Label.S > 59 || fr.Label.F > 29 {
				t.Fatalf("label %s", fr.Label)
			}
			if end := max(fr.Start, fr.End); end < last+80 || end > float64(len(samples)) {
				t.Fatalf("frame ends at %v, the one before at %v, of %d samples", end, last, len(samples))
			} else {
				last = end
			}
		})
		_ = d.Write(samples)
		_ = d.Close()
		read(22050, samples)
	})
}
