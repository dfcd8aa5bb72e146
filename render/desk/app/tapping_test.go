package app

import (
	"io"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/render/desk/play"
	"emberbeat/render/desk/prefs"
	"emberbeat/render/desk/tapping"
	"emberbeat/timeline"
)

// lateDevice takes sound as the hand's clock goes, all of it heard at once as far as it says; whoever listens hears it later.
type lateDevice struct {
	h     *hand
	r     io.Reader
	plays bool
	from  time.Duration
	taken int64
}

func (d *lateDevice) Play() {
	d.plays, d.from, d.taken = true, d.h.now, 0
}
func (d *lateDevice) Pause()        { d.plays = false }
func (d *lateDevice) Buffered() int { return 0 }
func (d *lateDevice) Err() error    { return nil }
func (d *lateDevice) Close()        {}

// pass lets time go by.
func (d *lateDevice) pass(t time.Duration) {
	d.h.now += t
	d.h.clock.Store(int64(d.h.now))
	due := int64((d.h.now - d.from).Seconds() * play.DeviceRate)
	if n := due - d.taken; d.plays && n > 0 {
		b := make([]byte, n*audio.DeviceFrame)
		_, _ = io.ReadFull(d.r, b)
		d.taken = due
	}
}

// Who hears the ticks 140 ms late and taps 60 ms later still has that measured, apart from each other, by tapping along by ear and by eye; it is
// kept for the user, and the song goes on as before.
func TestDelayAndLeadMeasuredByTaps(t *testing.T) {
	d := &lateDevice{}
	h := newHandHearing(t, t, time.Now(), func(r io.Reader) (play.Device, error) { d.r = r; return d, nil })
	t.Cleanup(h.a.Close)
	d.h, h.dir = h, filepath.Join(t.TempDir(), "show")
	copyLight(t, h.dir, true)
	require.NoError(t, h.a.Open(h.dir))
	h.settle()
	a := h.a
	a.Use("measure-taps")
	h.step()
	row := func(button string, late time.Duration) {
		h.button(button)
		begun := h.now
		for i := range 14 {
			due := begun + time.Duration(i+1)*time.Duration(tapping.Beat.Seconds()*1e9) + late
			for h.now < due-40*time.Millisecond {
				d.pass(10 * time.Millisecond)
				h.step()
			}
			d.pass(due - h.now)
			h.key("Space")
		}
		h.button(button)
	}
	row("By ear", 200*time.Millisecond)
	require.True(t, h.seenPart("Set now: output delay 0 ms, tap lead 0 ms"))
	row("By eye", 60*time.Millisecond)
	h.button("Keep")
	require.Nil(t, a.dialog)
	require.InDelta(t, 140, a.prefs.DelayMS, 25)
	require.InDelta(t, 200, a.prefs.DelayMS+a.prefs.LeadMS, 25)
	kept := prefs.Load(a.o.State)
	require.Equal(t, []int{a.prefs.DelayMS, a.prefs.LeadMS}, []int{kept.DelayMS, kept.LeadMS})
	require.Equal(t, a.prefs.SpreadMS, kept.SpreadMS)
	h.settle()
	a.song.Seek(5 * timeline.Second)
	h.key("Space")
	require.True(t, a.song.Plays())
	begun := h.now
	for range 30 {
		d.pass(10 * time.Millisecond)
		h.step()
	}
	require.InDelta(t, 5+(h.now-begun).Seconds()-float64(a.prefs.DelayMS)/1000, a.song.Heard().Seconds(), 0.1, "the song is there again")
	h.key("Space")
}

// Without a sound device nothing is measured by ear, and the dialog says so.
func TestNothingIsMeasuredWithoutADevice(t *testing.T) {
	h := withExample(t)
	h.a.Use("measure-taps")
	h.step()
	h.button("By ear")
	h.step()
	require.True(t, h.seenPart("no sound device"))
	require.True(t, h.seenPart("tried"))
	h.key("Esc")
	require.Nil(t, h.a.dialog)
}
