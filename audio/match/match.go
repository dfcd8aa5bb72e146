// Package match says where the stretches of an old recording of a song are in a
// new one: where the same sound was cut, repeated, moved, or made faster, and
// where the song was played anew.
//
// Its one rule: no run without proof. A run stands on the waveform, on the
// spectrum, or on likeness beat by beat; where neither shows the old recording,
// the new one is said to be new, however much it resembles the rest.
package match

import (
	"cmp"
	"context"
	"math"
	"slices"

	"emberbeat/timeline"
)

// run is a stretch of the old recording that goes on in the new one, in seconds.
type run struct {
	old, new   float64 // where it begins in either
	length     float64 // in the new recording
	rate       float64 // old seconds in one new second
	confidence float64 // 0 no idea .. 1
	exact      bool    // proved by the waveform
}

// oldEnd is where the run ends in the old recording.
func (r run) oldEnd() float64 { return r.old + r.length*r.rate }

// newEnd is where it ends in the new one.
func (r run) newEnd() float64 { return r.new + r.length }

// worthSearching is how much, in seconds, both recordings must have left for
// the same song played anew to be looked for: four bars of a quick song. A judgement.
const worthSearching = 8.0

// Match compares two recordings. What is of the same sound is found first; in
// what that leaves of both, the song played anew is looked for. Another song
// gives a map without runs. It stops with ctx.Err() soon after ctx ends; other
// errors are those of reading a recording again that was made compact; it is compact
// again afterwards, so that many songs do not fill the memory with their sound.
func Match(ctx context.Context, old, new *Side) (*timeline.TimeMap, error) {
	for _, s := range [2]*Side{old, new} {
		if s.Mono == nil {
			if err := s.whole(ctx); err != nil {
				return nil, err
			}
			defer s.Compact()
		}
	}
	runs, err := sameSound(ctx, old, new)
	if err != nil {
		return nil, err
	}
	// a song that is played anew from the same notes is much like the same sound, and
	// a drum that was sampled once is the same sound wherever it is struck
	firm := slices.DeleteFunc(slices.Clone(runs), func(r run) bool { return !r.exact && r.confidence < firmly || r.length < lasting })
	if leftOf(old.Duration, firm, false) >= worthSearching && leftOf(new.Duration, firm, true) >= worthSearching {
		more, err := playedAnew(ctx, old, new, firm)
		if err != nil {
			return nil, err
		}
		if len(more) > 0 {
			short := slices.DeleteFunc(runs, func(r run) bool { return !r.exact || r.length >= lasting || contradicted(r, more) })
			runs = slices.Concat(firm, short, more)
		}
	}
	return timeMap(old.Duration, new.Duration, runs), nil
}

// firmly is how sure a run of the same sound must be to stand against the song
// played anew. Of edits that change speed or key the least sure has .93, of songs
// played by others from the same notes the surest .86.
const firmly = 0.9

// lasting is how long, in seconds, a run of the same sound must be to stand against
// the song played anew; a shorter one stands where that does not say otherwise.
const lasting = 4.0

// samePlace is how far, in seconds, two runs may differ and mean the same place.
const samePlace = 0.05

// contradicted says whether runs take what a run takes of the new recording from
// another place of the old one.
func contradicted(r run, by []run) bool {
	at := r.new + r.length/2
	for _, o := range by {
		if o.new <= at && at < o.newEnd() && math.Abs(o.old+(at-o.new)*o.rate-(r.old+r.length/2*r.rate)) > samePlace {
			return true
		}
	}
	return false
}

// leftOf gives the longest stretch of one recording that no run holds.
func leftOf(duration float64, runs []run, ofNew bool) float64 {
	type span struct{ from, to float64 }
	held := make([]span, len(runs))
	for i, r := range runs {
		if held[i] = (span{r.old, r.oldEnd()}); ofNew {
			held[i] = span{r.new, r.newEnd()}
		}
	}
	slices.SortFunc(held, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	at, longest := 0.0, 0.0
	for _, h := range held {
		longest = max(longest, h.from-at)
		at = max(at, h.to)
	}
	return max(longest, duration-at)
}

// timeMap makes the map of runs: in the order of the new recording, inside of
// both, and none over another there. Where two overlap, the surer keeps its length.
func timeMap(oldLength, newLength float64, runs []run) *timeline.TimeMap {
	m := &timeline.TimeMap{Old: timeline.FromSeconds(oldLength), New: timeline.FromSeconds(newLength)}
	runs = slices.Clone(runs)
	slices.SortStableFunc(runs, func(a, b run) int { return cmp.Compare(a.new, b.new) })
	for _, r := range runs {
		if over := -min(r.old/r.rate, r.new); over > 0 {
			r.old, r.new, r.length = r.old+over*r.rate, r.new+over, r.length-over
		}
		r.length = min(r.length, newLength-r.new, (oldLength-r.old)/r.rate)
		t := timeline.TimeRun{Old: timeline.FromSeconds(r.old), New: timeline.FromSeconds(r.new), NewEnd: min(timeline.FromSeconds(r.newEnd()), m.New),
			Exact: r.exact, Sure: min(1000, max(0, int(r.confidence*1000)))}
		t.OldEnd = min(timeline.FromSeconds(r.oldEnd()), m.Old)
		if r.rate == 1 { // not a unit longer on one side than on the other
			d := min(t.OldEnd-t.Old, t.NewEnd-t.New)
			t.OldEnd, t.NewEnd = t.Old+d, t.New+d
		}
		if n := len(m.Runs); n > 0 && t.New < m.Runs[n-1].NewEnd {
			last := &m.Runs[n-1]
			if last.Sure >= t.Sure {
				t.Old, t.New = t.Back(last.NewEnd), last.NewEnd
			} else {
				last.OldEnd, last.NewEnd = last.Back(t.New), t.New
				if last.NewEnd <= last.New || last.OldEnd <= last.Old {
					m.Runs = m.Runs[:n-1]
				}
			}
		}
		if t.NewEnd > t.New && t.OldEnd > t.Old {
			m.Runs = append(m.Runs, t)
		}
	}
	return m
}
