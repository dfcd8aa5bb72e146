package play

import (
	"io"
	"sync/atomic"
	"time"

	"emberbeat/audio"
	"emberbeat/timeline"
)

// Player plays one song at a time and knows what is heard of it.
type Player struct {
	open   OpenDevice
	device Device
	silent bool   // the device is the silent one
	why    string // why, in a few words; "" when nobody asked for sound yet
	detail string // what the device said

	feed  feed
	song  *audio.PCM
	now   *audio.Transport // nil without a song
	delay time.Duration    // from the device's buffer to the ear
	idle  time.Time        // when the device can be paused; zero while playing

	clock clock
}

// NewPlayer gives a player of nothing yet. open may be nil where there is no sound device; delay is the time from the device's buffer to
// the ear.
func NewPlayer(open OpenDevice, delay time.Duration) Player { return Player{open: open, delay: delay} }

// SetDelay changes that time.
func (p *Player) SetDelay(delay time.Duration) { p.delay = delay }

// Close frees the device.
func (p *Player) Close() {
	if p.device != nil {
		p.device.Close()
	}
}

// feed is what the device reads: the transport of the moment, or silence.
type feed struct{ from atomic.Pointer[io.Reader] }

func (f *feed) Read(b []byte) (int, error) {
	if r := f.from.Load(); r != nil {
		return (*r).Read(b)
	}
	clear(b)
	return len(b), nil
}

// clock smooths the count of frames heard: devices take sound in blocks, so the plain count moves in jumps.
type clock struct {
	count int64 // frames heard by the device's word, when it last moved
	at    time.Time
	shown int64 // given last; it never goes back
}

// settle keeps a playhead from standing still for longer than any device's block.
const settle = 250 * time.Millisecond

// read gives the frames heard at a time, between the device's word and what it has been given at most.
func (c *clock) read(heard, given int64, now time.Time) int64 {
	if heard != c.count || c.at.IsZero() {
		c.count, c.at = heard, now
	}
	run := min(now.Sub(c.at), settle)
	c.shown = max(c.shown, min(c.count+int64(run.Seconds()*DeviceRate), given))
	return c.shown
}

// Load makes a song the one that is played.
func (p *Player) Load(song *audio.PCM) {
	if p.song == song {
		return
	}
	p.Stop(time.Now())
	p.song, p.now, p.clock = song, nil, clock{}
	if song == nil {
		p.feed.from.Store(nil)
		return
	}
	p.now = audio.NewTransport(song, DeviceRate)
	r := audio.NewDeviceReader(p.now)
	p.feed.from.Store(&r)
}

// Loaded gives the recording that is played, nil without one.
func (p *Player) Loaded() *audio.PCM { return p.song }

// Set says how the song is played: from where to where it goes round, nowhere where to is not after from; at half the speed; and with a
// click on the beats of a map, nil for none.
func (p *Player) Set(from, to timeline.Time, half bool, beats *timeline.BeatMap, length timeline.Time) {
	t := p.now
	if t == nil {
		return
	}
	rate := p.song.Rate
	if to > from {
		t.SetLoop(from.Samples(rate), to.Samples(rate))
	} else {
		t.SetLoop(0, 0)
	}
	den := 1
	if half {
		den = 2
	}
	_ = t.SetTempo(1, den)
	var list []audio.Click
	if beats != nil {
		list = clicks(beats, length, rate)
	}
	t.SetClicks(list, 0.5)
}

// Play begins at a song time.
func (p *Player) Play(from timeline.Time) {
	if p.now == nil {
		return
	}
	p.ready()
	_ = p.now.Seek(int(from.Samples(p.song.Rate)))
	p.now.Play()
	p.idle, p.clock.at = time.Time{}, time.Time{}
	p.device.Play()
}

// ready opens the device, or the silent one in its place.
func (p *Player) ready() {
	if p.device != nil && p.device.Err() == nil {
		return
	}
	if p.device != nil {
		p.fall(p.device.Err())
		return
	}
	if p.open != nil {
		d, err := p.open(&p.feed)
		if err == nil {
			p.device = d
			return
		}
		p.fall(err)
		return
	}
	p.fall(nil)
}

// fall goes on without sound.
func (p *Player) fall(err error) {
	if p.device != nil {
		p.device.Close()
	}
	p.device, p.silent, p.why, p.detail = newSilentDevice(&p.feed), true, "no sound device", ""
	if err != nil {
		p.detail = err.Error()
	}
	p.clock = clock{shown: p.clock.shown}
}

// Stop ends the sound; the device is paused once what it was given has faded.
func (p *Player) Stop(now time.Time) {
	if p.now == nil || p.device == nil || !p.idle.IsZero() {
		return
	}
	p.now.Stop()
	p.idle = now.Add(200 * time.Millisecond)
}

// Playing reports whether it goes on.
func (p *Player) Playing() bool { return p.now != nil && p.device != nil && p.now.Playing() }

// Moving reports whether it goes on, or is just fading.
func (p *Player) Moving(now time.Time) bool {
	return p.Playing() || p.device != nil && !p.idle.IsZero() && now.Before(p.idle)
}

// Mute gives why the playhead runs without sound, "" where it is heard or nobody asked for it yet.
func (p *Player) Mute() string {
	if p.silent {
		return p.why
	}
	return ""
}

// Tick looks after the device. It reports whether it wants to be called again soon, and whether sound was lost since the last call.
func (p *Player) Tick(now time.Time) (again, lost bool) {
	if p.device == nil {
		return false, false
	}
	if err := p.device.Err(); err != nil {
		playing := p.Playing()
		p.fall(err)
		lost = true
		if playing {
			p.device.Play()
		}
	}
	if p.Playing() {
		return true, lost
	}
	if p.idle.IsZero() {
		p.idle = now.Add(400 * time.Millisecond)
	}
	if now.After(p.idle) {
		p.device.Pause()
		return false, lost
	}
	return true, lost
}

// Heard gives the song time that is heard at a time.
func (p *Player) Heard(now time.Time) timeline.Time {
	if p.now == nil || p.device == nil {
		return 0
	}
	given := p.now.Streamed()
	frames := p.clock.read(given-int64(p.device.Buffered()/audio.DeviceFrame), given, now)
	frames -= int64(p.delay.Seconds() * DeviceRate)
	return timeline.FromSamples(p.now.Heard(frames), p.song.Rate)
}

// clicks gives the ticks of a song's beats.
func clicks(beats *timeline.BeatMap, length timeline.Time, rate int) []audio.Click {
	if beats.Empty() {
		return nil
	}
	var list []audio.Click
	for bar := beats.Locate(0).Bar; ; bar++ {
		if beats.BarStart(bar) > length {
			return list
		}
		metre := beats.MetreAt(bar)
		for beat := 0; beat < metre.Num; beat += metre.Pulse() {
			at := beats.At(timeline.BarBeat{Bar: bar, Beat: timeline.NewRat(int64(beat), 1)})
			if at >= 0 && at <= length {
				list = append(list, audio.Click{Frame: at.Samples(rate), Accent: beat == 0})
			}
		}
	}
}
