package match

import "math"

// Where a stretch begins and ends is read from the waves themselves, a few
// milliseconds at a time: how much likelier is the new recording there if it is
// the old one along a line, with its gain and what was added to it, than if it
// is any other sound as loud?

const (
	blockSeconds  = 0.005
	gainBlocks    = 30   // that one gain is read from: 150 ms
	loudBlocks    = 5    // on either side that loudness is read from
	freeShare     = 0.35 // of the samples that count as independent: the spectrum is not flat
	mostAgainst   = 40.  // of one block
	mostGain      = 4.   // of that over all
	leastGain     = 50.  // the fiftieth of it: -34 dB
	mostFor       = 15.  // beyond it counts a tenth
	leastResidual = 0.003
	mostResidual  = 0.9
	unheard       = 1e-6 // of the loudness: what lies 60 dB under it proves nothing
)

// evidence says of each block of the new recording, from block first on, how
// much speaks for it being the old recording along a line: natural logarithm
// of a likelihood ratio.
type evidence struct {
	first int
	sum   []float64 // sum[k] is of the blocks before first+k
	like  float64   // correlation over the core, without sign
}

// upTo sums the evidence of the blocks from..to.
func (e *evidence) span(from, to int) float64 {
	at := func(k int) float64 { return e.sum[min(max(k-e.first, 0), len(e.sum)-1)] }
	return at(to) - at(from)
}

// blocks turns a time into blocks.
func blocks(t float64) int { return int(math.Round(t / blockSeconds)) }

// weigh compares the blocks from..to of the new recording with the old one
// along l. What a true match looks like here is read from the core, the blocks
// that are known to match.
func weigh(old, new wave, l line, from, to, coreFrom, coreTo int) *evidence {
	n := to - from
	e := &evidence{first: from, sum: make([]float64, n+1)}
	aa, bb, ab := make([]float64, n+1), make([]float64, n+1), make([]float64, n+1)
	edge := func(k int) int { return int(math.Round(float64(from+k) * blockSeconds * new.rate)) }
	buf := make([]float32, 4096)
	k := 0
	for at, end := edge(0), edge(n); at < end; {
		part := min(len(buf), end-at)
		old.along(l.old(float64(at)/new.rate)*old.rate, l.rate*old.rate/new.rate, buf[:part])
		for i, a := range buf[:part] {
			for at+i >= edge(k+1) {
				k++
			}
			b := float32(0)
			if j := at + i; j >= 0 && j < len(new.x) {
				b = new.x[j]
			}
			aa[k+1] += float64(a) * float64(a)
			bb[k+1] += float64(b) * float64(b)
			ab[k+1] += float64(a) * float64(b)
		}
		at += part
	}
	samples := blockSeconds * new.rate
	for i := range n { // running sums of mean squares
		aa[i+1] = aa[i] + aa[i+1]/samples
		bb[i+1] = bb[i] + bb[i+1]/samples
		ab[i+1] = ab[i] + ab[i+1]/samples
	}
	over := func(s []float64, a, b int) float64 {
		a, b = min(max(a, 0), n), max(min(b, n), 0)
		return max(0, s[b]-s[a])
	}
	signed := func(a, b int) float64 { a, b = min(max(a, 0), n), max(min(b, n), 0); return ab[b] - ab[a] }
	ca, cb := max(coreFrom-from, 0), min(coreTo-from, n)
	coreA, coreB, coreAB := over(aa, ca, cb), over(bb, ca, cb), signed(ca, cb)
	if coreA == 0 || coreB == 0 || coreAB == 0 {
		return e
	}
	gain := coreAB / coreA
	e.like = math.Abs(coreAB) / math.Sqrt(coreA*coreB)
	// what is left of the new recording where the line is true: in proportion to the sound, and a floor
	share := quantile(func(yield func(float64)) {
		for i := ca; i < cb; i += gainBlocks {
			a, b, c := over(aa, i, i+2*gainBlocks), over(bb, i, i+2*gainBlocks), signed(i, i+2*gainBlocks)
			if a > 0.05*coreA/float64(cb-ca)*2*gainBlocks {
				yield((b - c*c/a) / (c*c/a + 1e-20))
			}
		}
	}, 0.5)
	share = min(mostResidual/(1-mostResidual), max(leastResidual, share))
	floor := quantile(func(yield func(float64)) {
		for i := ca; i < cb; i += gainBlocks {
			a, b, c := over(aa, i, i+2*gainBlocks), over(bb, i, i+2*gainBlocks), signed(i, i+2*gainBlocks)
			if a > 0 {
				b -= c * c / a
			}
			yield(max(0, b) / (2 * gainBlocks))
		}
	}, 0.05) + unheard*coreB/float64(cb-ca) + 1e-10
	free := samples * freeShare
	for i := range n {
		a, b, c := over(aa, i, i+1), over(bb, i, i+1), signed(i, i+1)
		width := float64(min(i+loudBlocks+1, n) - max(i-loudBlocks, 0))
		loud := max(floor, over(bb, i-loudBlocks, i+loudBlocks+1)/width)
		near := share * over(aa, i-1, i+2) / 3
		v := -mostAgainst
		// at a cut only one side has the gain that is true here
		for _, side := range [2]int{i - gainBlocks, i + 1} {
			g := gain
			if wide := over(aa, side, side+gainBlocks); wide > 0 {
				g = signed(side, side+gainBlocks) / wide
			}
			// the polarity does not change on the way, and no fade is silence
			g = gain * min(mostGain, max(1/leastGain, g/gain))
			left := max(0, b-2*g*c+g*g*a)
			expect := g*g*near + floor
			v = max(v, free/2*(b/loud-left/expect+math.Log(loud/expect)))
		}
		if v > mostFor { // a like sound of a few blocks does not outweigh what is around
			v = mostFor + (v-mostFor)/10
		}
		e.sum[i+1] = e.sum[i] + v
	}
	return e
}
