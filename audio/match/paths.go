package match

import (
	"cmp"
	"math"
	"slices"
)

// piece is a stretch of the new recording for which landmarks name one place in
// the old one: old frame = at + rate·new frame.
type piece struct {
	from, to int // frames of the new recording
	at       float64
	hits     int
}

const (
	windowFrames = 86  // 2 s that vote together
	windowHop    = 11  // a quarter of a second
	candidates   = 8   // places a window may choose from
	topVotes     = 40. // votes beyond which more say nothing
	leastVotes   = 3   // that a place must have
	nullVotes    = 4.  // what no place at all is worth
	toNull       = 10.
	jumpCost     = 20.
)

// vote is a place in the old recording that some hits of a window agree on.
type vote struct {
	at    int // old frame - rate·new frame, rounded
	count float64
}

// votesOf gives the places that the hits of each window agree on, best first.
// Hits are in order of the new recording.
func votesOf(hits []hit, rate float64, frames int) [][]vote {
	windows := max(1, (frames-windowFrames)/windowHop+2)
	all := make([][]vote, windows)
	b := newBallot(hits, rate)
	lo, hi := 0, 0 // of the hits that vote
	for w := range windows {
		from, to := int32(w*windowHop), int32(w*windowHop+windowFrames)
		for hi < len(hits) && hits[hi].new < to {
			b.named[b.places[hi]]++
			hi++
		}
		for lo < hi && hits[lo].new < from {
			b.named[b.places[lo]]--
			lo++
		}
		all[w] = b.best(b.places[lo:hi])
	}
	return all
}

// ballot counts how often hits name each place, those of one window at a time.
type ballot struct {
	first  int     // place of named[1]
	places []int32 // of each hit, as an index into named
	named  []int32 // one more on either side
	asked  []int32 // the window for which a place was last looked at
	window int32
}

func newBallot(hits []hit, rate float64) *ballot {
	b := &ballot{places: make([]int32, len(hits))}
	if len(hits) == 0 {
		return b
	}
	last := math.MinInt
	b.first = math.MaxInt
	for i, h := range hits {
		p := int(math.Round(float64(h.old) - rate*float64(h.new)))
		b.places[i] = int32(p)
		b.first, last = min(b.first, p), max(last, p)
	}
	for i := range b.places {
		b.places[i] -= int32(b.first - 1)
	}
	b.named, b.asked = make([]int32, last-b.first+3), make([]int32, last-b.first+3)
	return b
}

// best counts how many name places within one of each other, among those that the hits
// of a window name, and gives the most named ones, none within two of a better one.
func (b *ballot) best(places []int32) []vote {
	var wide []vote
	b.window++
	for _, p := range places {
		if b.asked[p] == b.window {
			continue
		}
		b.asked[p] = b.window
		if n := b.named[p-1] + b.named[p] + b.named[p+1]; n >= leastVotes {
			wide = append(wide, vote{b.first - 1 + int(p), float64(n)})
		}
	}
	slices.SortFunc(wide, func(a, b vote) int { return cmp.Or(cmp.Compare(b.count, a.count), cmp.Compare(a.at, b.at)) })
	var top []vote
	for _, v := range wide {
		if len(top) == candidates {
			break
		}
		if !slices.ContainsFunc(top, func(o vote) bool { return o.at-v.at <= 2 && v.at-o.at <= 2 }) {
			top = append(top, v)
		}
	}
	return top
}

// pathOf follows the places through the windows: staying is free, also where a
// place drifts by a frame; a jump costs, and so does leaving the old recording.
func pathOf(votes [][]vote) []piece {
	type node struct {
		score float64
		back  int // candidate of the window before; -1 none
	}
	const null = candidates // index of no place
	rows := make([][candidates + 1]node, len(votes))
	for w, vs := range votes {
		for c := range rows[w] {
			rows[w][c] = node{math.Inf(-1), -1}
		}
		gain := func(c int) float64 {
			if c == null {
				return nullVotes
			}
			return min(topVotes, vs[c].count)
		}
		for c := range candidates + 1 {
			if c != null && c >= len(vs) {
				continue
			}
			if w == 0 {
				rows[w][c] = node{gain(c), -1}
				continue
			}
			for p := range candidates + 1 {
				before := rows[w-1][p].score
				if math.IsInf(before, -1) {
					continue
				}
				switch {
				case p == null && c == null:
				case p == null || c == null:
					before -= toNull
				case abs(votes[w-1][p].at-vs[c].at) <= 1:
				default:
					before -= jumpCost
				}
				if s := before + gain(c); s > rows[w][c].score {
					rows[w][c] = node{s, p}
				}
			}
		}
	}
	last := len(votes) - 1
	c := 0
	for k, n := range rows[last] {
		if n.score > rows[last][c].score {
			c = k
		}
	}
	var pieces []piece
	for w := last; w >= 0; w-- {
		if c != null {
			v := votes[w][c]
			if n := len(pieces); n > 0 && pieces[n-1].from == (w+1)*windowHop && abs(int(math.Round(pieces[n-1].at))-v.at) <= 1 {
				pieces[n-1].from, pieces[n-1].at = w*windowHop, float64(v.at)
				pieces[n-1].hits += int(v.count)
			} else {
				pieces = append(pieces, piece{from: w * windowHop, to: w*windowHop + windowFrames, at: float64(v.at), hits: int(v.count)})
			}
		}
		c = rows[w][c].back
		if c < 0 {
			break
		}
	}
	slices.Reverse(pieces)
	return pieces
}

func abs(x int) int { return max(x, -x) }
