package figure

// Paper is where paper may be that has been shot: a capsule on the plan from the
// unit to the foot of its tip, up to a height.
type Paper struct {
	From, To Point
	Radius   float64
	Top      float64
}

// PaperOf gives where paper may be that leaves along an envelope: burst is how
// wide it bursts, air how fast the air carries it, hang how long it hangs,
// streamer the length of what hangs together.
func PaperOf(e *Envelope, burst, air, hang, streamer float64) Paper {
	return Paper{e.At.Plan(), e.End().Plan(), burst + air*hang + streamer, max(e.At.Z, e.End().Z)}
}

// HotShadow is a hot effect seen from above, and its lowest point.
type HotShadow struct {
	From, To Point
	Radius   float64
	Bottom   float64
}

// Apart gives the gap on the plan between paper and something hot.
func (p Paper) Apart(h HotShadow) float64 {
	return Apart(p.From, p.To, h.From, h.To) - p.Radius - h.Radius
}

// Meets says what it is worth that paper and something hot are where they are:
// an error while paper is in the air, a warning where it has come down before.
// What burns wholly above the paper, or is over before, is worth nothing.
func (p Paper) Meets(h HotShadow, paper, hot Span) (gap, overlap float64, word Word) {
	gap = p.Apart(h)
	overlap = min(paper.To, hot.To) - max(paper.From, hot.From)
	switch {
	case gap > 0 || h.Bottom > p.Top:
		return gap, overlap, NoWord
	case overlap > 0:
		return gap, overlap, Err
	case hot.From >= paper.To:
		return gap, overlap, Warn
	}
	return gap, overlap, NoWord
}

// Span is a time from one second to another.
type Span struct{ From, To float64 }
