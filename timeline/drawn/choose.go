package drawn

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// Taking says what of a drawing is taken, and as what.
type Taking struct {
	Drawing   *Drawing
	Only      []string  // fixtures that are taken: names, numbers, types, groups; * stands for anything
	Layers    []string  // nothing of any other layer is looked at
	Positions []string  // things that are taken as positions alone, named as in Only
	Means     []Meaning // what things are in our stock
	Ties      []Tie
	Space     string // address space of new devices
	Replace   bool   // what the show has by the same name goes where the drawing says
}

// Meaning says what things of a drawing are in our stock.
type Meaning struct {
	Theirs string       // named as in Only
	Ours   timeline.Ref // an article or a device type
}

// like reports whether a text is what a word says, without regard to case; * stands
// for any letters, also none.
func like(word, text string) bool {
	word, text = strings.ToLower(word), strings.ToLower(text)
	parts := strings.Split(word, "*")
	if len(parts) == 1 {
		return word == text
	}
	text, ok := strings.CutPrefix(text, parts[0])
	if !ok {
		return false
	}
	last := parts[len(parts)-1]
	for _, p := range parts[1 : len(parts)-1] {
		_, after, found := strings.Cut(text, p)
		if !found {
			return false
		}
		text = after
	}
	return strings.HasSuffix(text, last)
}

// is reports whether a word names a thing: by its name, number, type, or a group
// that it is in.
func (t *Thing) is(word string) bool {
	return word != "" && (like(word, t.Name) || t.Number != "" && like(word, t.Number) || t.Type != nil && (like(word, t.Type.Name) || slices.ContainsFunc(t.Type.Also, func(n string) bool { return like(word, n) })) ||
		slices.ContainsFunc(t.Groups, func(g string) bool { return like(word, g) }))
}

func (t *Thing) isAny(words []string) bool { return slices.ContainsFunc(words, t.is) }

// on reports whether a thing is on a layer that is looked at.
func (t *Thing) on(layers []string) bool {
	return len(layers) == 0 || slices.ContainsFunc(layers, func(l string) bool { return like(l, t.Layer) })
}

// How a thing is taken.
type how int

const (
	leftOut how = iota
	asPosition
	asDevice
)

// how says how a thing is taken, or why it is not.
func (k *Taking) how(t *Thing) (how, string) {
	switch {
	case !t.on(k.Layers):
		return leftOut, "it is on another layer"
	case t.isAny(k.Positions):
		return asPosition, ""
	case t.isAny(k.Only):
		if t.Fixture() {
			return asDevice, ""
		}
		return asPosition, ""
	case len(k.Only) > 0:
		return leftOut, "it was not chosen"
	case !t.Fixture():
		return leftOut, "it is no device"
	case len(k.Layers) > 0 || t.Purpose != "" || slices.ContainsFunc(k.Means, func(m Meaning) bool { return t.is(m.Theirs) }):
		return asDevice, ""
	}
	return leftOut, "nothing says that it is a special effect; choose it by name, type or layer"
}

// means gives what a thing is in our stock, by kind; the first that says so counts.
func (k *Taking) means(t *Thing, kind string) timeline.ID {
	for _, m := range k.Means {
		if m.Ours.Kind == kind && t.is(m.Theirs) {
			return m.Ours.ID
		}
	}
	return ""
}

// check gives an error for a word that names nothing.
func (k *Taking) check() error {
	var means []string
	for _, m := range k.Means {
		means = append(means, m.Theirs)
	}
	for _, list := range []struct {
		what  string
		words []string
		is    func(*Thing, string) bool
	}{
		{"only", k.Only, (*Thing).is}, {"positions", k.Positions, (*Thing).is}, {"means", means, (*Thing).is},
		{"layer", k.Layers, func(t *Thing, w string) bool { return like(w, t.Layer) }},
	} {
		for _, w := range list.words {
			if !slices.ContainsFunc(k.Drawing.Things, func(t Thing) bool { return list.is(&t, w) }) {
				return &timeline.ValueError{Field: list.what, Value: w, Want: "names nothing of the drawing; it has " + k.Drawing.holds()}
			}
		}
	}
	return nil
}

// mostNamed bounds how many layers and types a sentence lists.
const mostNamed = 12

// holds lists the layers and types of a drawing.
func (d *Drawing) holds() string {
	layers, types := map[string]int{}, map[string]int{}
	for i := range d.Things {
		layers[d.Things[i].Layer]++
		types[cmp.Or(d.Things[i].typeName(), d.Things[i].Kind)]++
	}
	return "the layers " + most(layers) + "; the types " + most(types)
}

// most lists what there is most of, with how many.
func most(count map[string]int) string {
	names := make([]string, 0, len(count))
	for name := range count {
		names = append(names, name)
	}
	slices.SortFunc(names, func(a, b string) int { return cmp.Or(count[b]-count[a], cmp.Compare(a, b)) })
	rest := ""
	if len(names) > mostNamed {
		rest = fmt.Sprintf(" and %d more", len(names)-mostNamed)
		names = names[:mostNamed]
	}
	for i, name := range names {
		names[i] = fmt.Sprintf("%q (%d)", name, count[name])
	}
	return strings.Join(names, ", ") + rest
}

// named gives each thing the name that it has in our show: its own, or that of its
// type; where several are called so, with its number or its place among them.
func (d *Drawing) named() []string {
	names, same := make([]string, len(d.Things)), map[string][]int{}
	for i := range d.Things {
		t := &d.Things[i]
		names[i] = cmp.Or(timeline.CleanText(t.Name), timeline.CleanText(t.typeName()), t.Kind)
		key := strings.ToLower(names[i])
		same[key] = append(same[key], i)
	}
	taken := map[string]bool{}
	for key, list := range same {
		taken[key] = len(list) == 1
	}
	for i := range d.Things {
		list := same[strings.ToLower(names[i])]
		if len(list) < 2 || list[0] != i {
			continue
		}
		numbers := map[string]int{}
		for _, j := range list {
			numbers[strings.ToLower(timeline.CleanText(d.Things[j].Number))]++
		}
		base := names[i]
		for k, j := range list {
			number := timeline.CleanText(d.Things[j].Number)
			if number == "" || numbers[strings.ToLower(number)] > 1 {
				number = fmt.Sprint(k + 1)
			}
			name := base + " " + number
			for n := k + 2; taken[strings.ToLower(name)]; n++ {
				name = fmt.Sprintf("%s %d", base, n)
			}
			names[j], taken[strings.ToLower(name)] = name, true
		}
	}
	return names
}
