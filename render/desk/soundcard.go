package desk

import (
	"errors"
	"io"
	"sync"
	"time"

	"github.com/ebitengine/oto/v3"

	"emberbeat/audio"
	"emberbeat/render/desk/app"
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

// openSound opens the sound device.
func openSound(r io.Reader) (app.Device, error) {
	openCard.Do(func() {
		c, ready, err := oto.NewContext(&oto.NewContextOptions{SampleRate: app.DeviceRate, ChannelCount: 2, Format: oto.FormatFloat32LE})
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
	p.SetBufferSize(app.DeviceRate / 20 * audio.DeviceFrame)
	return &card{theCard, p}, nil
}

// Play begins or goes on to take sound.
func (c *card) Play() { c.player.Play() }

// Pause stops taking. What was taken and not yet heard is silence by then: the transport fades out before.
func (c *card) Pause() { c.player.Pause() }

// Buffered is the number of bytes taken from the reader and not yet handed to the device.
func (c *card) Buffered() int { return c.player.BufferedSize() }

// Err says why nothing is heard any more.
func (c *card) Err() error { return errors.Join(c.context.Err(), c.player.Err()) }

// Close ends the player; the device stays open for the next.
func (c *card) Close() { _ = c.player.Close() }
