package play

import (
	"io"
	"sync"
	"time"

	"emberbeat/audio"
)

// DeviceRate is the number of frames a second that a Device takes.
const DeviceRate = 48000

// Device takes sound and lets it be heard. It reads stereo float32 frames, audio.DeviceFrame bytes each, from the reader it was made
// with, on a goroutine of its own.
type Device interface {
	// Play begins or goes on to take sound.
	Play()
	// Pause stops taking; it is called once all that was taken lately is silence.
	Pause()
	// Buffered is the number of bytes taken and not yet heard.
	Buffered() int
	// Err says that the device has gone and nothing is heard any more.
	Err() error
	// Close frees it.
	Close()
}

// OpenDevice opens a sound device that reads from r. It fails where there is none.
type OpenDevice func(r io.Reader) (Device, error)

// silentStep is how often the silent device takes what would have been heard.
const silentStep = 10 * time.Millisecond

// silentDevice takes sound as fast as time passes and lets none be heard: with it the playhead moves where there is no sound device.
type silentDevice struct {
	r     io.Reader
	mu    sync.Mutex
	stop  chan struct{} // nil while paused
	block [4096 * audio.DeviceFrame]byte
}

func newSilentDevice(r io.Reader) *silentDevice { return &silentDevice{r: r} }

func (d *silentDevice) Play() {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.stop == nil {
		d.stop = make(chan struct{})
		go d.run(d.stop)
	}
}

func (d *silentDevice) run(stop chan struct{}) {
	tick := time.NewTicker(silentStep)
	defer tick.Stop()
	begun, taken := time.Now(), int64(0)
	for {
		select {
		case <-stop:
			return
		case <-tick.C:
		}
		for due := int64(time.Since(begun).Seconds() * DeviceRate); taken < due; {
			n := min(due-taken, int64(len(d.block)/audio.DeviceFrame))
			if _, err := io.ReadFull(d.r, d.block[:n*audio.DeviceFrame]); err != nil {
				return
			}
			taken += n
		}
	}
}

func (d *silentDevice) Pause() {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.stop != nil {
		close(d.stop)
		d.stop = nil
	}
}

func (d *silentDevice) Buffered() int { return 0 }
func (d *silentDevice) Err() error    { return nil }
func (d *silentDevice) Close()        { d.Pause() }
