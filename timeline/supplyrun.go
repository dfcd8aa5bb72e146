package timeline

// SupplyRun is how one supply runs through a plan in the worst case: what it
// holds at the start and after each planned refill, what songs and keys draw.
// Masses are whole milligrams, and estimates.
type SupplyRun struct {
	plan    *Plan
	supply  *Supply
	choices []string
	anyTime int64   // by keys that may be pressed at any time of the show
	drawn   []int64 // by song, of timecode and keys
	byHand  []int64 // by song, of keys alone
}

// Run joins what timecode draws from a supply in each song (see Feeds.Drawn)
// with what keys draw and refills bring.
func (p *Plan) Run(s *Supply, timecode []int64) *SupplyRun {
	r := &SupplyRun{plan: p, supply: s, choices: p.Choices(), drawn: make([]int64, len(p.Songs))}
	r.anyTime, r.byHand = p.ByHand(s)
	for i := range r.drawn {
		r.drawn[i] = timecode[i] + r.byHand[i]
	}
	return r
}

// Stage is what a supply holds when song j is played: from the start of the
// show, or from the last refill before the song that surely happens, which is
// Refill then. Usable is what can be drawn, Reserve what should be left.
type Stage struct {
	Refill          *PlannedRefill
	Usable, Reserve int64
}

// Stage gives the stage song j belongs to.
func (r *SupplyRun) Stage(j int) Stage {
	f := r.plan.refillBefore(r.supply, j)
	if f == nil {
		usable, reserve := r.plan.Usable(r.supply)
		return Stage{nil, usable, reserve}
	}
	usable, reserve := r.supply.usable(f.Holds())
	return Stage{f, usable, reserve}
}

// usable gives what can be drawn of a fill, and the reserve in it.
func (s *Supply) usable(kg float64) (usable, reserve int64) {
	return milligrams(kg * s.Usable), milligrams(kg * s.Usable * s.Reserve)
}

// Before gives the least that can be left when song j starts, what keys take
// at any time and in that song already taken off: they may be pressed first.
func (r *SupplyRun) Before(j int) int64 {
	stage, from := r.Stage(j), 0
	if stage.Refill != nil {
		from = stage.Refill.Song + 1
	}
	return stage.Usable - r.anyTime - r.byHand[j] - WorstBefore(r.choices[from:], r.drawn[from:], j-from)
}

// Used is the most that is drawn over the whole plan.
func (r *SupplyRun) Used() int64 { return r.anyTime + worstSum(r.choices, r.drawn) }

// ByHand is the most that keys draw of it in one song, or at any time of the
// show for -1.
func (r *SupplyRun) ByHand(song int) int64 {
	if song < 0 {
		return r.anyTime
	}
	return r.byHand[song]
}

// End gives the last stage of the plan, and the least that can be left when it
// is over.
func (r *SupplyRun) End() (stage Stage, left int64) {
	stage = r.Stage(len(r.plan.Songs))
	from := 0
	if stage.Refill != nil {
		from = stage.Refill.Song + 1
	}
	return stage, stage.Usable - r.anyTime - worstSum(r.choices[from:], r.drawn[from:])
}

// Run gives the run that the supply's levels come from.
func (s *SupplyPlan) Run() *SupplyRun { return s.run }
