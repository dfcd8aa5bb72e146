package ear

import (
	"math"
	"slices"
)

const (
	sectionFee      = 2.5  // usual steps from bar to bar that a section must save
	shortestSection = 4    // bars
	longestSection  = 32   // bars
	likeness        = 0.55 // share of the median distance below which sections share a letter
)

// findSections groups bars that sound alike: dynamic programming over bar
// lines, where a section costs the spread of its bars and a fixed fee, less for
// 4, 8 and 16 bars. The fee is measured by how much a bar differs from the next.
func (f *features) findSections(bars []float64, duration float64) []Section {
	if len(bars) < 2*shortestSection {
		return nil
	}
	x := f.barVectors(bars, duration)
	n := len(x)
	spread := spreads(x)
	fee := sectionFee * usualStep(x)
	cost, from := make([]float64, n+1), make([]int, n+1)
	for j := 1; j <= n; j++ {
		cost[j] = math.Inf(1)
		for i := max(0, j-longestSection); i < j; i++ {
			if j-i < shortestSection && i > 0 && j < n {
				continue
			}
			c := cost[i] + spread(i, j) + fee*sizeFee(j-i)
			if c < cost[j] {
				cost[j], from[j] = c, i
			}
		}
	}
	var cuts []int
	for j := n; j > 0; j = from[j] {
		cuts = append(cuts, j)
	}
	cuts = append(cuts, 0)
	slices.Reverse(cuts)
	return f.nameSections(x, cuts, bars, duration)
}

// usualStep is half the square of the usual distance of a bar from the next.
func usualStep(x [][]float64) float64 {
	var d []float64
	for i := 1; i < len(x); i++ {
		v := distance(x[i-1], x[i])
		d = append(d, v*v/2)
	}
	return median(d) + 1e-6
}

func sizeFee(bars int) float64 {
	switch {
	case bars%8 == 0:
		return 0.8
	case bars%4 == 0:
		return 0.9
	case bars%2 == 0:
		return 1.1
	}
	return 1.25
}

// The groups of dimensions that describe a bar, and what each counts.
var barGroups = []struct {
	dims   int
	weight float64
}{{toneBins, 1}, {toneBins, 1}, {timbreLen, 2}, {bandCount * barQuarters, 1.5}, {1, 1}}

const (
	barQuarters = 4   // parts of a bar whose hits are looked at
	barClip     = 2.5 // usual spreads beyond which a bar is no further off
)

// barVectors describes each bar by harmony, bass, broad spectrum, hits and
// loudness, every dimension in units of its usual spread over the song.
func (f *features) barVectors(bars []float64, duration float64) [][]float64 {
	out := make([][]float64, len(bars))
	h := f.harmony()
	for i, t := range bars {
		end := duration
		if i+1 < len(bars) {
			end = bars[i+1]
		}
		v := make([]float64, 2*toneBins+timbreLen)
		h.mean(t, end, v[:2*toneBins])
		f.meanTimbre(t, end, v[2*toneBins:])
		v = f.addHits(v, t, end)
		out[i] = append(v, f.level(t, end))
	}
	d := 0
	column := make([]float64, len(out))
	for _, g := range barGroups {
		for range g.dims {
			even(out, d, g.weight/math.Sqrt(float64(g.dims)), column)
			d++
		}
	}
	return out
}

// even scales one dimension by its median distance from the median.
func even(x [][]float64, d int, weight float64, column []float64) {
	for i, v := range x {
		column[i] = v[d]
	}
	mid := median(column)
	for i, v := range x {
		column[i] = math.Abs(v[d] - mid)
	}
	dev := 1.48*median(column) + 0.03
	for _, v := range x {
		v[d] = weight * min(max((v[d]-mid)/dev, -barClip), barClip)
	}
}

// addHits appends the mean flux of each band in each quarter of a bar.
func (f *features) addHits(v []float64, from, to float64) []float64 {
	for b := range f.flux {
		for q := range barQuarters {
			a := int((from + (to-from)*float64(q)/barQuarters) * fluxRate)
			e := min(int((from+(to-from)*float64(q+1)/barQuarters)*fluxRate), len(f.flux[b]))
			sum := float32(0)
			for _, x := range f.flux[b][min(a, e):e] {
				sum += x
			}
			v = append(v, float64(sum)/float64(max(1, e-a)))
		}
	}
	return v
}

func (f *features) meanTimbre(from, to float64, out []float64) {
	n := len(f.timbre) / timbreLen
	a := min(max(int(from*toneRate), 0), n)
	b := min(max(int(to*toneRate), a), n)
	for i := a; i < b; i++ {
		for j := range out {
			out[j] += float64(f.timbre[i*timbreLen+j]) / float64(b-a)
		}
	}
}

// spreads prepares the root of the squared distances of vectors i..j from their mean.
func spreads(x [][]float64) func(i, j int) float64 {
	dims := len(x[0])
	sum := make([][]float64, len(x)+1)
	sq := make([]float64, len(x)+1)
	sum[0] = make([]float64, dims)
	for i, v := range x {
		sum[i+1] = slices.Clone(sum[i])
		sq[i+1] = sq[i]
		for d, a := range v {
			sum[i+1][d] += a
			sq[i+1] += a * a
		}
	}
	return func(i, j int) float64 {
		s := sq[j] - sq[i]
		for d := range dims {
			m := sum[j][d] - sum[i][d]
			s -= m * m / float64(j-i)
		}
		return math.Max(s, 0)
	}
}

// nameSections gives like sections one letter and ranks them by loudness.
func (f *features) nameSections(x [][]float64, cuts []int, bars []float64, duration float64) []Section {
	k := len(cuts) - 1
	means := make([][]float64, k)
	loud := make([]float64, k)
	out := make([]Section, k)
	for i := range k {
		m := make([]float64, len(x[0]))
		for _, v := range x[cuts[i]:cuts[i+1]] {
			for d, a := range v {
				m[d] += a / float64(cuts[i+1]-cuts[i])
			}
		}
		means[i] = m
		out[i].From, out[i].To = bars[cuts[i]], duration
		if cuts[i+1] < len(bars) {
			out[i].To = bars[cuts[i+1]]
		}
		loud[i] = f.level(out[i].From, out[i].To)
	}
	letters := cluster(means)
	rank := ranks(loud)
	for i := range out {
		out[i].Label = letters[i]
		out[i].Energy = rank[i]
	}
	return out
}

// cluster letters the sections: each joins the nearest group met before, if that
// is near enough, or opens a new one.
func cluster(v [][]float64) []string {
	var apart []float64
	for i := range v {
		for j := max(0, i-64); j < i; j++ {
			apart = append(apart, distance(v[i], v[j]))
		}
	}
	limit := likeness * median(apart)
	var centre [][]float64
	var size []float64
	out := make([]string, len(v))
	for i, x := range v {
		best := -1
		for g := range centre {
			if d := distance(x, centre[g]); d < limit && (best < 0 || d < distance(x, centre[best])) {
				best = g
			}
		}
		if best < 0 {
			best = len(centre)
			centre, size = append(centre, slices.Clone(x)), append(size, 0)
		}
		size[best]++
		for d := range x {
			centre[best][d] += (x[d] - centre[best][d]) / size[best]
		}
		out[i] = letter(best)
	}
	return out
}

func distance(a, b []float64) float64 {
	d := 0.0
	for k := range a {
		d += (a[k] - b[k]) * (a[k] - b[k])
	}
	return math.Sqrt(d)
}

func letter(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return letter(i/26-1) + letter(i%26)
}
