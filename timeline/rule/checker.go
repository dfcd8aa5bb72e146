package rule

import (
	"slices"

	"emberbeat/timeline"
)

// Check gives the findings of every rule about a plan, in a fixed order: what
// concerns show and rig first, then songs as they are played; in a song by
// time, then gravest first.
func Check(p *timeline.Plan, f Facts) []Finding { return NewChecker().Check(p, f) }

// Checker checks and remembers: a song whose plan is the very same as last
// time is not checked again, only joined with the others. It gives exactly what
// Check gives. It is not safe for concurrent use.
type Checker struct {
	env   *env
	rig   []Finding
	songs map[*timeline.SongPlan]*songResult
}

// NewChecker gives a checker that remembers nothing yet.
func NewChecker() *Checker { return &Checker{} }

// Check gives the findings about a plan; see the function Check. The findings
// are the caller's.
func (c *Checker) Check(p *timeline.Plan, f Facts) []Finding {
	if c.env == nil || !c.env.holdsFor(p) {
		c.env = newEnv(p)
		c.rig = c.env.checkRig(p)
		c.songs = nil
	}
	results := c.checkSongs(p)
	joined := newSetRun(c.env, p, f, results).check()
	all := gather(c.rig, f.Lost, joined, p, results)
	if unused := accept(all, p.Night); len(unused) > 0 {
		all = append(all, c.env.stale(unused, p.Night)...)
		sortFindings(all)
	}
	return all
}

// gather puts all findings into one list in their order. Those of a song are
// kept without a number, for a song may be played twice; they are in order
// already, and so are the songs, so that only all others are sorted among them.
func gather(rig, lost, joined []Finding, p *timeline.Plan, results []*songResult) []Finding {
	var others []placedFinding
	for _, part := range [][]Finding{rig, lost, joined} {
		for i := range part {
			others = append(others, placedFinding{part[i].Number, &part[i]})
		}
	}
	slices.SortStableFunc(others, placedFinding.compare)
	n := len(others)
	for _, r := range results {
		n += len(r.findings)
	}
	all := make([]Finding, 0, n)
	put := func(f placedFinding) {
		all = append(all, *f.finding)
		all[len(all)-1].Number = f.number
	}
	for i, r := range results {
		for k := range r.findings {
			f := placedFinding{p.Songs[i].Number, &r.findings[k]}
			for len(others) > 0 && others[0].compare(f) <= 0 {
				put(others[0])
				others = others[1:]
			}
			put(f)
		}
	}
	for _, f := range others {
		put(f)
	}
	return all
}

// checkSongs gives the result of each song in the set's order, from memory
// where it can, and forgets songs that are no longer in the plan.
func (c *Checker) checkSongs(p *timeline.Plan) []*songResult {
	results := make([]*songResult, len(p.Songs))
	kept := make(map[*timeline.SongPlan]*songResult, len(p.Songs))
	for i := range p.Songs {
		sp := p.Songs[i].SongPlan
		r := kept[sp]
		if r == nil {
			r = c.songs[sp]
		}
		if r == nil {
			r = c.env.checkSong(sp)
		}
		kept[sp], results[i] = r, r
	}
	c.songs = kept
	return results
}

// accept marks the findings that the night has accepted with the same values,
// and gives the acceptances that mark none.
func accept(all []Finding, night *timeline.Night) (unused []*timeline.Acceptance) {
	if night == nil || len(night.Accepted) == 0 {
		return nil
	}
	type key struct{ rule, record, values string }
	known := map[key]*timeline.Acceptance{}
	rules := map[string]bool{} // of which anything is accepted
	for i := range night.Accepted {
		a := &night.Accepted[i]
		known[key{a.Rule, a.Record, a.Values}] = a
		rules[a.Rule] = true
	}
	used := map[*timeline.Acceptance]bool{}
	for i := range all {
		f := &all[i]
		if !rules[f.Rule] {
			continue
		}
		if a := known[key{f.Rule, f.Ref.String(), f.Digest()}]; a != nil {
			f.Accepted, used[a] = a, true
		}
	}
	for i := range night.Accepted {
		if a := &night.Accepted[i]; !used[a] {
			unused = append(unused, a)
		}
	}
	return unused
}

// stale gives a note for each acceptance that marks no finding.
func (e *env) stale(unused []*timeline.Acceptance, night *timeline.Night) []Finding {
	k := e.settings[indexOf(staleAcceptanceRule.Name)].at(nil, nil, nil)
	if k.off {
		return nil
	}
	var list []Finding
	for _, a := range unused {
		list = append(list, Finding{Rule: staleAcceptanceRule.Name, Severity: k.severity, Ref: rigRef("night", night.ID),
			Text:   "accepted " + a.Rule + " of " + a.Record + " is no longer found with the same numbers",
			Values: []Value{word("rule", a.Rule), word("record", a.Record), word("values", a.Values)},
			Help:   "look at what is found now and accept that, or take the acceptance out"})
	}
	return list
}
