package audio

import "sync/atomic"

// history remembers from which song frame on, and how fast, the device frames
// were streamed. One goroutine adds; others look up without holding it up.
type history struct {
	count   atomic.Int64
	entries [historySize]historyEntry
}

const historySize = 64

// historyEntry says that device frame at is song place pos + frac/den, and each
// one after it num/den further on.
type historyEntry struct {
	at, pos, frac, num, den atomic.Int64
}

// add says where the device frames from at on are.
func (h *history) add(at int64, c cursor, r ratio) {
	n := h.count.Load()
	e := &h.entries[n%historySize]
	e.at.Store(at)
	e.pos.Store(c.pos)
	e.frac.Store(c.frac)
	e.num.Store(r.num)
	e.den.Store(r.den)
	h.count.Store(n + 1)
}

// find gives the song frame of a device frame; of one that is older than what
// is remembered, the oldest known.
func (h *history) find(at int64) int64 {
	for {
		count := h.count.Load()
		if count == 0 {
			return 0
		}
		oldest := max(0, count-historySize+2) // the one before may be being overwritten
		i := count - 1
		for i > oldest && h.entries[i%historySize].at.Load() > at {
			i--
		}
		e := &h.entries[i%historySize]
		n := max(0, at-e.at.Load())
		frame := e.pos.Load() + floorDiv(e.frac.Load()+n*e.num.Load(), e.den.Load())
		if h.count.Load() < i+historySize-1 {
			return frame
		}
	}
}
