package match

import (
	"cmp"
	"slices"
)

// Landmarks (after Wang 2003): peaks of the spectrum, taken two by two. What
// their bands and the time between them are survives coding, noise and
// filters; where the same pairs follow each other in two recordings, it is the same sound.

// mark is a pair of peaks.
type mark struct {
	frame     int32 // of the first
	low, high uint8 // bands of the first and the second, in order of time
	frames    uint8 // from one to the other
}

const (
	aroundFrames = 6 // a peak is the highest within so many frames
	aroundBands  = 3 // and bands
	partners     = 5 // pairs a peak begins
	nearestPair  = 3 // frames between the peaks of a pair
	farthestPair = 120
	widestPair   = 30  // bands between them
	underTop     = 120 // steps of level below the loudest band of a frame that a peak may lie: 60 dB
)

// peak is a place in the spectrum that stands out.
type peak struct {
	frame int32
	band  uint8
}

// peaksOf finds what stands out in a band spectrum, in order of time.
func peaksOf(bands []uint8) []peak {
	frames := len(bands) / bandCount
	tall := make([]uint8, len(bands)) // highest within ±aroundBands
	for f := range frames {
		row, out := bands[f*bandCount:(f+1)*bandCount], tall[f*bandCount:(f+1)*bandCount]
		for k := range row {
			top := uint8(0)
			for _, v := range row[max(0, k-aroundBands):min(bandCount, k+aroundBands+1)] {
				top = max(top, v)
			}
			out[k] = top
		}
	}
	var all []peak
	for f := range frames {
		row := bands[f*bandCount : (f+1)*bandCount]
		top := slices.Max(row)
		floor := max(20, int(top)-underTop)
		for k, v := range row {
			if int(v) <= floor || v < tall[f*bandCount+k] {
				continue
			}
			stands := true
			for g := max(0, f-aroundFrames); g < min(frames, f+aroundFrames+1) && stands; g++ {
				o := tall[g*bandCount+k]
				stands = o < v || o == v && g >= f // of two alike the first
			}
			if stands {
				all = append(all, peak{int32(f), uint8(k)})
			}
		}
	}
	return all
}

// marksOf pairs the peaks of a band spectrum, in order of time.
func marksOf(bands []uint8) []mark {
	peaks := peaksOf(bands)
	marks := make([]mark, 0, len(peaks)*partners)
	for i, p := range peaks {
		n := 0
		for _, q := range peaks[i+1:] {
			d := q.frame - p.frame
			if d > farthestPair || n == partners {
				break
			}
			if apart := int(q.band) - int(p.band); d >= nearestPair && apart < widestPair && apart > -widestPair {
				marks = append(marks, mark{frame: p.frame, low: p.band, high: q.band, frames: uint8(d)})
				n++
			}
		}
	}
	return marks
}

// index finds marks by their bands and time.
type index struct {
	keys   []uint32
	frames []int32
	starts []int32  // of the keys with the same upper bits
	here   []uint64 // a bit for each key: most that are asked are not here
}

const (
	keyBits   = 21
	tableBits = 15
	common    = 20 // a pair heard more often tells nothing
)

func key(low, high, frames int) uint32 { return uint32(low)<<14 | uint32(high)<<7 | uint32(frames) }

func newIndex(marks []mark) *index {
	type entry struct {
		key   uint32
		frame int32
	}
	all := make([]entry, len(marks))
	for i, m := range marks {
		all[i] = entry{key(int(m.low), int(m.high), int(m.frames)), m.frame}
	}
	slices.SortFunc(all, func(a, b entry) int { return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.frame, b.frame)) })
	x := &index{starts: make([]int32, 1<<tableBits+1)}
	for i := 0; i < len(all); {
		j := i
		for j < len(all) && all[j].key == all[i].key {
			j++
		}
		if j-i <= common {
			for _, e := range all[i:j] {
				x.keys, x.frames = append(x.keys, e.key), append(x.frames, e.frame)
			}
		}
		i = j
	}
	x.here = make([]uint64, 1<<keyBits/64)
	for _, k := range x.keys {
		x.here[k/64] |= 1 << (k % 64)
	}
	at := 0
	for t := range x.starts {
		for at < len(x.keys) && int(x.keys[at]>>(keyBits-tableBits)) < t {
			at++
		}
		x.starts[t] = int32(at)
	}
	return x
}

// marksIndex is the index of a recording's marks, made once.
func (s *Side) marksIndex() *index {
	s.once.Do(func() { s.index = newIndex(s.marks) })
	return s.index
}

// find gives the frames of the marks with a key.
func (x *index) find(k uint32) []int32 {
	if x.here[k/64]&(1<<(k%64)) == 0 {
		return nil
	}
	t := k >> (keyBits - tableBits)
	from, to := int(x.starts[t]), int(x.starts[t+1])
	for from < to && x.keys[from] < k {
		from++
	}
	end := from
	for end < to && x.keys[end] == k {
		end++
	}
	return x.frames[from:end]
}

// hit says that a mark of the new recording is in the old one.
type hit struct{ new, old int32 } // frames

// change is how the new recording may differ from the old one throughout.
type change struct {
	rate  float64 // old seconds in one new second
	bands int     // the old recording lies so many bands higher
}

// hits looks up the marks of a new recording in the old one's. of takes every
// so-manieth of them.
func (x *index) hits(marks []mark, c change, of int) []hit {
	var all []hit
	for i := 0; i < len(marks); i += of {
		m := marks[i]
		low, high := int(m.low)+c.bands, int(m.high)+c.bands
		if low < 0 || high < 0 || low >= bandCount || high >= bandCount {
			continue
		}
		mid := int(float64(m.frames)*c.rate + 0.5)
		for d := mid - 1; d <= mid+1; d++ { // an edit moves the sound against the frames
			if d < nearestPair || d > farthestPair {
				continue
			}
			for _, f := range x.find(key(low, high, d)) {
				all = append(all, hit{m.frame, f})
			}
		}
	}
	return all
}
