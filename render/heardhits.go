package render

import (
	"image"

	"emberbeat/timeline"
)

// HeardHits are the hits of a recording that times are drawn to, by time.
type HeardHits struct{ List []HeardHit }

// HeardHit is one of them.
type HeardHit struct {
	At    timeline.Time
	Level int // 1 weak, 2 middle, 3 strong
}

// heardHits draws what is snapped to at the foot of the waveform: a tick each, the higher the stronger, one where they would touch.
func (p *SongDrawer) heardHits(row image.Rectangle) {
	if p.v.Hits == nil || row.Dy() < p.px(4*tickHeight) {
		return
	}
	foot, last, high := row.Max.Y-p.px(tickHeight), -1<<30, 0
	for _, h := range p.v.Hits.List {
		if h.At < p.Show.From || h.At > p.Show.To {
			continue
		}
		x := p.X(h.At)
		if x >= last+p.px(3) || h.Level > high {
			p.s.Rect(image.Rect(x-p.px(1), foot-p.px(4*h.Level), x+p.px(1), foot), InkFocus)
			last, high = x, h.Level
		}
	}
}
