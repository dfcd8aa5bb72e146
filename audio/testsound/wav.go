package testsound

import (
	"bufio"
	"errors"
	"os"

	"emberbeat/audio"
)

// WriteWAV16 writes a 16 bit WAV file: interleaved samples, rate in frames a
// second. A file that is there already is overwritten.
func WriteWAV16(path string, rate, channels int, samples []int16) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	w := bufio.NewWriter(f)
	return errors.Join(audio.EncodeWAV16(w, rate, channels, samples), w.Flush(), f.Close())
}
