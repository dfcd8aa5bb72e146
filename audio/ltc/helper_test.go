package ltc_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/ltc"
	"emberbeat/timeline"
	"emberbeat/timeline/testtool"
)

// label reads a timecode that must exist at the rate.
func label(t testing.TB, rate timeline.Rate, text string) int64 {
	t.Helper()
	tc, err := timeline.ParseTimecode(text)
	require.NoError(t, err)
	f, err := rate.Frame(tc)
	require.NoError(t, err)
	return f
}

// sound is a stripe of one run as samples.
func sound(t testing.TB, s ltc.Stripe) []float32 {
	t.Helper()
	var b bytes.Buffer
	n, err := s.WriteTo(&b)
	require.NoError(t, err)
	require.EqualValues(t, b.Len(), n)
	require.EqualValues(t, s.Samples()*int64(s.Bits/8), n)
	return floats(b.Bytes(), s.Bits)
}

func floats(b []byte, bits int) []float32 {
	var list []float32
	switch bits {
	case 16:
		for i := 0; i < len(b); i += 2 {
			list = append(list, float32(int16(binary.LittleEndian.Uint16(b[i:])))/(1<<15))
		}
	case 24:
		for i := 0; i < len(b); i += 3 {
			list = append(list, float32(int32(uint32(b[i])<<8|uint32(b[i+1])<<16|uint32(b[i+2])<<24)>>8)/(1<<23))
		}
	}
	return list
}

func stripe(rate timeline.Rate, sampleRate int, first, frames int64) ltc.Stripe {
	return ltc.Stripe{Rate: rate, SampleRate: sampleRate, Bits: 16, Level: -12, Runs: []ltc.Run{{First: first, Frames: frames}}}
}

// read reads samples in blocks of an odd size.
func read(sampleRate int, samples []float32) *ltc.Reading {
	r := ltc.NewReader(sampleRate)
	for len(samples) > 0 {
		n := min(777, len(samples))
		_ = r.Write(samples[:n]) // gives no error
		samples = samples[n:]
	}
	return r.Close()
}

// framesIn lists every frame of samples.
func framesIn(sampleRate int, samples []float32) []ltc.Frame {
	var list []ltc.Frame
	d := ltc.NewDecoder(sampleRate, func(f ltc.Frame) { list = append(list, f) })
	_ = d.Write(samples)
	_ = d.Close()
	return list
}

// referee builds the program that writes and reads timecode with libltc.
func referee(t testing.TB) func(in []byte, args ...any) []byte {
	t.Helper()
	for _, tool := range []string{"gcc"} {
		if _, err := exec.LookPath(tool); err != nil {
			testtool.Missing(t, tool+" is not installed")
		}
	}
	program := filepath.Join(t.TempDir(), "referee")
	out, err := exec.Command("gcc", "-O2", "-o", program, "testdata/referee.c", "-lltc", "-lm").CombinedOutput()
	if err != nil {
		if _, headerErr := os.Stat("/usr/include/ltc.h"); headerErr != nil {
			testtool.Missing(t, "libltc-dev is not installed")
		}
		t.Fatalf("%v\n%s", err, out)
	}
	return func(in []byte, args ...any) []byte {
		t.Helper()
		var words []string
		for _, a := range args {
			words = append(words, fmt.Sprint(a))
		}
		cmd := exec.Command(program, words...)
		var out, complaint bytes.Buffer
		cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(in), &out, &complaint
		require.NoError(t, cmd.Run(), complaint.String())
		return out.Bytes()
	}
}
