package merge

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// Choice is a conflict, by its place in a list, and the side that was chosen.
type Choice struct {
	At   int
	Side Side
}

// Choices reads what was chosen among conflicts: "ours" for all that offer it, or
// "CONFLICT=ours" for one, by its number from 1 or its key. Later words go before
// earlier ones.
func Choices(list []Conflict, words []string) ([]Choice, error) {
	chosen := make([]Side, len(list))
	for _, word := range words {
		i := strings.LastIndexByte(word, '=')
		side := Side(word[i+1:])
		if !slices.Contains(Sides(), side) {
			return nil, fmt.Errorf("%q chooses nothing: write ours, theirs, base or both, or CONFLICT=ours", word)
		}
		if i < 0 {
			for k := range list {
				if list[k].Option(side) != nil {
					chosen[k] = side
				}
			}
			continue
		}
		k, err := find(list, word[:i])
		if err != nil {
			return nil, err
		}
		if list[k].Option(side) == nil {
			_, err := list[k].Settle(side)
			return nil, fmt.Errorf("%s: %w", list[k].Key(), err)
		}
		chosen[k] = side
	}
	var out []Choice
	for i, s := range chosen {
		if s != "" {
			out = append(out, Choice{i, s})
		}
	}
	return out, nil
}

// find finds a conflict by its number or key.
func find(list []Conflict, name string) (int, error) {
	if n, err := strconv.Atoi(name); err == nil {
		if n < 1 || n > len(list) {
			return 0, fmt.Errorf("there is no conflict %d; there are %d", n, len(list))
		}
		return n - 1, nil
	}
	i := slices.IndexFunc(list, func(c Conflict) bool { return c.Key() == name })
	if i < 0 {
		return 0, fmt.Errorf("there is no conflict %q", name)
	}
	return i, nil
}

// SettleAll makes choices in a show, each as an edit that must hold by itself. It
// gives the show and the conflicts that are left.
func SettleAll(s *timeline.Show, list []Conflict, choices []Choice) (*timeline.Show, []Conflict, error) {
	done := map[int]bool{}
	for _, c := range choices {
		edit, err := list[c.At].Settle(c.Side)
		if err != nil {
			return nil, nil, err
		}
		if s, err = s.Edit(edit); err != nil {
			return nil, nil, fmt.Errorf("%s cannot be settled for %s: %w", list[c.At].Key(), c.Side, err)
		}
		done[c.At] = true
	}
	var left []Conflict
	for i := range list {
		if !done[i] {
			left = append(left, list[i])
		}
	}
	return s, left, nil
}
