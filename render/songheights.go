package render

// Heights are the logical heights that a song's page shares out: of the waveform with the energy under it, of a lane, and of the density strip.
type Heights struct{ Wave, Lane, Density int }

// Heights at the ends of the steps in which free height is shared out.
var (
	leastHeights = Heights{96, 26, 24}  // where these do not fit, lanes scroll
	someHeights  = Heights{132, 36, 44} // reached one after the other: waveform, lanes, density
	fullHeights  = Heights{260, 48, 96} // waveform and lanes half each, then density; what is left is the waveform's
)

// FreeHeight shares out the logical height that the fixed rows of a song's page leave, between the waveform, lanes and the density strip. A lane
// height above 0 is kept as it is. A step that is not filled ends the sharing, so that a page that grows by a pixel changes one thing.
func FreeHeight(free, lanes, lane int) Heights {
	lanes = max(lanes, 1)
	h, some, full := leastHeights, someHeights, fullHeights
	if lane > 0 {
		h.Lane, some.Lane, full.Lane = lane, lane, lane
	}
	left := free - h.Wave - h.Lane*lanes - h.Density
	if left <= 0 {
		return h
	}
	give := func(to *int, most, each int) (filled bool) {
		d := min(left/each, most-*to)
		*to += d
		left -= d * each
		return *to == most
	}
	if !give(&h.Wave, some.Wave, 1) || !give(&h.Lane, some.Lane, lanes) || !give(&h.Density, some.Density, 1) {
		return h
	}
	half := left / 2
	byLane, byWave := min(half/lanes, full.Lane-h.Lane), min(left-half, full.Wave-h.Wave)
	h.Lane, h.Wave, left = h.Lane+byLane, h.Wave+byWave, left-byLane*lanes-byWave
	if h.Lane == full.Lane { // what one does not need of its half, the other takes
		give(&h.Wave, full.Wave, 1)
	} else if h.Wave == full.Wave {
		give(&h.Lane, full.Lane, lanes)
	}
	if h.Wave < full.Wave || h.Lane < full.Lane {
		return h
	}
	give(&h.Density, full.Density, 1)
	h.Wave += left
	return h
}
