package shows

import (
	"runtime"
	"sync"
)

// each calls f for 0..n-1, on all processors.
func each(n int, f func(i int)) { eachOf(n, runtime.GOMAXPROCS(0), f) }

func eachOf(n, workers int, f func(i int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(n, workers) {
		wg.Go(func() {
			for i := range next {
				f(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}
