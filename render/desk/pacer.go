package desk

import (
	"time"

	"github.com/hajimehoshi/ebiten/v2"
)

// pacer decides how often the engine asks for frames: at the display's pace while something is done, now and then while something moves by itself, and
// not at all else.
type pacer struct {
	busy   time.Duration // until when the display's pace is kept
	moved  time.Duration // when what moves was drawn last
	asleep bool
	timer  *time.Timer

	step  time.Duration // between two pictures of what moves
	spent time.Duration // of processor time, when it was looked at last
	seen  time.Duration // that was then
}

// linger is how long the display's pace is kept after something was done: in that pace no quick press is missed.
const linger = 1500 * time.Millisecond

// thrift is how the step keeps what moves from taking more of a processor than usual: looked at every second, it grows where more than most was used, up
// to mostStep, and shrinks where it was less than least (our judgement).
const (
	thriftEvery = time.Second
	mostShare   = 0.30
	leastShare  = 0.20
	mostStep    = 120 * time.Millisecond
)

// thrift sets the step by the processor time spent so far.
func (p *pacer) thrift(now, spent time.Duration) {
	if p.step == 0 {
		p.step = moveStep
	}
	long := now - p.seen
	if long < thriftEvery {
		return
	}
	if share := float64(spent-p.spent) / float64(long); p.seen > 0 && long < 2*thriftEvery { // longer, and it is not of what moves
		switch {
		case share > mostShare:
			p.step = min(time.Duration(float64(p.step)*share/mostShare), mostStep)
		case share < leastShare:
			p.step = max(p.step*4/5, moveStep)
		}
	}
	p.seen, p.spent = now, spent
}

// moveStep is the shortest time between two pictures of what moves by itself: a frame of 25 in a second. Whoever has no graphics card pays for each
// with the whole window, which the engine hands to the screen, and a playhead moves by a pixel or two.
const moveStep = 40 * time.Millisecond

// move reports whether what moves is to be drawn anew.
func (p *pacer) move(now time.Duration) bool {
	p.thrift(now, processorTime())
	if now-p.moved < p.step {
		return false
	}
	p.moved = now
	return true
}

// rest sets the pace for what comes. waiting is asked last, after the pace is set: what is posted later wakes the engine itself.
func (p *pacer) rest(now time.Duration, done, moving bool, due time.Duration, waits bool, waiting func() bool) {
	if done {
		p.busy = now + linger
	}
	if p.timer != nil {
		p.timer.Stop()
		p.timer = nil
	}
	if sleep := now > p.busy; sleep != p.asleep {
		p.asleep = sleep
		setSleep(sleep)
	}
	if !p.asleep {
		return
	}
	if moving { // in the display's pace the engine would hand over each picture more than once
		due, waits = p.moved+max(p.step, moveStep)-now, true
	}
	if waits || waiting() {
		p.timer = time.AfterFunc(max(due, time.Millisecond), wake)
	}
}

// setSleep stops the engine's frames until there is input, or lets them run.
func setSleep(on bool) {
	if on {
		//lint:ignore SA1019 the one way not to use any time while nothing changes; measured 0 % against 3 % of a processor
		ebiten.SetFPSMode(ebiten.FPSModeVsyncOffMinimum)
	} else {
		//lint:ignore SA1019 see above
		ebiten.SetFPSMode(ebiten.FPSModeVsyncOn)
	}
}

// wake asks for a frame, from any goroutine.
func wake() {
	//lint:ignore SA1019 see setSleep
	ebiten.ScheduleFrame()
}
