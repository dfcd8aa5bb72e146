package audio

import "math"

// tail is sound that fades out after a jump away from it, or a stop.
type tail struct {
	at     cursor
	kernel *kernel
	left   int // frames to come
}

// Stream fills samples with sound, or with silence while stopped. It always
// fills all of them.
func (t *Transport) Stream(samples [][2]float64) (n int, ok bool) {
	clear(samples)
	o := t.order.Load()
	t.obey(o)
	for n < len(samples) && t.started {
		run, loop := t.run(o, len(samples)-n)
		if run == 0 {
			t.finish(o)
			break
		}
		if t.counting() {
			t.count(o, samples[n:n+run])
			n += run
			continue
		}
		t.play(o, samples[n:n+run])
		if n += run; loop && t.now.pos >= o.till {
			over := (t.now.pos - o.till) % (o.till - o.from)
			t.jump(cursor{o.from + over, t.now.frac})
		}
	}
	if rest := samples[n:]; len(rest) > 0 {
		t.fade(rest, o)
		t.clicks.ring(rest, o.clickGain)
		t.streamed.Add(int64(len(rest)))
	}
	t.place.Store(t.now.pos)
	t.obeyed.Store(t.seen)
	return len(samples), true
}

// obey follows what was ordered since the last time.
func (t *Transport) obey(o *orders) {
	jumped := o.seek != t.seen
	if o.kernel != t.kernel {
		t.leave()
		t.now, t.kernel = t.now.convert(t.kernel.ratio, o.kernel.ratio), o.kernel
		t.enter()
	}
	if jumped {
		t.jump(cursor{pos: o.to})
		t.seen = o.seek
	}
	if o.start != t.begun {
		t.begun = o.start
		t.sounds = o.sounds
		if !jumped && t.now.pos >= t.song.frames {
			t.jump(cursor{})
		}
	}
	play := o.playing && t.ended.Load() != o.start
	if play == t.started {
		return
	}
	t.leave()
	t.started = play
	t.enter()
}

// jump goes to another place while what sounds fades out.
func (t *Transport) jump(to cursor) {
	t.leave()
	t.now = to
	t.enter()
}

// leave lets what sounds fade out.
func (t *Transport) leave() {
	switch {
	case !t.started || t.now.pos < t.sounds:
	case t.kernel.plain != nil:
		t.tail = tail{t.grains.louder(), t.kernel.plain, fadeOut}
	default:
		t.tail = tail{t.now, t.kernel, fadeOut}
	}
}

// enter begins the sound at the present place, and notes that in the history.
// The start of the song needs no fade.
func (t *Transport) enter() {
	t.rise = 0
	if t.now.pos <= 0 {
		t.rise = fadeIn
	}
	speed := t.kernel.ratio
	if !t.started {
		speed.num = 0
	} else if t.kernel.plain != nil {
		t.grains.begin(t.song, t.kernel.plain, t.now, t.kernel.ratio)
	}
	t.history.add(t.streamed.Load(), t.now, speed)
}

// longestRun keeps runs so short that few clicks fall into one.
const longestRun = 1024

// run is how many frames, at most limit, can be played before the next jump or
// the end; loop tells that a jump back follows.
func (t *Transport) run(o *orders, limit int) (n int, loop bool) {
	end := t.song.frames
	if t.counting() {
		end = t.sounds
	} else if loop = o.till > o.from && t.now.pos < o.till; loop {
		end = o.till
	}
	return int(min(int64(limit), longestRun, max(0, t.now.until(end, t.kernel.ratio)))), loop
}

// counting reports whether a count-in is not over yet.
func (t *Transport) counting() bool {
	if t.now.pos >= t.sounds {
		t.sounds = math.MinInt64 // a loop that goes round is not counted in again
	}
	return t.now.pos < t.sounds
}

// count plays a run of a count-in; at its end the sound begins.
func (t *Transport) count(o *orders, samples [][2]float64) {
	n, r := int64(len(samples)), t.kernel.ratio
	t.clicks.start(o.counts, t.now, n, r)
	t.clicks.ring(samples, o.clickGain)
	t.fade(samples, o)
	t.now = t.now.advance(n, r)
	t.streamed.Add(n)
	if !t.counting() {
		t.enter()
	}
}

// finish stops at the end of the song.
func (t *Transport) finish(o *orders) {
	t.started = false
	t.ended.Store(o.start)
	t.enter()
}

// play plays a run.
func (t *Transport) play(o *orders, samples [][2]float64) {
	r := t.kernel.ratio
	c := t.now
	for i := range samples {
		g := t.gain.toward(o.gain)
		if t.rise < fadeIn {
			g *= float64(t.rise) / fadeIn
			t.rise++
		}
		left, right := t.sound(c)
		samples[i] = [2]float64{left * g, right * g}
		if c.frac += r.num; c.frac >= r.den {
			c.pos += c.frac / r.den
			c.frac %= r.den
		}
	}
	t.clicks.start(o.clicks, t.now, int64(len(samples)), r)
	t.clicks.ring(samples, o.clickGain)
	t.fade(samples, o)
	t.now = c
	t.streamed.Add(int64(len(samples)))
}

// sound gives left and right at a place.
func (t *Transport) sound(c cursor) (left, right float64) {
	if t.kernel.plain != nil {
		return t.grains.next(t.song, c, t.kernel.ratio)
	}
	return t.kernel.at(t.song, c)
}

// fade adds what fades out.
func (t *Transport) fade(samples [][2]float64, o *orders) {
	n := min(t.tail.left, len(samples))
	for i := range samples[:n] {
		g := t.gain.value * float64(t.tail.left) / fadeOut
		left, right := t.tail.kernel.at(t.song, t.tail.at)
		samples[i][0] += left * g
		samples[i][1] += right * g
		t.tail.at = t.tail.at.advance(1, t.tail.kernel.ratio)
		t.tail.left--
	}
}

// gain is a level that does not jump.
type gain struct {
	value, step float64
}

// toward moves one step to a level and gives the value there.
func (g *gain) toward(level float64) float64 {
	switch {
	case g.value < level:
		g.value = min(level, g.value+g.step)
	case g.value > level:
		g.value = max(level, g.value-g.step)
	}
	return g.value
}
