package ear

import "math"

// A barring is one way to group beats: a bar every beats, the first on beat phase.
type barring struct {
	beats, phase int
	x            []float64
	score        float64
	share        float64 // its part in the whole, once chosen
}

var barBeats = []int{2, 3, 4, 5, 6, 7}

// beatFacts is what each beat brings that could mark the start of a bar.
type beatFacts struct {
	power  [bandCount][]float64 // salience on the beat
	half   [bandCount][]float64 // and half way to the next
	treble []float64            // change of harmony
	bass   []float64
	jump   []float64    // change of the broad spectrum, short against long
	wide   [8][]float64 // change of harmony from the bar before to the bar after, by beats in a bar
	tempo  float64      // logarithm of beats a minute over 100
	threes float64      // -1 where the beats fall into halves .. 1 into thirds
	first  int          // beat of the first onset, -1 if none
}

func newBeatFacts(f *features, beats []float64, first float64) *beatFacts {
	b := &beatFacts{first: -1}
	b.subdivide(salience(f.detection()), beats)
	n := len(beats)
	mid := make([]float64, n)
	for i := range beats {
		next := beats[i] + (beats[i] - beats[max(0, i-1)])
		if i+1 < n {
			next = beats[i+1]
		}
		mid[i] = (beats[i] + next) / 2
		if math.Abs(first-beats[i]) < 0.25*(next-beats[i]) {
			b.first = i
		}
	}
	for k := range f.flux {
		z := salience(f.flux[k])
		b.power[k] = sample(z, beats, 3)
		b.half[k] = sample(z, mid, 3)
	}
	h := f.harmony()
	for i, t := range beats {
		span := 2 * (mid[i] - t)
		tr, ba := h.change(t, span)
		t2, b2 := h.change(t, 2*span)
		b.treble = append(b.treble, tr+t2)
		b.bass = append(b.bass, ba+b2)
		b.jump = append(b.jump, f.timbreJump(t, span))
		for _, m := range barBeats {
			tr, ba := h.change(t, float64(m)*span)
			b.wide[m] = append(b.wide[m], tr+ba)
		}
	}
	return b
}

// subdivide works out the tempo and what the beats fall into.
func (b *beatFacts) subdivide(z []float32, beats []float64) {
	part := func(share float64) float64 {
		at := make([]float64, 0, len(beats))
		for i := 1; i < len(beats); i++ {
			at = append(at, beats[i-1]+share*(beats[i]-beats[i-1]))
		}
		return fold(sample(z, at, 2), 1, 0)
	}
	n := len(beats)
	b.tempo = math.Log(60 * float64(n-1) / (beats[n-1] - beats[0]) / 100)
	b.threes = min(max(ratio(min(part(1./3), part(2./3)), part(0.5)), -1), 1)
}

// between is the facts of some of the beats.
func (b *beatFacts) between(from, to int) *beatFacts {
	v := &beatFacts{treble: b.treble[from:to], bass: b.bass[from:to], jump: b.jump[from:to], first: -1, tempo: b.tempo, threes: b.threes}
	for k := range b.power {
		v.power[k], v.half[k] = b.power[k][from:to], b.half[k][from:to]
	}
	for _, m := range barBeats {
		v.wide[m] = b.wide[m][from:to]
	}
	if b.first >= from && b.first < to {
		v.first = b.first - from
	}
	return v
}

// timbreJump compares the broad spectrum of the next four beats with the last four.
func (f *features) timbreJump(t, span float64) float64 {
	n := len(f.timbre) / timbreLen
	at := func(s float64) int { return min(max(int(math.Round(s*toneRate)), 0), n) }
	a, m, b := at(t-4*span), at(t), at(t+4*span)
	if m-a < 4 || b-m < 4 {
		return 0
	}
	sum := 0.0
	for j := range timbreLen {
		var u, v float64
		for i := a; i < m; i++ {
			u += float64(f.timbre[i*timbreLen+j])
		}
		for i := m; i < b; i++ {
			v += float64(f.timbre[i*timbreLen+j])
		}
		sum += math.Abs(u/float64(m-a) - v/float64(b-m))
	}
	return sum / timbreLen
}

// barrings lists and describes every grouping.
func (b *beatFacts) barrings() []barring {
	var out []barring
	n := len(b.treble)
	for _, m := range barBeats {
		if n < 4*m {
			continue
		}
		for p := range m {
			r := barring{beats: m, phase: p}
			b.describe(&r)
			out = append(out, r)
		}
	}
	return out
}

func (b *beatFacts) describe(r *barring) {
	m, p := r.beats, r.phase
	add := func(v ...float64) { r.x = append(r.x, v...) }
	for _, k := range barBeats[1:] {
		add(truthy(k == m))
	}
	for _, k := range barBeats[:2] {
		add(b.tempo*truthy(k == m), b.threes*truthy(k == m), b.tempo*b.threes*truthy(k == m))
	}
	rel := func(v []float64, soft float64) float64 {
		return math.Log((fold(v, m, p) + soft) / (fold(v, 1, 0) + soft))
	}
	add(rel(b.treble, 0.02), rel(b.bass, 0.02), rel(b.jump, 0.05), rel(b.wide[m], 0.02))
	for k := range b.power {
		add(rel(b.power[k], softLog))
	}
	// the beat after, the middle of the bar, and the up-beat before
	at := func(v []float64, s int) float64 {
		return math.Log((fold(v, m, (p+s)%m) + softLog) / (fold(v, 1, 0) + softLog))
	}
	add(at(b.power[bandLow], 1), at(b.power[bandMid], 1), at(b.power[bandHigh], 1))
	add(at(b.power[bandLow], m/2), at(b.power[bandMid], m/2), at(b.treble, m/2))
	add(at(b.power[bandLow], m-1), at(b.power[bandMid], m-1), at(b.power[bandHigh], m-1))
	// every second bar: phrases
	best := 0.0
	for q := range 2 {
		best = max(best, fold(b.jump, 2*m, p+q*m))
	}
	add(math.Log((best + 0.05) / (fold(b.jump, 1, 0) + 0.05)))
	// likeness of the bar to the next one, against other lengths
	add(b.repeat(m))
	add(truthy(b.first >= 0 && (b.first-p)%m == 0))
}

// repeat is the correlation of the beats' facts at a distance of m beats.
func (b *beatFacts) repeat(m int) float64 {
	sum := 0.0
	for _, v := range [][]float64{b.power[bandLow], b.power[bandMid], b.treble, b.bass} {
		sum += lagCorrelation(v, m)
	}
	return sum / 4
}

func lagCorrelation(v []float64, lag int) float64 {
	mean := fold(v, 1, 0)
	var xx, xy float64
	for i := range v {
		a := v[i] - mean
		xx += a * a
		if i+lag < len(v) {
			xy += a * (v[i+lag] - mean)
		}
	}
	if xx == 0 {
		return 0
	}
	return xy / xx * float64(len(v)) / float64(max(1, len(v)-lag))
}
