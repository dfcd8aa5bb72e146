package anew

import (
	"math"
	"slices"
)

// likeness is how much more alike two places are than chance, for all places of
// two recordings at wideRate: row by new, column by old. A pair of places that
// belong together is mostly above 0, any other mostly below.
type likeness struct {
	rows, cols int
	at         []float32
	tops       []float32 // of each row, what a tenth of it is over
}

func (l *likeness) row(n int) []float32 { return l.at[n*l.cols : (n+1)*l.cols] }

// weights of harmony and bass, and what a pair must have over the mean of its
// row and column to speak for belonging together, in standard deviations.
const (
	toneWeight = 0.65
	bassWeight = 0.35
	chanceLine = 0.8
	mostLike   = 2.5
)

// compare measures the likeness with old raised by so many semitones.
func compare(old, new *Sound, shift int) *likeness {
	l := &likeness{rows: len(new.tone), cols: len(old.tone)}
	l.at = make([]float32, l.rows*l.cols)
	l.add(new.tone, turned(old.tone, shift), toneWeight)
	l.add(new.bass, turned(old.bass, shift), bassWeight)
	l.centre()
	return l
}

// turned raises pitch classes by semitones.
func turned(v [][classes]float32, shift int) [][classes]float32 {
	if shift == 0 {
		return v
	}
	out := make([][classes]float32, len(v))
	for i := range v {
		for c := range classes {
			out[i][(c+shift)%classes] = v[i][c]
		}
	}
	return out
}

func (l *likeness) add(rows, cols [][classes]float32, weight float32) {
	for i := range rows {
		r := rows[i]
		for c := range r {
			r[c] *= weight
		}
		row := l.row(i)
		for j := range row {
			o := &cols[j]
			row[j] += r[0]*o[0] + r[1]*o[1] + r[2]*o[2] + r[3]*o[3] + r[4]*o[4] + r[5]*o[5] +
				r[6]*o[6] + r[7]*o[7] + r[8]*o[8] + r[9]*o[9] + r[10]*o[10] + r[11]*o[11]
		}
	}
}

// centre takes out what a place has in common with all of the other recording,
// and counts in standard deviations above the line of chance.
func (l *likeness) centre() {
	rowMean, colMean := make([]float64, l.rows), make([]float64, l.cols)
	all := 0.0
	for i := range l.rows {
		for j, v := range l.row(i) {
			rowMean[i] += float64(v)
			colMean[j] += float64(v)
		}
		all += rowMean[i]
	}
	for i := range rowMean {
		rowMean[i] /= float64(l.cols)
	}
	for j := range colMean {
		colMean[j] /= float64(l.rows)
	}
	all /= float64(l.rows * l.cols)
	sq := 0.0
	for i := range l.rows {
		row := l.row(i)
		for j := range row {
			// half of what is common: a song that stays on one chord is still like itself
			row[j] -= float32(0.5*(rowMean[i]+colMean[j]-2*all) + all)
			sq += float64(row[j]) * float64(row[j])
		}
	}
	scale := float32(1 / math.Sqrt(sq/float64(len(l.at))+1e-12))
	for i, v := range l.at {
		l.at[i] = max(-mostLike, min(mostLike, v*scale)) - chanceLine
	}
}

// bestLine is the largest sum of likeness along any stretch of any line of one rate.
// Sums are compared as the whole numbers that their bits are, which for what is not
// negative have the same order: that needs no branch.
func (l *likeness) bestLine(rate float64) float64 {
	base := int(float64(l.rows) * rate)
	sum := make([]float32, base+l.cols+1) // by where the line would be at the first row
	best := int32(0)
	for n := range l.rows {
		at := base - int(float64(n)*rate)
		row := l.row(n)
		s := sum[at:][:len(row)]
		for o, v := range row {
			w := int32(math.Float32bits(s[o] + v))
			w &^= w >> 31 // nothing where it is negative
			s[o] = math.Float32frombits(uint32(w))
			best = max(best, w)
		}
	}
	return float64(math.Float32frombits(uint32(best)))
}

// hold makes the path keep to runs that are known.
func (l *likeness) hold(fixed []Run) {
	for _, f := range fixed {
		for n := max(0, int(math.Ceil(f.New*wideRate))); n < l.rows && float64(n) < f.newEnd()*wideRate; n++ {
			row := l.row(n)
			at := int(math.Round((f.Old + (float64(n)/wideRate-f.New)*f.Rate) * wideRate))
			for o := range row {
				if o < at-1 || o > at+1 {
					row[o] = -mostLike
				} else {
					row[o] = mostLike
				}
			}
		}
	}
}

// near is how a pair of times, in seconds, stands among all places that the time of the
// new recording could be: 0 as the best tenth of them. What stays on one chord is like
// much, and stands little above it where it is right.
func (l *likeness) near(new, old float64) float64 {
	n := max(0, min(l.rows-1, int(new*wideRate+0.5)))
	return float64(l.row(n)[max(0, min(l.cols-1, int(old*wideRate+0.5)))] - l.tops[n])
}

// rank settles what near needs.
func (l *likeness) rank() {
	l.tops = make([]float32, l.rows)
	var some []float32
	for n := range l.tops {
		some = some[:0]
		row := l.row(n)
		for o := 0; o < len(row); o += 3 {
			some = append(some, row[o])
		}
		slices.Sort(some)
		l.tops[n] = some[len(some)*9/10]
	}
}
