package session

import (
	"maps"
	"sync"
	"time"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// pair compiles and checks. Compiler and checker remember songs that did not
// change and serve one goroutine at a time; each has its own lock, so that a
// frame that compiles does not wait for a check that goes on beside. The zero
// value is ready.
type pair struct {
	compiling sync.Mutex
	compiler  *timeline.Compiler
	last      *timeline.Plan

	checking sync.Mutex
	checker  *rule.Checker
	checked  checked

	effort effort
}

// checked is what the last check was of, and what it found.
type checked struct {
	plan  *timeline.Plan
	facts rule.Facts
	found []rule.Finding
}

// plan compiles a show for a night, nil for the tour. Asked for the same again,
// it gives the very same plan.
func (p *pair) plan(show *timeline.Show, night *timeline.Night) *timeline.Plan {
	p.compiling.Lock()
	defer p.compiling.Unlock()
	if p.last == nil || p.last.Show != show || p.last.Night != night {
		defer p.effort.compiling(time.Now())
		p.last = p.compile().Compile(show, night)
	}
	return p.last
}

// song compiles one song alone, whether or not a set holds it.
func (p *pair) song(show *timeline.Show, song timeline.ID, night *timeline.Night) *timeline.Plan {
	p.compiling.Lock()
	defer p.compiling.Unlock()
	defer p.effort.compiling(time.Now())
	return p.compile().CompileSong(show, song, night)
}

func (p *pair) compile() *timeline.Compiler {
	if p.compiler == nil {
		p.compiler = timeline.NewCompiler()
	}
	return p.compiler
}

func (p *pair) check(plan *timeline.Plan, facts rule.Facts) []rule.Finding {
	p.checking.Lock()
	defer p.checking.Unlock()
	if p.checker == nil {
		p.checker = rule.NewChecker()
	}
	defer p.effort.checking(time.Now())
	p.checked = checked{plan, facts, p.checker.Check(plan, facts)}
	return p.checked.found
}

// look gives plan and findings of a show on a night: those of the last check
// where it was of the same.
func (p *pair) look(show *timeline.Show, night *timeline.Night, facts rule.Facts) (*timeline.Plan, []rule.Finding) {
	p.checking.Lock()
	last := p.checked
	p.checking.Unlock()
	if last.plan != nil && last.plan.Show == show && last.plan.Night == night && sameFacts(last.facts, facts) {
		return last.plan, last.found
	}
	plan := p.plan(show, night)
	return plan, p.check(plan, facts)
}

// sameFacts reports whether a check finds the same with both. Lost findings
// have no order that counts, and are the same only where there are none.
func sameFacts(a, b rule.Facts) bool {
	return a.Today == b.Today && len(a.Lost)+len(b.Lost) == 0 && (a.Audio == nil) == (b.Audio == nil) && maps.EqualFunc(a.Audio, b.Audio, rule.AudioFact.Same)
}

// Plan compiles the current snapshot for a night; "" is the tour itself.
func (s *Session) Plan(night timeline.ID) *timeline.Plan {
	show := s.Show()
	return s.PlanOf(show, show.Night(night))
}

// PlanOf compiles a snapshot for a night, nil for the tour: the current one, or
// one that was tried. Only the songs that differ from those of the last call are
// compiled, and for the same snapshot and night it gives the very same plan.
func (s *Session) PlanOf(show *timeline.Show, night *timeline.Night) *timeline.Plan {
	return s.now.plan(show, night)
}

// SongPlanOf compiles one song of a snapshot alone, whether or not a set holds
// it; nil where there is no such song.
func (s *Session) SongPlanOf(show *timeline.Show, song timeline.ID, night *timeline.Night) *timeline.Plan {
	return s.now.song(show, song, night)
}

// CheckPlan gives the findings of all rules about a plan of this session and
// what is known of the recordings. They are remembered and not to be changed.
func (s *Session) CheckPlan(p *timeline.Plan, facts rule.Facts) []rule.Finding {
	return s.now.check(p, facts)
}
