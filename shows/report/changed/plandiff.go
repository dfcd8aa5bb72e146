package changed

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// busyWindow is the time in which the most hits are counted: a figure to compare
// two plans by, no limit.
const busyWindow = 10 * timeline.Second

// PlanDiff is how two plans differ as wholes: how densely they play, what they use,
// where supplies are swapped, and who has which timecode. All figures are there; those
// that are alike are the same on both sides.
type PlanDiff struct {
	Density     []Total `json:"density"`
	Consumption []Total `json:"consumption"`
	Swaps       []Total `json:"swap_points"` // of each supply the songs before which it must have been swapped
	Timecode    []Total `json:"timecode"`    // of each song its number and the timecode that it claims
}

// NewPlanDiff compares two plans.
func NewPlanDiff(was, is *timeline.Plan) *PlanDiff {
	d := &PlanDiff{Density: densities(was, is), Swaps: swaps(was, is), Timecode: timecodes(was, is)}
	d.Consumption = append(pairs(media, was, is), pairs(lowest, was, is)...)
	return d
}

// Changed lists in sentences what differs, without a mark at the end.
func (d *PlanDiff) Changed() []string {
	var list []string
	if d == nil {
		return list
	}
	for _, part := range []struct {
		what string
		of   []Total
	}{{"density", d.Density}, {"consumption", d.Consumption}, {"swap points", d.Swaps}, {"timecode", d.Timecode}} {
		for _, t := range part.of {
			if t.Was != t.Is {
				list = append(list, fmt.Sprintf("%s: %s %s → %s", part.what, t.What, t.Was, t.Is))
			}
		}
	}
	return list
}

// write writes what differs for people; nil is nothing.
func (d *PlanDiff) write(out io.Writer) {
	for _, line := range d.Changed() {
		fmt.Fprintln(out, line)
	}
}

func densities(was, is *timeline.Plan) []Total {
	type density struct {
		hits, most, open int
		gap, length      timeline.Time
	}
	of := func(p *timeline.Plan) (d density) {
		for i := range p.Songs {
			hits := p.Songs[i].Hits()
			n, _ := timeline.Busiest(hits, busyWindow)
			open, _ := p.Songs[i].MostOpen()
			gap, _ := timeline.LongestGap(hits)
			d.hits, d.most, d.open, d.gap = d.hits+len(hits), max(d.most, n), max(d.open, open), max(d.gap, gap)
		}
		_, d.length = p.SetTimes()
		return d
	}
	a, b := of(was), of(is)
	n := strconv.Itoa
	clock := func(t timeline.Time) string { return t.Clock(1) }
	return []Total{{"length of the set", clock(a.length), clock(b.length)}, {"hits", n(a.hits), n(b.hits)}, {"most hits in 10 s", n(a.most), n(b.most)},
		{"most outputs open at once", n(a.open), n(b.open)}, {"longest time in a song without a hit", clock(a.gap), clock(b.gap)}}
}

// media gives what a plan uses of each medium.
func media(p *timeline.Plan) map[string]string {
	m := map[string]string{}
	for _, use := range p.Media() {
		m[use.Medium+" "+p.Show.Told().Unit("kg")] = wording.Amount(p.Show.Told(), "kg", use.Kg)
	}
	return m
}

// lowest gives what is left in each supply at the least, in the worst case.
func lowest(p *timeline.Plan) map[string]string {
	m := map[string]string{}
	for _, s := range p.Supplies() {
		least := s.Usable
		for _, l := range s.Levels {
			least = min(least, l.LeftKg)
		}
		m["least in "+p.Show.Called(s.Supply)+" "+p.Show.Told().Unit("kg")] = wording.Amount(p.Show.Told(), "kg", least)
	}
	return m
}

func swaps(was, is *timeline.Plan) []Total {
	of := func(p *timeline.Plan) map[timeline.ID][2]string {
		m := map[timeline.ID][2]string{}
		for _, s := range p.SwapPoints() {
			var at []string
			for _, pt := range s.Points {
				ps := &p.Songs[pt.Before.Song]
				at = append(at, fmt.Sprintf("before %s of song %d %q", ps.Label(pt.Before.At), ps.Number, ps.Song.FullTitle()))
			}
			m[s.Supply.ID] = [2]string{p.Show.Called(s.Supply), cmp.Or(strings.Join(at, ", "), "none")}
		}
		return m
	}
	a, b := of(was), of(is)
	list := []Total{}
	for id, x := range a {
		y, both := b[id]
		if !both {
			y[1] = "none"
		}
		list = append(list, Total{x[0], x[1], y[1]})
	}
	for id, y := range b {
		if _, both := a[id]; !both {
			list = append(list, Total{y[0], "none", y[1]})
		}
	}
	slices.SortFunc(list, func(x, y Total) int { return strings.Compare(x.What, y.What) })
	return list
}

// timecodes gives of each song what it claims, in the order of the later plan; what
// that does not play comes last.
func timecodes(was, is *timeline.Plan) []Total {
	claim := func(ps *timeline.PlanSong) string {
		if ps == nil {
			return "not played"
		}
		text := fmt.Sprintf("number %d, %s to %s", ps.Number, ps.Rate.Label(ps.First()), ps.Rate.Label(ps.Last()))
		if ps.Song.Version != "" {
			text += " (" + ps.Song.Version + ")"
		}
		return text
	}
	list := []Total{}
	for i := range is.Songs {
		ps := &is.Songs[i]
		list = append(list, Total{ps.Song.Title, claim(report.VersionIn(was, is, ps.Song.ID)), claim(ps)})
	}
	for i := range was.Songs {
		if ps := &was.Songs[i]; report.VersionIn(is, was, ps.Song.ID) == nil {
			list = append(list, Total{ps.Song.Title, claim(ps), claim(nil)})
		}
	}
	return list
}
