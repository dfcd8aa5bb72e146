package play

import (
	"cmp"
	"io"
	"slices"
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
	song  audio.Music
	rate  int              // of the song
	now   *audio.Transport // nil without a song
	delay time.Duration    // from the device's buffer to the ear
	idle  time.Time        // when the device can be paused; zero while playing

	clock clock

	counts bool          // a bar is being counted in
	sounds timeline.Time // where the song begins then
	from   int64         // device frame after which it was asked for

	place timeline.Time // where it last began
	asked int64         // device frames given before that
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
func (p *Player) Load(song audio.Music) {
	if p.song == song {
		return
	}
	p.Stop(time.Now())
	p.song, p.now, p.clock = song, nil, clock{}
	if song == nil {
		p.feed.from.Store(nil)
		return
	}
	p.rate, _ = song.Shape()
	p.now = audio.NewTransport(song, DeviceRate)
	r := audio.NewDeviceReader(p.now)
	p.feed.from.Store(&r)
}

// Loaded gives what is played, nil without one.
func (p *Player) Loaded() audio.Music { return p.song }

// Way says how a song is played.
type Way struct {
	From, To timeline.Time     // where it goes round; nowhere where To is not after From
	Num, Den int               // of the song's speed, at its own pitch; 0, 0 is its own
	Beats    *timeline.BeatMap // a click on its beats; nil for none
	Ticks    []timeline.Time   // of cues, in order
	Length   timeline.Time     // of the song
}

// Set says how the song is played from now on.
func (p *Player) Set(w Way) {
	t := p.now
	if t == nil {
		return
	}
	if w.To > w.From {
		if s, ok := p.song.(*audio.Spool); ok {
			s.Hold(w.From.Samples(p.rate))
		}
		t.SetLoop(w.From.Samples(p.rate), w.To.Samples(p.rate))
	} else {
		t.SetLoop(0, 0)
	}
	if w.Den == 0 {
		w.Num, w.Den = 1, 1
	}
	_ = t.SetTempo(w.Num, w.Den) // those that the window has are good
	var list []audio.Click
	if w.Beats != nil {
		list = clicks(w.Beats, 0, w.Length, p.rate)
	}
	t.SetClicks(withTicks(list, w.Ticks, p.rate), clickLevel)
}

// clickLevel leaves room for the song beside clicks and ticks.
const clickLevel = 0.5

// withTicks adds ticks to clicks, one for all cues of an instant.
func withTicks(list []audio.Click, ticks []timeline.Time, rate int) []audio.Click {
	for i, at := range ticks {
		if i == 0 || at != ticks[i-1] {
			list = append(list, audio.Click{Frame: at.Samples(rate), Cue: true})
		}
	}
	slices.SortStableFunc(list, func(a, b audio.Click) int { return cmp.Compare(a.Frame, b.Frame) })
	return list
}

// Count plays from a song time, with a bar counted in before it: in the metre and at the tempo of what comes, as clicks that go over into the
// beats there. It gives when the count begins. Without beats there is nothing to be counted in.
func (p *Player) Count(at timeline.Time, beats *timeline.BeatMap) (from timeline.Time) {
	if beats.Empty() || p.now == nil {
		p.Play(at)
		return at
	}
	bar := beats.Locate(at).Bar
	long := beats.BarStart(bar+1) - beats.BarStart(bar)
	list := clicks(beats, at, at+long-1, p.rate)
	for i := range list {
		list[i].Frame -= long.Samples(p.rate)
	}
	p.ready()
	p.fetch(at)
	p.counts, p.sounds, p.from = true, at, p.now.Streamed()
	p.now.Begin((at - long).Samples(p.rate), at.Samples(p.rate), list)
	p.begun(at-long, p.from)
	return at - long
}

// Play begins at a song time.
func (p *Player) Play(from timeline.Time) {
	if p.now == nil {
		return
	}
	p.ready()
	p.counts = false
	p.fetch(from)
	given := p.now.Streamed()
	_ = p.now.Seek(int(from.Samples(p.rate)))
	p.now.Play()
	p.begun(from, given)
}

// fetch has what comes at a song time at hand, where the song lies in a file.
func (p *Player) fetch(at timeline.Time) {
	if s, ok := p.song.(*audio.Spool); ok {
		s.Fetch(at.Samples(p.rate))
	}
}

// begun lets the device take what was begun at a song time, once it had been given so many frames of something else.
func (p *Player) begun(at timeline.Time, given int64) {
	p.idle, p.clock.at = time.Time{}, time.Time{}
	p.place, p.asked = at, given
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
	frames := p.frame(now)
	if frames < p.asked || p.now.Streamed() == p.asked { // nothing of it is heard yet
		return p.place
	}
	return timeline.FromSamples(p.now.Heard(frames), p.rate)
}

// Counting reports whether at a time a bar is heard that is counted in.
func (p *Player) Counting(now time.Time) bool {
	if p.counts && (!p.Playing() || p.frame(now) > p.from+countSettle && p.Heard(now) >= p.sounds) {
		p.counts = false
	}
	return p.counts
}

// countSettle is how many device frames may pass before a count-in that was asked for is in the stream; no bar is as short.
const countSettle = DeviceRate / 10

// frame gives the device frame that is heard at a time.
func (p *Player) frame(now time.Time) int64 {
	given := p.now.Streamed()
	frames := p.clock.read(given-int64(p.device.Buffered()/audio.DeviceFrame), given, now)
	return frames - int64(p.delay.Seconds()*DeviceRate)
}

// clicks gives the clicks of a song's beats from a time to another.
func clicks(beats *timeline.BeatMap, from, to timeline.Time, rate int) []audio.Click {
	if beats.Empty() {
		return nil
	}
	var list []audio.Click
	for bar := beats.Locate(from).Bar; ; bar++ {
		if beats.BarStart(bar) > to {
			return list
		}
		metre := beats.MetreAt(bar)
		for beat := 0; beat < metre.Num; beat += metre.Pulse() {
			at := beats.At(timeline.BarBeat{Bar: bar, Beat: timeline.NewRat(int64(beat), 1)})
			if at >= from && at <= to {
				list = append(list, audio.Click{Frame: at.Samples(rate), Accent: beat == 0})
			}
		}
	}
}
