package operation

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// Argument is one value that an operation takes. Its field reads and writes it
// in the struct of the operation's arguments.
type Argument struct {
	field.Field
	Word     string   // on the command line it stands after the action, under this name in help: ARTICLE; "" is a flag
	Optional bool     // a word that may be left out; one that is a list may be repeated in any case
	Label    string   // before it in a form
	Hint     string   // in its empty place in a form
	Need     string   // said where it is missing; "" where it may be
	Kinded   bool     // it holds kind=id, not the id alone
	NoForm   bool     // a form does not ask for it: what was chosen before says it
	NoVerb   bool     // only a form asks for it
	Empty    bool     // given without a text it is something else than not given
	Commas   bool     // a list that is a flag takes several with commas between
	About    []string // fields of records: an error about one of them is about this argument

	read  func(*timeline.Plan, string) (field.Value, error) // nil is by what Ref says
	offer func(*timeline.Show) []Offer                      // nil is by Choices and Ref
}

// Offer is one thing that an argument can be.
type Offer struct {
	Value string // as Read takes it
	Name  string
}

// Offers lists what an argument can be where neither its choices nor records of
// the show say so; nil for all others.
func (a *Argument) Offers(s *timeline.Show) []Offer {
	if a.offer == nil {
		return nil
	}
	return a.offer(s)
}

// Flag reports whether it is a flag on the command line.
func (a *Argument) Flag() bool { return a.Word == "" && !a.NoVerb }

// Read turns what a user writes, a name or id, into a value of the argument, or
// of one item of a list; a name that means several, such as a group, into those.
// The error says what would be valid.
func (a *Argument) Read(p *timeline.Plan, text string) (field.Value, error) {
	switch {
	case a.read != nil:
		return a.read(p, text)
	case len(a.Ref) == 0:
		return field.Value{Text: text}, nil
	case len(a.Ref) == 1 && !a.Kinded:
		ref, err := p.FindRecord(a.Ref[0] + ":" + text)
		return field.Value{Text: string(ref.ID)}, err
	}
	ref, err := p.FindOneOf(text, a.Ref...)
	if a.Kinded {
		return field.Value{Text: ref.Kind + "=" + string(ref.ID)}, err
	}
	return field.Value{Text: string(ref.ID)}, err
}

// Give reads what a user writes and puts it into the arguments; only a list
// takes several texts.
func (a *Argument) Give(p *timeline.Plan, args any, texts ...string) error {
	var v field.Value
	for _, text := range texts {
		w, err := a.Read(p, text)
		if err != nil {
			return err
		}
		switch {
		case a.Type != field.ListType:
			v.Text = w.Text
		case w.Items != nil:
			v.Items = append(v.Items, w.Items...)
		default:
			v.Items = append(v.Items, w.Text)
		}
	}
	return a.Set(args, v)
}

// id holds the id of a record of one of the kinds. Whether the record exists is
// the edit's to say.
func id[A any](name, help string, at func(*A) *timeline.ID, kinds ...string) field.Field {
	f := field.Parsed(name, help, at, func(id timeline.ID) string { return string(id) }, func(s string) (timeline.ID, error) { return timeline.ID(s), nil })
	f.Ref = kinds
	return f
}

// kindAndID holds the kind and id of a record of one of the kinds.
func kindAndID[A any](name, help string, get func(*A) (kind string, id timeline.ID), set func(a *A, kind string, id timeline.ID), kinds ...string) field.Field {
	f := field.Of(name, help, field.TextType,
		func(a *A) field.Value {
			kind, id := get(a)
			if id == "" {
				return field.Value{}
			}
			return field.Value{Text: kind + "=" + string(id)}
		},
		func(a *A, v field.Value) error {
			kind, id, _ := strings.Cut(v.Text, "=")
			if id != "" && !slices.Contains(kinds, kind) {
				return fmt.Errorf("is not one of: %s", field.Listed(kinds))
			}
			set(a, kind, timeline.ID(id))
			return nil
		})
	f.Ref = kinds
	return f
}

// ids holds ids of records of the kinds.
func ids[A any](name, help string, at func(*A) *[]timeline.ID, kinds ...string) field.Field {
	f := field.List(name, help, at, func(id timeline.ID) string { return string(id) }, func(s string) (timeline.ID, error) { return timeline.ID(s), nil })
	f.Ref = kinds
	return f
}

// refs holds records of some kinds, each written kind=id.
func refs[A any](name, help string, at func(*A) *[]timeline.Ref, kinds ...string) field.Field {
	f := field.List(name, help, at, func(r timeline.Ref) string { return r.Kind + "=" + string(r.ID) }, func(s string) (timeline.Ref, error) {
		kind, id, _ := strings.Cut(s, "=")
		if !slices.Contains(kinds, kind) {
			return timeline.Ref{}, fmt.Errorf("is not one of: %s", field.Listed(kinds))
		}
		return timeline.Ref{Kind: kind, ID: timeline.ID(id)}, nil
	})
	f.Ref = kinds
	return f
}

// wholeCount reads a whole number; how many there can be is the edit's to say.
func wholeCount(s string) (int, error) {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil {
		return 0, fmt.Errorf("must be a whole number")
	}
	return n, nil
}

// selectorKinds are what cuts and swaps choose by.
var selectorKinds = []string{"family", "article", "placed", "lane", "song", "cue"}

// chosen is the argument of a selector, written what=name.
func chosen[A any](at func(*A) *timeline.Selector) Argument {
	f := kindAndID("what", "what is chosen", func(a *A) (string, timeline.ID) { return at(a).What, timeline.ID(at(a).ID) },
		func(a *A, kind string, id timeline.ID) { *at(a) = timeline.Selector{What: kind, ID: string(id)} }, selectorKinds...)
	return Argument{Field: f, Word: "WHAT=NAME", Label: "Which", Need: "nothing is chosen", Kinded: true, read: readSelector}
}

func readSelector(p *timeline.Plan, text string) (field.Value, error) {
	sel, err := p.FindSelector(text)
	return field.Value{Text: sel.What + "=" + sel.ID}, err
}

// reason is why somebody asks for a change.
func reason[A any](label, hint string, at func(*A) *string) Argument {
	return Argument{Field: trimmed(field.Text("reason", "why, or who asks for it", at), at), Label: label, Hint: hint}
}

// trimmed has no space at its ends.
func trimmed[A any](f field.Field, at func(*A) *string) field.Field {
	return field.Of(f.Name, f.Help, f.Type, func(a *A) field.Value { return f.Get(a) }, func(a *A, v field.Value) error {
		v.Text = strings.TrimSpace(v.Text)
		return f.Set(a, v)
	})
}

// optional holds a value that may be left out, where nothing given and 0 are
// not the same.
func optional[A, V any](name, help string, at func(*A) **V, format func(V) string, parse func(string) (V, error)) field.Field {
	return field.Of(name, help, field.TextType,
		func(a *A) field.Value {
			if *at(a) == nil {
				return field.Value{}
			}
			return field.Value{Text: format(**at(a))}
		},
		func(a *A, v field.Value) error {
			if v.Text == "" {
				*at(a) = nil
				return nil
			}
			x, err := parse(v.Text)
			if err != nil {
				return err
			}
			*at(a) = &x
			return nil
		})
}

// maybeText holds a text that may be left out, where "" is one, too: its
// argument says Empty.
func maybeText[A any](name, help string, at func(*A) **string) field.Field {
	return field.Of(name, help, field.TextType,
		func(a *A) field.Value {
			if *at(a) == nil {
				return field.Value{}
			}
			return field.Value{Text: **at(a)}
		},
		func(a *A, v field.Value) error {
			*at(a) = &v.Text
			return nil
		})
}

// in gives a field a unit of measure.
func in(unit string, f field.Field) field.Field {
	f.Unit = cmp.Or(unit, f.Unit)
	return f
}
