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

// back describes the operation that takes back what others of a verb have left.
// place gives the list that the changes of one of them stand in, their texts,
// and the number that each has there.
func back(o Operation, place func(At, *Operation) (list string, texts []string, numbers []int)) *Operation {
	type A = Back
	o.Name, o.Button = "back", "Take back"
	n := optional("n", "which of them, from 1", func(b *A) **int { return &b.N }, strconv.Itoa, func(s string) (int, error) {
		n, err := strconv.Atoi(s)
		if err != nil {
			return 0, fmt.Errorf("is no number; write which of them, from 1")
		}
		return n, nil
	})
	// A form chooses both at once: line 2.
	action := field.Of("action", "what is taken back", field.TextType,
		func(b *A) field.Value { return field.Value{Text: b.Name} },
		func(b *A, v field.Value) error {
			name, number, both := strings.Cut(v.Text, " ")
			if both {
				if err := n.Set(b, field.Value{Text: number}); err != nil {
					return err
				}
			}
			b.Name = name
			return nil
		})
	known := func(_ *timeline.Plan, text string) (field.Value, error) {
		name, _, _ := strings.Cut(text, " ")
		if names := listing(o.Verb); !slices.Contains(names, name) {
			return field.Value{}, fmt.Errorf("%s back: %q is nothing to take back; write one of %s", o.Verb, text, strings.Join(names, ", "))
		}
		return field.Value{Text: text}, nil
	}
	o.Args = []Argument{{Field: action, Word: "ACTION", Label: "What", Need: "nothing is there to take back", read: known}, {Field: n, Word: "N", Optional: true, NoForm: true}}
	return does(o,
		func(at At, b *A) (timeline.Edit, error) {
			list, texts, numbers := place(at, Find(o.Verb, b.Name))
			k, err := which(o.Verb+" "+list, texts, b.N)
			if err != nil {
				return nil, err
			}
			return timeline.DropItem(at.On, list, numbers[k]), nil
		},
		func(_ *timeline.Show, b *A) string {
			text := "take back: " + b.Name
			if b.N != nil {
				text += " " + strconv.Itoa(*b.N)
			}
			return text
		})
}

// nightBack takes back what a night says. Operations that share a list count
// their own items in it.
func nightBack() *Operation {
	return back(Operation{Verb: "night", On: "night", Menu: "Take back", Title: "Take back",
		Tip:  "takes the chosen lines out of the night in view: cuts, swaps, conditions, acceptances",
		Help: "takes back the n-th cut, swap, out, shift …"},
		func(at At, o *Operation) (list string, texts []string, numbers []int) {
			night := at.Show.Night(onNight(at))
			f, names := timeline.KindOf("night").Field(o.list), at.Show.Names()
			for _, i := range NightItems(at.Show, night) {
				if i.Op == o {
					texts, numbers = append(texts, names.SaidItem(f, "", f.Get(night).Items[i.N-1])), append(numbers, i.N)
				}
			}
			return o.list, texts, numbers
		})
}

// venueBack takes back what is written down of a venue, a list to each
// operation.
func venueBack() *Operation {
	return back(Operation{Verb: "venue", On: "venue", Menu: "Take back at the venue…", Title: "Take back",
		Tip:  "takes a line, mark, zone, quiet window, ban, condition or distance of the venue shown back",
		Help: "takes back the n-th line, performer, clear, condition …"},
		func(at At, o *Operation) (list string, texts []string, numbers []int) {
			f, names := timeline.KindOf("venue").Field(o.list), at.Show.Names()
			for i, item := range f.Get(at.Show.Venue(at.On.ID)).Items {
				texts, numbers = append(texts, names.SaidItem(f, "", item)), append(numbers, i+1)
			}
			return o.list, texts, numbers
		})
}

// VenueItem is one thing that is written down of a venue in a list.
type VenueItem struct {
	Op   *Operation
	N    int    // its place in the list, from 1
	Text string // as the venue's file has it, with records called by their names
}

// VenueItems lists what can be taken back of a venue, operation by operation.
func VenueItems(s *timeline.Show, v *timeline.Venue) []VenueItem {
	var all []VenueItem
	names := s.Names()
	for _, o := range Of("venue") {
		if o.list == "" {
			continue
		}
		f := timeline.KindOf("venue").Field(o.list)
		for i, item := range f.Get(v).Items {
			all = append(all, VenueItem{o, i + 1, names.SaidItem(f, "", item)})
		}
	}
	return all
}

// listing names the operations of a verb that leave items in a list.
func listing(verb string) []string {
	var names []string
	for _, o := range Of(verb) {
		if o.list != "" {
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
