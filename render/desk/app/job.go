package app

import (
	"context"
	"errors"
	"fmt"
	"sync/atomic"
)

// job is long work beside the window, with its progress and a way to cancel it.
type job struct {
	name string
	stop context.CancelFunc
	done atomic.Int64 // in thousandths; negative while unknown
}

// run starts a job. What it returns is done by the window; its error is shown, unless it was cancelled.
func (a *App) run(name string, f func(ctx context.Context, progress func(float64)) (func(), error)) {
	ctx, stop := context.WithCancel(context.Background())
	j := &job{name: name, stop: stop}
	j.done.Store(-1)
	a.jobs = append(a.jobs, j)
	a.again = true
	a.say("began %s", name)
	go func() {
		then, err := guarded(ctx, f, func(part float64) {
			if n := int64(part * 1000); j.done.Swap(n)/10 != n/10 {
				a.o.Wake()
				a.post(func() {})
			}
		})
		stop()
		a.post(func() { a.ended(j, then, err) })
	}()
}

// ended takes a job off the list.
func (a *App) ended(j *job, then func(), err error) {
	for i, k := range a.jobs {
		if k == j {
			a.jobs = append(a.jobs[:i], a.jobs[i+1:]...)
			break
		}
	}
	switch {
	case errors.Is(err, context.Canceled):
		a.tell("cancelled: %s", j.name)
		a.say("cancelled %s", j.name)
	case err != nil:
		a.fail(err)
	case then != nil:
		then()
	}
	a.again = true
}

// guarded does work that reads files of others: a fault in it ends the work with an error, not the window.
func guarded(ctx context.Context, f func(context.Context, func(float64)) (func(), error), progress func(float64)) (then func(), err error) {
	defer func() {
		if fault := recover(); fault != nil {
			then, err = nil, fmt.Errorf("a fault in the program: %v; nothing was changed", fault)
		}
	}()
	return f(ctx, progress)
}
