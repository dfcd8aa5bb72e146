package anew

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// A song may change its key on the way otherwise than it did in the old recording: what
// the first key leaves of the new one is looked at by itself, in the key in which most of
// it is heard. It must prove alone that it is the same song.

// leastOtherKey is how long, in seconds, a stretch in another key must be to be looked
// for: a shorter one cannot weigh what a song must.
const leastOtherKey = 12.0

// otherKeys gives the stretches in other keys, in what runs leave of the new recording.
func otherKeys(ctx context.Context, old, new *Sound, held []Run) ([]Run, error) {
	var out []Run
	for _, s := range left(held, new.seconds) {
		from, to := int(math.Ceil(s[0]*wideRate)), int(s[1]*wideRate)
		if to-from < leastOtherKey*wideRate {
			continue
		}
		lines, err := trace(ctx, old, new.part(from, to), nil)
		if err != nil {
			return nil, err
		}
		for _, t := range lines {
			for _, r := range t.runs() {
				r.New += float64(from) / wideRate
				out = append(out, r)
			}
		}
	}
	return out, nil
}

// left gives what runs leave of the new recording, in seconds.
func left(runs []Run, seconds float64) (list [][2]float64) {
	runs = slices.Clone(runs)
	slices.SortFunc(runs, func(a, b Run) int { return cmp.Compare(a.New, b.New) })
	at := 0.0
	for _, r := range runs {
		if r.New > at {
			list = append(list, [2]float64{at, r.New})
		}
		at = max(at, r.newEnd())
	}
	return append(list, [2]float64{at, seconds})
}

// part gives the sound between two frames of harmony.
func (s *Sound) part(from, to int) *Sound {
	const fine = fineRate / wideRate
	return &Sound{seconds: float64(to-from) / wideRate, tone: cut(s.tone, from, to), bass: cut(s.bass, from, to), rise: cut(s.rise, fine*from, fine*to)}
}

// cut is s[from:to] as far as there is so much.
func cut[S ~[]E, E any](s S, from, to int) S { return s[min(from, len(s)):min(to, len(s))] }
