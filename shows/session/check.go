package session

import (
	"context"
	"sync"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// checking checks for one goroutine at a time; it remembers songs whose plan
// did not change. The zero value is ready.
type checking struct {
	mu      sync.Mutex
	checker *rule.Checker
}

func (c *checking) check(p *timeline.Plan, f rule.Facts) []rule.Finding {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.checker == nil {
		c.checker = rule.NewChecker()
	}
	return c.checker.Check(p, f)
}

// Check compiles the current snapshot for a night and gives the findings of
// all rules; "" is the tour itself.
func (s *Session) Check(ctx context.Context, night timeline.ID) (*timeline.Plan, []rule.Finding) {
	facts := s.Facts(ctx)
	p := s.Plan(night)
	return p, s.checking.check(p, facts)
}
