package ltc_test

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// fpsOf is the exact number of frames a second.
func fpsOf(rate timeline.Rate) float64 {
	return timeline.TicksPerSecond / float64(rate.FrameTicks())
}

func shorts(samples []float32) []byte {
	var b []byte
	for _, v := range samples {
		b = binary.LittleEndian.AppendUint16(b, uint16(int16(max(-32768, min(32767, math.Round(float64(v)*(1<<15)))))))
	}
	return b
}

// heard is a frame as libltc reads it.
type heard struct {
	h, m, s, f, drop, reverse int
	start, end                int64
}

func heardIn(t *testing.T, out []byte) []heard {
	t.Helper()
	var list []heard
	for lines := bufio.NewScanner(bytes.NewReader(out)); lines.Scan(); {
		var h heard
		_, err := fmt.Sscanf(lines.Text(), "%d:%d:%d:%d %d %d %d %d", &h.h, &h.m, &h.s, &h.f, &h.drop, &h.reverse, &h.start, &h.end)
		require.NoError(t, err, lines.Text())
		list = append(list, h)
	}
	return list
}

func (h heard) label() timeline.Timecode {
	return timeline.Timecode{H: uint8(h.h), M: uint8(h.m), S: uint8(h.s), F: uint8(h.f)}
}

// Our stripes, read by libltc: every frame from first to last, with its drop
// flag, at its place, whatever happened to the sound on the way.
func TestLibltcReadsOurs(t *testing.T) {
	libltc := referee(t)
	for _, rate := range timeline.Rates() {
		for _, sampleRate := range []int{44100, 48000, 96000} {
			for i, from := range borders {
				first := label(t, rate, from)
				s := stripe(rate, sampleRate, first, 75)
				plain := sound(t, s)
				for j, b := range bends() {
					if i > 0 && j > 0 || b.offset {
						continue // one border with all that can happen is enough; libltc reads no offset
					}
					where := fmt.Sprintf("%s from %s at %d, %s", rate, from, sampleRate, b.name)
					got := heardIn(t, libltc(shorts(b.do(plain)), "read", sampleRate, fpsOf(rate)))
					compareHeard(t, where, got, rate, first, 75, float64(sampleRate)/fpsOf(rate)/80, func(k int64) float64 {
						return b.place(float64(s.FrameSample(s.Runs[0], k)), float64(len(plain)))
					})
				}
			}
		}
	}
}

// compareHeard compares frames with what libltc reads. Its places are
// approximate by its own word: they scatter over four samples at 48 kHz, over its own
// stripes as well (TestLibltcMisplacesItsOwnFrames). It guesses where the first
// bit of a sound, bit samples long, began. Played backwards it needs the sync word of one
// frame more to give a frame, whose start it calls the end.
func compareHeard(t *testing.T, where string, got []heard, rate timeline.Rate, first, frames int64, bit float64, place func(int64) float64) {
	t.Helper()
	back := len(got) > 0 && got[0].reverse != 0
	if back {
		require.Len(t, got, int(frames)-1, where)
	} else {
		require.Len(t, got, int(frames), where)
	}
	for i, h := range got {
		k, at := int64(i), h.start
		if back {
			k = frames - 1 - k
			at = h.end
		}
		want, _ := rate.Timecode((first + k) % rate.DayFrames())
		require.Equal(t, want, h.label(), where)
		require.Equal(t, rate.Drop(), h.drop == 1, where)
		require.Equal(t, back, h.reverse != 0, where)
		tolerance := 4.5 * max(1, bit/25) // 25 samples a bit at 48 kHz
		if i == 0 {
			tolerance += bit
		}
		require.InDelta(t, place(k), float64(at), tolerance, "%s, frame %d", where, k)
	}
}

// theirs is a stripe that libltc writes, as samples: three seconds and what
// closes the last frame.
func theirs(libltc func([]byte, ...any) []byte, rate timeline.Rate, sampleRate, level int, from string) []float32 {
	tc, _ := timeline.ParseTimecode(from) // one of borders
	out := libltc(nil, "write", sampleRate, fpsOf(rate), drop(rate), level, 75, tc.H, tc.M, tc.S, tc.F)
	samples := make([]float32, len(out))
	for i, v := range out {
		samples[i] = (float32(v) - 128) / 128
	}
	return samples
}

// Stripes of libltc, read by us: every frame from first to last, its start
// within a sample of the exact time, whatever happened to the sound. Of that
// sample libltc takes half for rounding each frame to whole samples, and half
// for drawing the edge before the sample at which a frame begins.
func TestWeReadLibltc(t *testing.T) {
	libltc := referee(t)
	for _, rate := range timeline.Rates() {
		for _, sampleRate := range []int{44100, 48000, 96000} {
			for _, level := range []int{-3, -30} {
				for i, from := range borders {
					samples := theirs(libltc, rate, sampleRate, level, from)
					for j, b := range bends() {
						if i > 0 && j > 0 || level < -3 && j > 0 {
							continue // one border at one level with all that can happen is enough
						}
						where := fmt.Sprintf("%s from %s at %d, %d dB, %s", rate, from, sampleRate, level, b.name)
						framesOfTheirs(t, where, b, rate, sampleRate, label(t, rate, from), samples)
					}
				}
			}
		}
	}
}

// framesOfTheirs reads a bent stripe of libltc of 75 frames.
func framesOfTheirs(t *testing.T, where string, b bend, rate timeline.Rate, sampleRate int, first int64, samples []float32) {
	t.Helper()
	got := framesIn(sampleRate, b.do(samples))
	require.Len(t, got, 75, where)
	for i, f := range got {
		k := int64(i)
		if f.Reverse() {
			k = 74 - k
		}
		want, _ := rate.Timecode((first + k) % rate.DayFrames())
		require.Equal(t, want, f.Label, where)
		require.Equal(t, rate.Drop(), f.Word.Drop(), where)
		exact := b.place(float64(k)*float64(sampleRate)/fpsOf(rate), float64(len(samples)))
		require.InDelta(t, exact, f.Start, b.tolerance(), "%s, frame %d", where, k)
	}
	r := read(sampleRate, b.do(samples))
	require.Empty(t, r.Jumps, where)
	require.Zero(t, r.Spoiled, where)
	if !b.speed {
		require.Equal(t, rate, r.Rate, "%s: %v", where, r.FPS)
		require.Equal(t, rate.Drop(), r.Drop)
	}
}

// Where libltc says a frame starts is moved by how its running estimate of half
// a bit, in whole samples, differs from the half bit at hand. It is so with its
// own stripes as well, whose frames start where it rounded them to: it misplaces
// those by as much as two samples and we by no more than one. So a difference of
// a few samples between its word and ours is its own.
func TestLibltcMisplacesItsOwnFrames(t *testing.T) {
	libltc := referee(t)
	off, ourOff := 0.0, 0.0
	for _, rate := range timeline.Rates() {
		for _, sampleRate := range []int{44100, 48000, 96000} {
			samples := theirs(libltc, rate, sampleRate, -3, borders[0])
			said := heardIn(t, libltc(shorts(samples), "read", sampleRate, fpsOf(rate)))
			got := framesIn(sampleRate, samples)
			require.Len(t, said, 75)
			require.Len(t, got, 75)
			for k := 1; k < 75; k++ { // it guesses where the first began
				exact := float64(k) * float64(sampleRate) / fpsOf(rate)
				off = max(off, math.Abs(float64(said[k].start)-exact))
				ourOff = max(ourOff, math.Abs(got[k].Start-exact))
			}
		}
	}
	require.Greater(t, off, 1.9)
	require.LessOrEqual(t, ourOff, 1.0+1e-6)
}

func drop(rate timeline.Rate) int {
	if rate.Drop() {
		return 1
	}
	return 0
}
