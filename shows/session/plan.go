package session

import (
	"sync"

	"emberbeat/timeline"
)

// planning compiles for one goroutine at a time; it remembers songs that did
// not change. The zero value is ready.
type planning struct {
	mu       sync.Mutex
	compiler *timeline.Compiler
}

// Plan compiles the current snapshot for a night; "" is the tour itself.
func (s *Session) Plan(night timeline.ID) *timeline.Plan {
	show := s.Show()
	s.planning.mu.Lock()
	defer s.planning.mu.Unlock()
	if s.planning.compiler == nil {
		s.planning.compiler = timeline.NewCompiler()
	}
	return s.planning.compiler.Compile(show, show.Night(night))
}
