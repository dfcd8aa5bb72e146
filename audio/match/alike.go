package match

import (
	"math"
	"slices"
)

// Which song is a recording of? Landmarks know the same sound at once; a song
// played anew is known by its harmony: where long stretches of both go through
// the same pitch classes in the same order, at about the same pace and in any key
// (after Serrà, Serra & Andrzejak 2009).

const (
	chromaFrames = 22 // frames of the band spectrum to one of harmony: 0.51 s
	pitches      = 12
	embedded     = 9   // frames of harmony that are compared as one: 4.6 s
	nearestShare = 0.1 // of the other recording that counts as near
	gapFirst     = 0.5 // what a mismatch costs
	gapMore      = 0.5 // and the next one in a row
)

// chromaOf folds a band spectrum to pitch classes.
func chromaOf(bands []uint8) []float32 {
	frames := len(bands) / bandCount
	n := frames / chromaFrames
	out := make([]float32, n*pitches)
	for i := range n {
		c := out[i*pitches : (i+1)*pitches]
		for f := i * chromaFrames; f < (i+1)*chromaFrames; f++ {
			row := bands[f*bandCount : (f+1)*bandCount]
			floor := max(hushed, ranked(row, bandCount*2/3))
			for k, v := range row[1:] { // the quarter tones around each pitch of a piano at 440 Hz
				if v > floor {
					c[k/2%pitches] += float32(v - floor)
				}
			}
		}
		var sum, square float32
		for _, v := range c {
			sum += v
		}
		for k := range c {
			c[k] -= sum / pitches
			square += c[k] * c[k]
		}
		if square > 0 {
			s := float32(1 / math.Sqrt(float64(square)))
			for k := range c {
				c[k] *= s
			}
		}
	}
	return out
}

// ranked is the level that so many of a row do not exceed.
func ranked(row []uint8, under int) uint8 {
	var of [256]uint8 // how many have each level; a row is shorter
	for _, v := range row {
		of[v]++
	}
	n := 0
	for v, k := range of {
		if n += int(k); n > under {
			return uint8(v)
		}
	}
	return 255
}

// SameSong is the likeness from which on two recordings are taken for the same
// song: set between pairs of one song and pairs of two, see the tests.
const SameSong = 0.5

// Alike says how alike two recordings are by what is heard, 0 to 1: from
// SameSong on they are of one song, whether cut, made anew or played by others.
// It takes some hundredths of a second; a and b may be Compact.
func Alike(a, b *Side) float64 {
	if len(a.marks) == 0 || len(b.marks) == 0 {
		return 0
	}
	same := sharedMarks(a, b)
	if same >= SameSong {
		return same
	}
	return max(same, sharedHarmony(a, b))
}

// sharedMarks is the likeness by landmarks: the part of the shorter recording's
// that agree on places in the other one, scaled.
func sharedMarks(a, b *Side) float64 {
	if len(b.marks) > len(a.marks) {
		a, b = b, a
	}
	of := max(1, len(b.marks)/searchFirst)
	n := agreement(a.marksIndex().hits(b.marks, change{rate: 1}, of), 1)
	return squash(n/(float64(len(b.marks))/float64(of)), halfMarks)
}

// squash maps 0..∞ to 0..1, half to SameSong.
func squash(x, half float64) float64 { return x / (x + half) }

const (
	halfMarks   = 0.2 // a fifth: what is put in from another song stays below
	halfHarmony = 1.7 // between 1.3, the most that two songs had, and 2.5, the least that one had
)

// sharedHarmony is the likeness by harmony.
func sharedHarmony(a, b *Side) float64 { return squash(harmony(a.chroma, b.chroma), halfHarmony) }

// harmony is the weight of the longest stretch that two recordings go through
// alike, in the key in which they are most alike, against a power of the shorter
// one's length: chance grows with it, but not as fast.
func harmony(a, b []float32) float64 {
	n, m := len(a)/pitches, len(b)/pitches
	if n < 2*embedded || m < 2*embedded {
		return 0
	}
	best := 0.0
	for _, shift := range likelyKeys(a, b) {
		best = max(best, longestAlike(a, b, shift))
	}
	return best / math.Pow(float64(min(n, m)), 0.75)
}

// likelyKeys gives the transpositions at which the means are most alike.
func likelyKeys(a, b []float32) []int {
	mean := func(c []float32) (m [pitches]float64) {
		for i, v := range c {
			m[i%pitches] += float64(v)
		}
		return m
	}
	x, y := mean(a), mean(b)
	var by [pitches]float64
	all := make([]int, pitches)
	for s := range pitches {
		all[s] = s
		for k := range pitches {
			by[s] += x[k] * y[(k+s)%pitches]
		}
	}
	slices.SortStableFunc(all, func(s, t int) int {
		switch {
		case by[s] > by[t]:
			return -1
		case by[s] < by[t]:
			return 1
		}
		return 0
	})
	return all[:2]
}

// longestAlike is the weight of the best path through what is mutually near.
func longestAlike(a, b []float32, shift int) float64 {
	n, m := len(a)/pitches, len(b)/pitches
	turned := make([]float32, len(b))
	for j := range m {
		for k := range pitches {
			turned[j*pitches+k] = b[j*pitches+(k+shift)%pitches]
		}
	}
	one := make([]float32, n*m)
	for i := range n {
		x := a[i*pitches : (i+1)*pitches]
		for j := range m {
			y := turned[j*pitches : (j+1)*pitches : (j+1)*pitches]
			var sum float32
			for k, v := range x {
				sum += v * y[k]
			}
			one[i*m+j] = sum
		}
	}
	rows, columns := n-embedded+1, m-embedded+1
	near := make([]float32, rows*columns)
	for d := -(columns - 1); d < rows; d++ { // along the diagonals
		i, j := max(d, 0), max(-d, 0)
		var sum float32
		for k := range embedded {
			sum += one[(i+k)*m+j+k]
		}
		for ; i < rows && j < columns; i, j = i+1, j+1 {
			near[i*columns+j] = sum
			if i+embedded < n && j+embedded < m {
				sum += one[(i+embedded)*m+j+embedded] - one[i*m+j]
			}
		}
	}
	// a pair counts where each is among the nearest of the other
	rowLeast, columnLeast := make([]float32, rows), make([]float32, columns)
	line := make([]float32, max(rows, columns))
	for i := range rows {
		copy(line, near[i*columns:(i+1)*columns])
		rowLeast[i] = upper(line[:columns])
	}
	for j := range columns {
		for i := range rows {
			line[i] = near[i*columns+j]
		}
		columnLeast[j] = upper(line[:rows])
	}
	// best paths, in steps of one in one, one in two or two in one
	q := make([][]float32, 3)
	isNear := make([][]bool, 3)
	for k := range q {
		q[k], isNear[k] = make([]float32, columns), make([]bool, columns)
	}
	best := float32(0)
	for i := range rows {
		now, last, before := q[i%3], q[(i+2)%3], q[(i+1)%3]
		nowNear, lastNear, beforeNear := isNear[i%3], isNear[(i+2)%3], isNear[(i+1)%3]
		for j := range columns {
			v := near[i*columns+j]
			nowNear[j] = v > 0 && v >= rowLeast[i] && v >= columnLeast[j]
			now[j] = 0
			if i < 2 || j < 2 {
				continue
			}
			if nowNear[j] {
				now[j] = 1 + max(last[j-1], last[j-2], before[j-1])
			} else {
				gap := func(v float32, was bool) float32 {
					if was {
						return v - gapFirst
					}
					return v - gapMore
				}
				now[j] = max(0, gap(last[j-1], lastNear[j-1]), gap(last[j-2], lastNear[j-2]), gap(before[j-1], beforeNear[j-1]))
			}
			best = max(best, now[j])
		}
	}
	return float64(best)
}

// upper is the value that nearestShare of a list reach; the list is sorted by it.
func upper(list []float32) float32 {
	slices.Sort(list)
	return list[len(list)-1-int(nearestShare*float64(len(list)-1))]
}
