// Package evening compares what two plans of an evening come to beside the single
// cues: how dense the songs are, what is used up, where supplies are swapped, and when
// each song runs in timecode. Its one rule: it counts what the plans hold, and says of
// each figure what it was and what it is.
package evening

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// window is the length in which hits are counted for density, as everywhere.
const window = 10 * timeline.Second

// Comparison is what differs between two evenings.
type Comparison struct {
	Density  []Density  `json:"density"`     // of songs in which it differs
	Uses     []Use      `json:"consumption"` // of media of which another amount is used
	Swaps    []Swaps    `json:"swap_points"` // of supplies that are swapped elsewhere
	Timecode []Timecode `json:"timecode"`    // of songs that run at another time

	told units.System
}

// Density is how much a song is played with.
type Density struct {
	Song  string `json:"song"` // id
	Title string `json:"title"`
	Was   Dense  `json:"was"`
	Is    Dense  `json:"is"`
}

// Dense is how dense the hits of a song are; all 0 of a song that is not played.
type Dense struct {
	Commands int             `json:"commands"`
	Busiest  int             `json:"busiest"` // hits in ten seconds
	Gap      wording.Seconds `json:"longest_gap"`
}

// Use is what is used of a medium, in the worst case.
type Use struct {
	Medium string  `json:"medium"`
	Was    float64 `json:"was_kg"`
	Is     float64 `json:"is_kg"`
}

// Swaps are the places at which a supply has to be swapped, in words.
type Swaps struct {
	Supply string   `json:"supply"`
	Was    []string `json:"was"`
	Is     []string `json:"is"`
}

// Timecode is when a song runs, "" where it is not played.
type Timecode struct {
	Song  string `json:"song"` // id
	Title string `json:"title"`
	Was   Span   `json:"was"`
	Is    Span   `json:"is"`
}

// Span is a stretch of timecode with the song's place in the running order.
type Span struct {
	Number int    `json:"number"`
	Start  string `json:"start"` // of the song's audio
	End    string `json:"end"`
}

// Compare compares two evenings.
func Compare(was, is *timeline.Plan) *Comparison {
	c := &Comparison{Density: []Density{}, Uses: []Use{}, Swaps: []Swaps{}, Timecode: []Timecode{}, told: is.Show.Told()}
	for _, id := range songs(was, is) {
		a, b := report.SongIn(was, id), report.SongIn(is, id)
		title := ""
		for _, p := range []*timeline.PlanSong{a, b} {
			if p != nil {
				title = p.Song.FullTitle()
			}
		}
		if x, y := dense(a), dense(b); x != y {
			c.Density = append(c.Density, Density{string(id), title, x, y})
		}
		if x, y := span(a), span(b); x != y {
			c.Timecode = append(c.Timecode, Timecode{string(id), title, x, y})
		}
	}
	c.uses(was, is)
	c.swaps(was, is)
	return c
}

// Same reports whether the evenings come to the same.
func (c *Comparison) Same() bool {
	return len(c.Density)+len(c.Uses)+len(c.Swaps)+len(c.Timecode) == 0
}

// songs gives the songs of both, in the order of the later one.
func songs(was, is *timeline.Plan) []timeline.ID {
	var ids []timeline.ID
	for _, p := range []*timeline.Plan{is, was} {
		for i := range p.Songs {
			if id := p.Songs[i].Song.ID; !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	return ids
}

func dense(p *timeline.PlanSong) (d Dense) {
	if p == nil {
		return d
	}
	var hits []timeline.Time
	for i := range p.Commands {
		hits = append(hits, p.Commands[i].Hit)
	}
	slices.Sort(hits)
	d.Commands = len(hits)
	d.Busiest, _ = timeline.Busiest(hits, window)
	gap, _ := timeline.LongestGap(hits)
	d.Gap = wording.Seconds(gap)
	return d
}

func span(p *timeline.PlanSong) Span {
	if p == nil {
		return Span{}
	}
	return Span{p.Number, p.Label(0), p.Label(p.Duration)}
}

func (c *Comparison) uses(was, is *timeline.Plan) {
	kg := map[string]*Use{}
	add := func(p *timeline.Plan, at func(*Use) *float64) {
		for _, m := range p.Media() {
			key := strings.ToLower(m.Medium)
			if kg[key] == nil {
				kg[key] = &Use{Medium: m.Medium}
			}
			*at(kg[key]) = wording.RoundGrams(m.Kg)
		}
	}
	add(was, func(u *Use) *float64 { return &u.Was })
	add(is, func(u *Use) *float64 { return &u.Is })
	for _, u := range kg {
		if u.Was != u.Is {
			c.Uses = append(c.Uses, *u)
		}
	}
	slices.SortFunc(c.Uses, func(a, b Use) int { return cmp.Compare(strings.ToLower(a.Medium), strings.ToLower(b.Medium)) })
}

func (c *Comparison) swaps(was, is *timeline.Plan) {
	told := func(p *timeline.Plan) (names []string, texts map[string][]string) {
		texts = map[string][]string{}
		for _, s := range load.SuppliesOf(p) {
			var b strings.Builder
			s.WriteSwaps(&b)
			names = append(names, s.Name)
			for _, line := range strings.Split(strings.TrimSpace(b.String()), "\n") {
				if line = strings.TrimSpace(line); line != "" {
					texts[s.Name] = append(texts[s.Name], line)
				}
			}
		}
		return names, texts
	}
	names, before := told(was)
	more, after := told(is)
	for _, n := range more {
		names = wording.AddOnce(names, n)
	}
	for _, n := range names {
		if !slices.Equal(before[n], after[n]) {
			c.Swaps = append(c.Swaps, Swaps{n, append([]string{}, before[n]...), append([]string{}, after[n]...)})
		}
	}
}

// WriteText writes the comparison for people; nothing where the evenings come to the
// same.
func (c *Comparison) WriteText(w io.Writer) error {
	for _, line := range c.Lines() {
		if _, err := fmt.Fprintln(w, line); err != nil {
			return err
		}
	}
	return nil
}

// Lines says in lines what differs.
func (c *Comparison) Lines() []string {
	var list []string
	for _, d := range c.Density {
		list = append(list, fmt.Sprintf("density of %q: %s → %s, at most %d → %d hits in 10 s, longest gap %s → %s s", d.Title,
			timeline.Counted(d.Was.Commands, "command"), timeline.Counted(d.Is.Commands, "command"), d.Was.Busiest, d.Is.Busiest, wording.Tenths(d.Was.Gap), wording.Tenths(d.Is.Gap)))
	}
	for _, u := range c.Uses {
		list = append(list, fmt.Sprintf("%s: %s → %s", u.Medium, wording.Mass(c.told, u.Was), wording.Mass(c.told, u.Is)))
	}
	for _, s := range c.Swaps {
		for _, t := range s.Is {
			if !slices.Contains(s.Was, t) {
				list = append(list, "now: "+t)
			}
		}
		for _, t := range s.Was {
			if !slices.Contains(s.Is, t) {
				list = append(list, "no more: "+t)
			}
		}
	}
	for _, t := range c.Timecode {
		switch {
		case t.Was.Number == 0:
			list = append(list, fmt.Sprintf("timecode of %q: now from %s to %s", t.Title, t.Is.Start, t.Is.End))
		case t.Is.Number == 0:
			list = append(list, fmt.Sprintf("timecode of %q: no more from %s to %s", t.Title, t.Was.Start, t.Was.End))
		case t.Was.Start != t.Is.Start || t.Was.End != t.Is.End:
			list = append(list, fmt.Sprintf("timecode of %q: from %s to %s, and was from %s to %s", t.Title, t.Is.Start, t.Is.End, t.Was.Start, t.Was.End))
		default:
			list = append(list, fmt.Sprintf("%q is number %d, and was %d", t.Title, t.Is.Number, t.Was.Number))
		}
	}
	return list
}
