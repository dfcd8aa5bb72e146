package rule

import (
	"cmp"
	"slices"
	"strings"
)

// compareFindings is the order in which findings are given: show and rig
// first, then songs as they are played; in a song by time, then gravest first.
func compareFindings(a, b *Finding) int {
	return placedFinding{a.Number, a}.compare(placedFinding{b.Number, b})
}

// placedFinding is a finding with its song's place in the running order. It is
// sorted in place of the finding, which is large to move about.
type placedFinding struct {
	number  int
	finding *Finding
}

func (p placedFinding) compare(q placedFinding) int {
	if c := cmp.Compare(p.number, q.number); c != 0 {
		return c
	}
	a, b := p.finding, q.finding
	if c := compareTimed(a, b); c != 0 {
		return c
	}
	return cmp.Or(
		cmp.Compare(a.Severity.rank(), b.Severity.rank()),
		strings.Compare(a.Rule, b.Rule),
		strings.Compare(a.Ref.Kind, b.Ref.Kind),
		strings.Compare(string(a.Ref.Song), string(b.Ref.Song)),
		strings.Compare(string(a.Ref.ID), string(b.Ref.ID)),
		strings.Compare(a.Text, b.Text),
	)
}

// compareTimed puts what has no time before what has one.
func compareTimed(a, b *Finding) int {
	switch {
	case a.HasTime && b.HasTime:
		return cmp.Compare(a.At, b.At)
	case a.HasTime:
		return 1
	case b.HasTime:
		return -1
	}
	return 0
}

func sortFindings(list []Finding) {
	slices.SortStableFunc(list, func(a, b Finding) int { return compareFindings(&a, &b) })
}
