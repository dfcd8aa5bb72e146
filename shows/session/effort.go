package session

import (
	"sync/atomic"
	"time"
)

// Effort is what a session has spent on its show so far; what it foresees beside
// it is not counted.
type Effort struct {
	Compiles, Checks int           // how often it has compiled and checked
	Compile, Check   time.Duration // how long the last of each took
}

// effort counts it. Frames ask for it while a check goes on beside, so that it
// waits for no lock.
type effort struct {
	compiles, checks atomic.Int64
	compile, check   atomic.Int64 // nanoseconds
}

func (e *effort) compiling(since time.Time) {
	e.compiles.Add(1)
	e.compile.Store(int64(time.Since(since)))
}

func (e *effort) checking(since time.Time) {
	e.checks.Add(1)
	e.check.Store(int64(time.Since(since)))
}

// Effort gives what the session has spent so far. It may be asked from any goroutine.
func (s *Session) Effort() Effort {
	e := &s.now.effort
	return Effort{int(e.compiles.Load()), int(e.checks.Load()), time.Duration(e.compile.Load()), time.Duration(e.check.Load())}
}
