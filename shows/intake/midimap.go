package intake

import (
	"cmp"
	"fmt"
	"slices"
	"sort"

	"emberbeat/timeline"
)

// finish sorts events and works out when tempos begin.
func (m *MIDI) finish() error {
	slices.SortStableFunc(m.tempos, func(a, b midiTempo) int { return cmp.Compare(a.tick, b.tick) })
	slices.SortStableFunc(m.metres, func(a, b midiMetre) int { return cmp.Compare(a.tick, b.tick) })
	slices.SortStableFunc(m.names, func(a, b midiName) int { return cmp.Compare(a.tick, b.tick) })
	if m.quarter == 0 {
		return nil
	}
	all := []midiTempo{{tempo: defaultTempo}}
	for _, t := range m.tempos {
		last := all[len(all)-1]
		if float64(t.tick-last.tick)*float64(last.tempo) > float64(longest)*float64(m.quarter) {
			return fmt.Errorf("the MIDI file lasts more than 1000 hours; %s", wantMIDI)
		}
		t.at = last.at + (t.tick-last.tick)*last.tempo
		if t.at > longest*m.quarter {
			return fmt.Errorf("the MIDI file lasts more than 1000 hours; %s", wantMIDI)
		}
		switch {
		case t.tick == last.tick:
			all[len(all)-1] = t
		case t.tempo != last.tempo:
			all = append(all, t)
		}
	}
	m.tempos = all
	if last := all[len(all)-1]; float64(m.end-last.tick)*float64(last.tempo) > float64(longest)*float64(m.quarter) {
		return fmt.Errorf("the MIDI file lasts more than 1000 hours; %s", wantMIDI)
	}
	return nil
}

// TimeAt is the time of a tick from tick 0, to the nearest unit of Time.
func (m *MIDI) TimeAt(tick int64) timeline.Time {
	if m.quarter == 0 {
		return m.rate.At(tick/m.frame) + (m.rate.FrameTicks()*timeline.Time(tick%m.frame)+timeline.Time(m.frame)/2)/timeline.Time(m.frame)
	}
	i := sort.Search(len(m.tempos), func(i int) bool { return m.tempos[i].tick > tick }) - 1
	t := m.tempos[max(0, i)]
	total := t.at + (tick-t.tick)*t.tempo
	// 25 µs are 7056 units of Time.
	unit := 25 * m.quarter
	return timeline.Time(total/unit*7056 + (total%unit*7056+unit/2)/unit)
}

// bars counts bars by ticks.
type bars []barRun

// barRun is bars of one metre.
type barRun struct {
	tick  int64
	bar   int
	metre timeline.Metre
}

// mostBars bounds a file's bars as beat maps do.
const mostBars = 1_000_000

// bars lines up the time signatures. One inside a bar ends that bar early:
// then a bar of another metre fills what was left.
func (m *MIDI) bars() bars {
	all := bars{{0, 1, timeline.Metre{Num: 4, Den: 4}}}
	for _, s := range m.metres {
		last := &all[len(all)-1]
		if s.tick == last.tick {
			last.metre = s.metre
			continue
		}
		whole, left := m.barsBetween(*last, s.tick)
		bar := last.bar + int(min(whole, mostBars))
		switch short, ok := m.shortMetre(left, last.metre); {
		case bar >= mostBars:
			m.note("A time signature after bar %d is left out.", mostBars)
			continue
		case left == 0 && s.metre == last.metre:
			continue
		case left == 0:
		case !ok:
			m.note("A time signature inside bar %d is left out: no metre fits what is before it.", bar)
			continue
		case whole == 0:
			last.metre = short
			bar++
		default:
			all = append(all, barRun{s.tick - left, bar, short})
			bar++
		}
		all = append(all, barRun{s.tick, bar, s.metre})
	}
	return all
}

// barsBetween counts the whole bars from the start of a run to a tick, and the
// ticks that are left.
func (m *MIDI) barsBetween(r barRun, tick int64) (whole, left int64) {
	// Ticks of a bar may be no whole number: count in ticks times denominator.
	bar := int64(r.metre.Num) * 4 * m.quarter
	n := (tick - r.tick) * int64(r.metre.Den)
	return n / bar, n % bar / int64(r.metre.Den)
}

// shortMetre is the metre of a bar of so many ticks.
func (m *MIDI) shortMetre(ticks int64, like timeline.Metre) (timeline.Metre, bool) {
	for den := int64(like.Den); den <= 32; den *= 2 {
		if n := ticks * den; n%(4*m.quarter) == 0 {
			short := timeline.Metre{Num: int(min(n/(4*m.quarter), 1000)), Den: int(den)}
			return short, short.Check() == nil
		}
	}
	return timeline.Metre{}, false
}

// place gives the bar and beat of a tick. Beats that no position can name are
// rounded.
func (m *MIDI) place(b bars, tick int64) timeline.BarBeat {
	i := sort.Search(len(b), func(i int) bool { return b[i].tick > tick }) - 1
	r := b[max(0, i)]
	whole, left := m.barsBetween(r, tick)
	beats := timeline.NewRat(left*int64(r.metre.Den), 4*m.quarter)
	if beats.Den() > 9600 {
		beats = timeline.NewRat(beats.Num()*9600/beats.Den(), 9600)
	}
	return timeline.BarBeat{Bar: r.bar + int(min(whole, mostBars)), Beat: beats}
}

func sortedTicks(set map[int64]bool) []int64 {
	list := make([]int64, 0, len(set))
	for tick := range set {
		list = append(list, tick)
	}
	slices.Sort(list)
	return list
}
