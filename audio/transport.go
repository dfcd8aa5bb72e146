package audio

import (
	"fmt"
	"math"
	"sync"
	"sync/atomic"

	"github.com/faiface/beep"
)

// Transport plays a song with clicks over it. It is a beep.StreamSeeker at the
// device's rate whose places are frames of the song; it never drains, but gives
// silence while stopped. Places before 0 and behind the end are silent too.
//
// One goroutine streams; any may command and ask. Stream allocates nothing and
// waits for nobody.
type Transport struct {
	song  *track
	rate  int64 // of the device
	lock  sync.Mutex
	order atomic.Pointer[orders]

	// What follows belongs to the goroutine that streams.
	now     cursor
	kernel  *kernel
	started bool  // sound comes
	seen    int64 // serial of the last seek obeyed
	begun   int64 // serial of the last start obeyed
	tail    tail
	rise    int // frames since the sound began or jumped, up to fadeIn
	gain    gain
	clicks  clicker
	sounds  int64  // song frame at which a count-in ends; before all once it has
	grains  grains // where the song keeps its pitch

	// What follows is written there and read everywhere.
	place    atomic.Int64 // song frame that comes next
	obeyed   atomic.Int64 // serial of the last seek obeyed
	ended    atomic.Int64 // serial of the start that has played to the end
	streamed atomic.Int64 // device frames given so far
	history  history
}

var _ beep.StreamSeeker = (*Transport)(nil)

// orders is what the commands ask for. It is never changed, only replaced.
type orders struct {
	playing    bool
	start      int64 // serial of the last Play
	seek       int64 // serial of the last Seek
	to         int64 // where it goes
	from, till int64 // the loop; none if till <= from
	kernel     *kernel
	gain       float64
	clickGain  float64
	clicks     []Click
	sounds     int64   // song frame at which a count-in ends; none if start was before it
	counts     []Click // that are heard till then
}

// Fades, in device frames, that keep jumps from cracking. A beginning fades so
// shortly that an attack right there stays sharp.
const (
	fadeIn  = 64
	fadeOut = 256
)

// NewTransport plays song on a device of that rate. The song must not change.
func NewTransport(song Music, rate int) *Transport {
	t := &Transport{song: newTrack(song), rate: int64(rate)}
	t.clicks, t.grains = newClicker(rate), newGrains(rate)
	k := newKernel(newRatio(int64(t.song.rate), int64(rate)))
	t.kernel, t.sounds = k, math.MinInt64
	t.gain = gain{value: 1, step: 100 / float64(rate)}
	t.order.Store(&orders{kernel: k, gain: 1, clickGain: 1})
	return t
}

// change replaces the orders.
func (t *Transport) change(f func(*orders)) {
	t.lock.Lock()
	defer t.lock.Unlock()
	o := *t.order.Load()
	f(&o)
	t.order.Store(&o)
}

// Play starts the sound at the present place.
func (t *Transport) Play() {
	t.change(func(o *orders) { o.playing, o.start, o.counts, o.sounds = true, o.start+1, nil, math.MinInt64 })
}

// Begin goes to a frame of the song and starts there, silent up to the frame sounds: till then counts are heard in place of the clicks, in order
// of time. The slice must not change afterwards. It is Seek and Play where sounds is not after at.
func (t *Transport) Begin(at, sounds int64, counts []Click) {
	t.change(func(o *orders) {
		o.seek, o.to, o.sounds, o.counts = o.seek+1, at, sounds, counts
		o.playing, o.start = true, o.start+1
	})
}

// Stop stops the sound; it stays at its place.
func (t *Transport) Stop() { t.change(func(o *orders) { o.playing = false }) }

// Playing tells whether sound is asked for and the song has not ended.
func (t *Transport) Playing() bool {
	o := t.order.Load()
	return o.playing && t.ended.Load() != o.start
}

// Seek goes to a frame of the song, before 0 or behind the end as well.
func (t *Transport) Seek(frame int) error {
	t.change(func(o *orders) { o.seek, o.to = o.seek+1, int64(frame) })
	return nil
}

// Position is the song frame that is streamed next, which is earlier than the
// one that is heard next: see Heard.
func (t *Transport) Position() int {
	if o := t.order.Load(); o.seek != t.obeyed.Load() {
		return int(o.to)
	}
	return int(t.place.Load())
}

// Len is the number of frames of the song.
func (t *Transport) Len() int { return int(t.song.frames) }

// Err is nil: nothing can fail.
func (t *Transport) Err() error { return nil }

// SetLoop repeats the frames from..to once the sound runs into to. It jumps
// exactly there, however often. An empty loop is none.
func (t *Transport) SetLoop(from, to int64) {
	t.change(func(o *orders) { o.from, o.till = from, to })
}

// SetSpeed plays at num/den times the song's speed, and as much higher or
// lower. It fails outside 1/8 to 8.
func (t *Transport) SetSpeed(num, den int) error {
	if num <= 0 || den <= 0 || num > 8*den || den > 8*num {
		return fmt.Errorf("speed %d/%d is outside 1/8 to 8", num, den)
	}
	k := newKernel(newRatio(int64(t.song.rate)*int64(num), t.rate*int64(den)))
	t.change(func(o *orders) { o.kernel = k })
	return nil
}

// SetTempo plays at num/den times the song's speed, at its own pitch. It fails
// outside 1/4 to 2, where nothing sounds like the song any more.
func (t *Transport) SetTempo(num, den int) error {
	switch {
	case num <= 0 || den <= 0 || num > 2*den || den > 4*num:
		return fmt.Errorf("tempo %d/%d is outside 1/4 to 2", num, den)
	case num == den:
		return t.SetSpeed(1, 1)
	}
	plain := newRatio(int64(t.song.rate), t.rate)
	k := &kernel{ratio: newRatio(int64(t.song.rate)*int64(num), t.rate*int64(den)), plain: newKernel(plain)}
	t.change(func(o *orders) { o.kernel = k })
	return nil
}

// SetGain sets the level of the song, as a factor.
func (t *Transport) SetGain(factor float64) { t.change(func(o *orders) { o.gain = factor }) }

// SetClicks replaces the clicks, in order of time, and sets their level as a
// factor. The slice must not change afterwards.
func (t *Transport) SetClicks(clicks []Click, factor float64) {
	t.change(func(o *orders) { o.clicks, o.clickGain = clicks, factor })
}

// Streamed is the number of device frames given so far.
func (t *Transport) Streamed() int64 { return t.streamed.Load() }

// Heard is the song frame that is heard while device frame n sounds, of those
// counted by Streamed: what is drawn as the playhead is Heard(Streamed() -
// frames still in buffers). It knows the last 64 jumps.
func (t *Transport) Heard(n int64) int64 { return t.history.find(n) }
