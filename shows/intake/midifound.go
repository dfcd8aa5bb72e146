package intake

import (
	"fmt"

	"emberbeat/timeline"
)

// Found gives what the file says about a song whose audio starts at tick 0.
//
// The tempo map becomes the beat map, straight from tempo to tempo as the file
// has it; one tempo said is enough, even that which holds where none is said. Bar 1 is the bar at tick 0, unless a text event says `bar 3 at tick
// 7680`. Markers on bar lines become sections, other markers and cue points
// become markers; in tracks named "sections" or "markers" the name decides.
func (m *MIDI) Found() (*Found, error) {
	f := &Found{}
	var b bars
	hasBeats := m.quarter > 0 && (m.says || len(m.metres) > 0)
	if m.quarter > 0 {
		b = m.bars()
	}
	first := m.number(b)
	if hasBeats {
		var err error
		if f.Beats, err = m.beatMap(b, first); err != nil {
			return nil, fmt.Errorf("the tempo map cannot be taken: %w", err)
		}
	}
	for _, n := range m.names {
		if n.kind == metaText || n.text == "" {
			continue
		}
		at := timeline.AtTime(m.TimeAt(n.tick))
		onBar := false
		if hasBeats && n.tick >= first {
			place := m.place(b, n.tick)
			onBar = place.Beat.IsZero()
			if place.Check() == nil {
				at = timeline.AtBar(place)
			}
		}
		if n.in == "sections" || n.in != "markers" && n.kind == metaMarker && onBar {
			f.Sections = append(f.Sections, Named{n.text, at})
		} else {
			f.Markers = append(f.Markers, Named{n.text, at})
		}
	}
	f.Notes = m.Notes
	return f, nil
}

// number gives bars the numbers that a text event tells, and the tick from
// which they count.
func (m *MIDI) number(b bars) int64 {
	for _, n := range m.names {
		var bar int
		var tick int64
		if n.kind != metaText || len(b) == 0 {
			continue
		}
		if _, err := fmt.Sscanf(n.text, "bar %d at tick %d", &bar, &tick); err != nil || tick < 0 || tick > m.end || bar < -mostBars || bar > mostBars {
			continue
		}
		place := m.place(b, tick)
		if !place.Beat.IsZero() {
			m.note("Tick %d is no bar line, so it cannot be bar %d.", tick, bar)
			continue
		}
		for i := range b {
			b[i].bar += bar - place.Bar
		}
		return tick
	}
	return 0
}

// beatMap makes anchors of the tempos and time signatures from a tick on.
func (m *MIDI) beatMap(b bars, first int64) (*timeline.BeatMap, error) {
	ticks := map[int64]bool{first: true}
	for _, t := range m.tempos {
		if t.tick > first {
			ticks[t.tick] = true
		}
	}
	metres := map[int64]timeline.Metre{}
	for _, r := range b {
		if r.tick > first {
			ticks[r.tick] = true
		}
		metres[max(r.tick, first)] = r.metre
	}
	var anchors []timeline.Anchor
	for _, tick := range sortedTicks(ticks) {
		place := m.place(b, tick)
		a := timeline.Anchor{Bar: place.Bar, Beat: place.Beat, At: m.TimeAt(tick), Metre: metres[tick]}
		if n := len(anchors); n > 0 && place.Cmp(anchors[n-1].Place()) <= 0 {
			continue // rounded onto the one before
		}
		anchors = append(anchors, a)
	}
	return timeline.NewBeatMap(append(anchors, m.lastAnchor(b, anchors)))
}

// lastAnchor stands on the first bar line after the last event and the last
// anchor, so that the last tempo is told.
func (m *MIDI) lastAnchor(b bars, anchors []timeline.Anchor) timeline.Anchor {
	r := b[len(b)-1]
	end := max(m.end, m.tempos[len(m.tempos)-1].tick, r.tick)
	whole, _ := m.barsBetween(r, end)
	bar := max(r.bar+int(min(whole, mostBars)), anchors[len(anchors)-1].Bar) + 1
	ticks := int64(bar-r.bar) * int64(r.metre.Num) * 4 * m.quarter
	den := int64(r.metre.Den)
	at := m.TimeAt(r.tick + ticks/den)
	if left := ticks % den; left != 0 { // a bar line between two ticks
		at += (m.TimeAt(r.tick+ticks/den+1) - at) * timeline.Time(left) / timeline.Time(den)
	}
	return timeline.Anchor{Bar: bar, At: at}
}
