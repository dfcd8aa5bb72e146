package operation

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// Back are the arguments of what takes an earlier change back: the operation
// that made it, and which of its changes, from 1; nil is the only one.
type Back struct {
	Name string
	N    *int
}

func back() *Operation {
	type A = Back
	action := Argument{Field: field.Text("action", "what is taken back", func(b *A) *string { return &b.Name }), Word: "ACTION",
		read: func(_ *timeline.Plan, text string) (field.Value, error) {
			if names := listing("night"); !slices.Contains(names, text) {
				return field.Value{}, fmt.Errorf("night back: %q is nothing to take back; write one of %s", text, strings.Join(names, ", "))
			}
			return field.Value{Text: text}, nil
		}}
	// A number that is none is told with those there are, by the edit.
	n := optional("n", "which of them, from 1", func(b *A) **int { return &b.N }, strconv.Itoa, func(s string) (int, error) {
		n, err := strconv.Atoi(s)
		if err != nil {
			return 0, fmt.Errorf("is no number; write which of them, from 1")
		}
		return n, nil
	})
	return does(Operation{Verb: "night", On: "night", Name: "back", Menu: "Take back", Title: "Take back", Button: "Take back",
		Tip:  "takes the chosen lines out of the night in view: cuts, swaps, conditions, acceptances",
		Help: "takes back the n-th cut, swap, out, shift …",
		Args: []Argument{action, {Field: n, Word: "N", Optional: true}}},
		func(at At, b *A) (timeline.Edit, error) {
			night := at.Show.Night(onNight(at))
			var items []Item
			for _, i := range NightItems(at.Show, night) {
				if i.Op.Name == b.Name {
					items = append(items, i)
				}
			}
			list := timeline.KindOf("night").Field(Find("night", b.Name).list)
			var texts []string
			for _, i := range items {
				texts = append(texts, list.Get(night).Items[i.N-1])
			}
			k, err := which("night "+list.Name, texts, b.N)
			if err != nil {
				return nil, err
			}
			return items[k].Drop(night.ID), nil
		},
		func(_ *timeline.Show, b *A) string {
			text := "take back: " + b.Name
			if b.N != nil {
				text += " " + strconv.Itoa(*b.N)
			}
			return text
		})
}

// listing names the operations of a verb that leave items in a list.
func listing(verb string) []string {
	var names []string
	for _, o := range Of(verb) {
		if o.items != nil {
			names = append(names, o.Name)
		}
	}
	return names
}

// which finds the item, from 0, that a number means: nil is the only one. The
// error lists those there are.
func which(list string, items []string, n *int) (int, error) {
	var numbered []string
	for i, item := range items {
		numbered = append(numbered, fmt.Sprintf("%d: %s", i+1, item))
	}
	all := strings.Join(numbered, "; ")
	switch {
	case len(items) == 0:
		return 0, fmt.Errorf("%s: there is nothing to take back", list)
	case n == nil && len(items) == 1:
		return 0, nil
	case n == nil:
		return 0, fmt.Errorf("%s: say which by its number: %s", list, all)
	case *n < 1 || *n > len(items):
		return 0, fmt.Errorf("%s: %q is none of the numbers: %s", list, strconv.Itoa(*n), all)
	}
	return *n - 1, nil
}
