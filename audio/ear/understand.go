package ear

import "emberbeat/timeline"

// understand makes an Analysis of features: everything after the front end.
func understand(f *features, o Options) *Analysis {
	a := &Analysis{Duration: f.duration, Rate: f.rate}
	ons := f.findOnsets()
	for _, n := range ons {
		a.Onsets = append(a.Onsets, n.at)
	}
	z := salience(f.detection())
	if len(ons) < 4 {
		return a
	}
	per := periods()
	path := tempoPath(tempogram(z, per))
	at := func(frame int) float64 { return per[path[min(len(path)-1, int(float64(frame)/(tempoHop*fluxRate)))]] }
	var pulses []float64
	for _, t := range trackPulses(z, at, 40) {
		pulses = append(pulses, float64(t)/fluxRate)
	}
	parts := findParts(pulses, ons, f.duration)
	a.Beats = times(parts)
	a.BPM = 60 / mainPeriod(parts)
	a.Metre = timeline.Metre{Num: 4, Den: 4}
	for i := 0; i < len(a.Beats); i += 4 {
		a.Downbeats = append(a.Downbeats, a.Beats[i])
	}
	for _, p := range parts {
		q := Part{From: p.from, To: p.to, Steady: p.steady, BPM: a.BPM}
		if p.steady {
			q.Offset = p.offset
		}
		a.Parts = append(a.Parts, q)
	}
	a.Steady = len(parts) == 1 && parts[0].steady
	return a
}
