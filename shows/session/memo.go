package session

import "sync"

// fileMemo remembers hashes of recordings by their size and time.
type fileMemo struct {
	mu sync.Mutex
}
