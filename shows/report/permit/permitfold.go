package permit

import (
	"slices"
	"strconv"
	"strings"
)

// Places are the firing points for which a printed row stands, and how many rows it
// stands for: those of places that differ in nothing but their name.
type Places struct {
	Nos   []int    // on the stage plan
	Names []string // aligned with Nos
	Rows  int
}

// Numbers writes the numbers on the stage plan, runs of them in short: "1, 3–6".
func (p *Places) Numbers() string {
	nos := slices.Clone(p.Nos)
	slices.Sort(nos)
	var parts []string
	for i := 0; i < len(nos); {
		k := i
		for k+1 < len(nos) && nos[k+1] == nos[k]+1 {
			k++
		}
		switch {
		case k == i:
			parts = append(parts, strconv.Itoa(nos[i]))
		case k == i+1:
			parts = append(parts, strconv.Itoa(nos[i]), strconv.Itoa(nos[k]))
		default:
			parts = append(parts, strconv.Itoa(nos[i])+"–"+strconv.Itoa(nos[k]))
		}
		i = k + 1
	}
	return strings.Join(parts, ", ")
}

func (p *Places) add(no int, name string) {
	if !slices.Contains(p.Names, name) {
		p.Nos, p.Names = append(p.Nos, no), append(p.Names, name)
	}
	p.Rows++
}

// FoldedDistance is the rows of one place beside all others that have the very same.
type FoldedDistance struct {
	*Distance // of the first place
	Places
	All     []string   // effects of all places
	Nearest [][]string // lines or marks that are nearest, row by row, each once; "" where none is given
}

// FoldDistances joins what different places have alike: people, article and how it
// points, and of every row what asks, from where it is measured, both figures, the
// mark and what comparing them gave. The order stays that of the first of each.
func FoldDistances(list []Distance) []FoldedDistance {
	var out []FoldedDistance
	for i := range list {
		d := &list[i]
		k := slices.IndexFunc(out, func(x FoldedDistance) bool { return x.alike(d) })
		if k < 0 {
			k, out = len(out), append(out, FoldedDistance{Distance: d, Nearest: make([][]string, len(d.Rows))})
		}
		for n := range d.Rows {
			if !slices.Contains(out[k].Nearest[n], d.Rows[n].Nearest) {
				out[k].Nearest[n] = append(out[k].Nearest[n], d.Rows[n].Nearest)
			}
		}
		out[k].add(d.No, d.Position)
		out[k].All = append(out[k].All, d.Effects...)
	}
	return out
}

func (d *Distance) alike(o *Distance) bool {
	return d.To == o.To && d.Article == o.Article && d.Aim == o.Aim && d.Verdict == o.Verdict && slices.EqualFunc(d.Rows, o.Rows, func(a, b DistanceRow) bool {
		return a.By == b.By && a.From == b.From && a.Mark == b.Mark && a.Verdict == b.Verdict && a.Lacks == b.Lacks && a.Governs == b.Governs && same(a.Required, b.Required) && same(a.Planned, b.Planned)
	})
}

// same compares figures of which either may be unknown.
func same(a, b *float64) bool { return a == nil && b == nil || a != nil && b != nil && *a == *b }

// FoldedHeight is the row of one place beside all others that have the very same.
type FoldedHeight struct {
	*Height
	Places
	Units int // of all places
}

// FoldHeights joins rows that differ in nothing but their place.
func FoldHeights(list []Height) []FoldedHeight {
	var out []FoldedHeight
	for i := range list {
		h := &list[i]
		k := slices.IndexFunc(out, func(x FoldedHeight) bool {
			return x.Article == h.Article && x.Aim == h.Aim && x.Z == h.Z && x.Height.Height == h.Height && x.Mark == h.Mark && x.Verdict == h.Verdict && same(x.Reach, h.Reach) && same(x.Needs, h.Needs) && same(x.Trim, h.Trim)
		})
		if k < 0 {
			k, out = len(out), append(out, FoldedHeight{Height: h})
		}
		out[k].add(0, h.Position)
		out[k].Units += h.Units
	}
	return out
}

// FoldedFinding is a finding beside all others that say the same of something else.
type FoldedFinding struct {
	*PermitFinding // the first
	Who            []string
	What           string // what is said of them
	Songs          []int  // sorted
	Findings       int
}

// Said says it of all of them.
func (f *FoldedFinding) Said() string {
	if len(f.Who) == 0 {
		return f.What
	}
	return strings.Join(f.Who, ", ") + ": " + f.What
}

// FoldFindings joins findings of one rule that say the same in so many words of one
// thing and another: "Comet 1: …" and "Comet 6: …".
func FoldFindings(list []PermitFinding) []FoldedFinding {
	var out []FoldedFinding
	for i := range list {
		f := &list[i]
		who, what, ok := strings.Cut(f.Text, ": ")
		if !ok {
			who, what = "", f.Text
		}
		k := slices.IndexFunc(out, func(x FoldedFinding) bool {
			return x.Rule == f.Rule && x.Severity == f.Severity && x.Accepted == f.Accepted && x.What == what
		})
		if k < 0 {
			k, out = len(out), append(out, FoldedFinding{PermitFinding: f, What: what})
		}
		x := &out[k]
		if x.Findings++; who != "" && !slices.Contains(x.Who, who) {
			x.Who = append(x.Who, who)
		}
		if f.Song > 0 && !slices.Contains(x.Songs, f.Song) {
			x.Songs = append(x.Songs, f.Song)
			slices.Sort(x.Songs)
		}
	}
	return out
}
