package score

// Tick counts 1/282,240,000 s from the first sample of a song's file. It is
// the time unit of the whole program, exact at every common sample rate.
type Tick int64

const (
	// Second is one second in ticks.
	Second Tick = 282_240_000
	// SampleRate is the rate of all rendered sound, in samples per second.
	SampleRate = 44100

	ticksPerSample = Second / SampleRate
	ticksPerMinute = 60 * Second
)

// Sample gives the sample of the rendered file nearest to t.
func (t Tick) Sample() int { return int((t + ticksPerSample/2) / ticksPerSample) }

// Seconds gives t in seconds, for printing and for comparing with measured
// times. It is not exact.
func (t Tick) Seconds() float64 { return float64(t) / float64(Second) }
