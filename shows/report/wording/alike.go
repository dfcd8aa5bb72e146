package wording

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Alike gathers names of which the same is said, so that it is said once.
type Alike struct {
	said  []string
	names map[string][]string
}

// Add adds what is said of a name.
func (a *Alike) Add(name, said string) {
	if a.names == nil {
		a.names = map[string][]string{}
	}
	if a.names[said] == nil {
		a.said = append(a.said, said)
	}
	a.names[said] = append(a.names[said], name)
}

// Texts gives one text for each thing said, in the order in which they came.
func (a *Alike) Texts() []string {
	list := []string{}
	for _, said := range a.said {
		list = append(list, JoinNames(a.names[said])+said)
	}
	return list
}

// JoinNames writes names, with those that differ by a number alone as one:
// "flame head 1–4, 6, jet 2".
func JoinNames(names []string) string {
	numbers := map[string][]int{}
	var order []string
	for _, name := range names {
		stem, n := cutNumber(name)
		if numbers[stem] == nil {
			order = append(order, stem)
		}
		numbers[stem] = append(numbers[stem], n)
	}
	var parts []string
	for _, stem := range order {
		if numbers[stem][0] < 0 {
			parts = append(parts, stem)
			continue
		}
		parts = append(parts, stem+Runs(numbers[stem]))
	}
	return strings.Join(parts, ", ")
}

// cutNumber parts a name from the number at its end; -1 where it has none, or
// one with zeros before it, which would be lost.
func cutNumber(name string) (stem string, n int) {
	stem = strings.TrimRight(name, "0123456789")
	digits := name[len(stem):]
	n, err := strconv.Atoi(digits)
	if err != nil || !strings.HasSuffix(stem, " ") || strconv.Itoa(n) != digits {
		return name, -1
	}
	return stem, n
}

// Runs writes numbers in order, those that follow each other as from–to.
func Runs(list []int) string {
	list = slices.Clone(list)
	slices.SortFunc(list, cmp.Compare[int])
	list = slices.Compact(list)
	var parts []string
	for i := 0; i < len(list); {
		j := i
		for j+1 < len(list) && list[j+1] == list[j]+1 {
			j++
		}
		if i == j {
			parts = append(parts, strconv.Itoa(list[i]))
		} else {
			parts = append(parts, fmt.Sprintf("%d–%d", list[i], list[j]))
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}
