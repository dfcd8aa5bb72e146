package desk

import (
	"errors"
	"io"
	"sync"
	"time"

	"github.com/ebitengine/oto/v3"

	"emberbeat/audio"
	"emberbeat/render/desk/play"
)

// card is the computer's sound device. There is one in a process.
type card struct {
	context *oto.Context
	player  *oto.Player
}

var (
	openCard sync.Once
	theCard  *oto.Context
	cardErr  error
)

// openTime is how long a sound device may take to open.
const openTime = 3 * time.Second

// deviceTime is how much sound the device is asked to hold. It is named here, not left to the library, because that much of what was handed
// to the device is not heard yet. A whole number of frames.
const deviceTime = 40 * time.Millisecond

// deviceBytes is that much sound.
const deviceBytes = int(deviceTime*play.DeviceRate/time.Second) * audio.DeviceFrame

// openSound opens the sound device.
func openSound(r io.Reader) (play.Device, error) {
	openCard.Do(func() {
		c, ready, err := oto.NewContext(&oto.NewContextOptions{SampleRate: play.DeviceRate, ChannelCount: 2, Format: oto.FormatFloat32LE, BufferSize: deviceTime})
		if err != nil {
			cardErr = err
			return
		}
		select {
		case <-ready:
			theCard, cardErr = c, c.Err()
		case <-time.After(openTime):
			cardErr = errors.New("the sound device does not answer")
		}
	})
	if cardErr != nil {
		return nil, cardErr
	}
	p := theCard.NewPlayer(r)
	p.SetBufferSize(play.DeviceRate / 20 * audio.DeviceFrame)
	return &card{theCard, p}, nil
}

// Play begins or goes on to take sound.
func (c *card) Play() { c.player.Play() }

// Pause stops taking. What was taken and not yet heard is silence by then: the transport fades out before.
func (c *card) Pause() { c.player.Pause() }

// Buffered is the number of bytes taken from the reader and not yet heard, as far as is known: a device that does not hold what it was asked
// to, or a sound server behind it, makes a difference that the user sets as output delay.
func (c *card) Buffered() int { return c.player.BufferedSize() + deviceBytes }

// Err says why nothing is heard any more.
func (c *card) Err() error { return errors.Join(c.context.Err(), c.player.Err()) }

// Close ends the player; the device stays open for the next.
func (c *card) Close() { _ = c.player.Close() }
