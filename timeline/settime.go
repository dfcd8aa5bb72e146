package timeline

// SetTimes gives when each song of a plan starts and when the last one ends, in
// the worst case: of alternatives only the longest lasts, gap included, and
// those that follow each other start together. PlanSong.At counts them all.
func (p *Plan) SetTimes() (starts []Time, end Time) {
	choices := p.Choices()
	lasts := make([]int64, len(p.Songs))
	for i := range p.Songs {
		lasts[i] = int64(p.Songs[i].Duration + p.Songs[i].Entry.Gap)
	}
	longest := Worst(choices, lasts)
	starts = make([]Time, len(p.Songs))
	var at Time
	for i := range p.Songs {
		if i > 0 && choices[i] != "" && choices[i] == choices[i-1] {
			starts[i] = starts[i-1]
		} else {
			starts[i] = at
		}
		end = max(end, starts[i]+p.Songs[i].Duration)
		if longest[i] {
			at = max(at, starts[i]+Time(lasts[i]))
		}
	}
	return starts, end
}
