package timeline

import (
	"fmt"
	"slices"
	"strings"
)

// Measurement is a lead counted from video: for each shot the frames from the
// command, seen as a light in the picture, to the hit.
type Measurement struct {
	Frames  []int
	PerSec  int  // pictures a second
	Latency Time // of the bank or device that was used; taken away from the lead
}

// Lead gives the mean lead without the latency, and its spread: how far the
// farthest shot lies from the mean, and half a picture, which nobody can see
// into (our judgement). Both are rounded to EntryStep.
func (m Measurement) Lead() (lead, spread Time, err error) {
	switch {
	case len(m.Frames) == 0:
		return 0, 0, &ValueError{Kind: "measurement", Field: "frames", Value: "", Want: "is empty; write the frames of one shot or more"}
	case m.PerSec < 1 || m.PerSec > 10_000:
		return 0, 0, &ValueError{Kind: "measurement", Field: "fps", Value: fmt.Sprint(m.PerSec), Want: "must be a whole number of pictures a second from 1 to 10000"}
	}
	var sum int64
	for _, n := range m.Frames {
		if n < 0 || n > 1_000_000 {
			return 0, 0, &ValueError{Kind: "measurement", Field: "frames", Value: fmt.Sprint(n), Want: "must be a number of frames from 0 to 1000000"}
		}
		sum += int64(n)
	}
	shots := int64(len(m.Frames))
	mean := FromSamples(sum, m.PerSec) / Time(shots)
	low, high := FromSamples(int64(slices.Min(m.Frames)), m.PerSec), FromSamples(int64(slices.Max(m.Frames)), m.PerSec)
	spread = max(mean-low, high-mean) + FromSamples(1, m.PerSec)/2
	if lead = mean - m.Latency; lead < 0 {
		return 0, 0, &ValueError{Kind: "measurement", Field: "frames", Value: mean.String(), Want: fmt.Sprintf("mean seconds are less than the latency of %s s that is taken away; measure again or name what was used", m.Latency)}
	}
	return lead.RoundTo(EntryStep), spread.RoundTo(EntryStep), nil
}

// String says how it was measured, for the article's source.
func (m Measurement) String() string {
	counts := make([]string, len(m.Frames))
	for i, n := range m.Frames {
		counts[i] = fmt.Sprint(n)
	}
	s := fmt.Sprintf("lead from %d shots at %d pictures a second: %s frames", len(m.Frames), m.PerSec, strings.Join(counts, ", "))
	if m.Latency > 0 {
		s += fmt.Sprintf(", less %s s latency", m.Latency)
	}
	return s
}

// KeepLead gives the edit that keeps a measured lead and spread in an article,
// marked as measured; its other marks and its source stay, the source with the
// measurement in the place of an older one.
func KeepLead(article ID, m Measurement) Edit {
	return func(d *Draft) error {
		lead, spread, err := m.Lead()
		if err != nil {
			return err
		}
		a := d.show.Stock.Article(article)
		if a == nil {
			return &ValueError{Kind: "article", Field: "id", Value: string(article), Want: "names no article of this show"}
		}
		c := *a
		c.Lead, c.Spread = lead, spread
		c.Marks = slices.DeleteFunc(slices.Clone(a.Marks), func(s string) bool {
			return strings.HasPrefix(s, "lead=") || strings.HasPrefix(s, "spread=")
		})
		c.Marks = append(c.Marks, "lead="+string(Measured), "spread="+string(Measured))
		source, _, _ := strings.Cut(a.Source, measuredJoin)
		if strings.HasPrefix(source, "lead from ") {
			source = ""
		}
		if source != "" {
			source += measuredJoin
		}
		c.Source = source + m.String()
		d.Put("", &c)
		return nil
	}
}

// measuredJoin stands between an article's source and its measurement.
const measuredJoin = "; measured: "
