package session

import (
	"sync"

	"emberbeat/timeline"
)

// planning compiles for one goroutine at a time; it remembers songs that did
// not change.
type planning struct {
	mu       sync.Mutex
	compiler *timeline.Compiler
}

// Plan compiles the current snapshot for a night; "" is the tour itself.
func (s *Session) Plan(night timeline.ID) *timeline.Plan { return s.planning.plan(s.Show(), night) }

func (p *planning) plan(show *timeline.Show, night timeline.ID) *timeline.Plan {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.compiler == nil {
		p.compiler = timeline.NewCompiler()
	}
	return p.compiler.Compile(show, show.Night(night))
}
