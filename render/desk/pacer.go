package desk

import (
	"time"

	"github.com/hajimehoshi/ebiten/v2"
)

// pacer decides how often the engine asks for frames: at the display's pace while something is done or moves, and not at all else.
type pacer struct {
	busy   time.Duration // until when the display's pace is kept
	moved  time.Duration // when what moves was drawn last
	asleep bool
	timer  *time.Timer
}

// linger is how long the display's pace is kept after something was done: in that pace no quick press is missed.
const linger = 1500 * time.Millisecond

// moveStep is the shortest time between two pictures of what moves by itself: every second frame of most displays. A software renderer needs a
// whole processor for each, and a playhead moves by a pixel or two.
const moveStep = 30 * time.Millisecond

// move reports whether what moves is to be drawn anew.
func (p *pacer) move(now time.Duration) bool {
	if now-p.moved < moveStep {
		return false
	}
	p.moved = now
	return true
}

// rest sets the pace for what comes. waiting is asked last, after the pace is set: what is posted later wakes the engine itself.
func (p *pacer) rest(now time.Duration, done, moving bool, due time.Duration, waits bool, waiting func() bool) {
	if done || moving {
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
