package timeline

import (
	"cmp"
	"fmt"
	"strings"

	"emberbeat/timeline/field"
)

// Named gives what the crew calls a record of a kind: its name in quotes, of
// what lives in a song with the song's title; without a name its id. A cue is
// called after its place. A record that is not there is said to be gone.
func (s *Show) Named(kind string, id ID) string {
	k := KindOf(kind)
	if k == nil {
		return string(id)
	}
	if !k.InSong {
		r := k.Find(s, "", id)
		switch {
		case r == nil:
			return string(id) + " (gone)"
		case k.NameOf(r) != "":
			return fmt.Sprintf("%q", k.NameOf(r))
		}
		return string(id)
	}
	for _, g := range s.Songs {
		if r := k.Find(s, g.ID, id); r != nil {
			return fmt.Sprintf("%s of song %q", namedInSong(k, r), g.FullTitle())
		}
	}
	return string(id) + " (gone)"
}

// namedInSong names a record for somebody who knows its song.
func namedInSong(k *Kind, r Record) string {
	if name := k.NameOf(r); name != "" {
		return fmt.Sprintf("%q", name)
	}
	switch r := r.(type) {
	case *Cue:
		return "at " + r.At.String()
	case *Lane:
		return string(cmp.Or(r.Target, r.ID))
	}
	return string(r.RecordID())
}

// NamedRef names a record with its kind: `supply "CO2 left"`.
func (s *Show) NamedRef(r Ref) string {
	if r.Kind == "show" {
		return "the show"
	}
	return r.Kind + " " + s.Named(r.Kind, r.ID)
}

// Chosen says in words what a cut or swap chooses.
func (s *Show) Chosen(sel Selector) string {
	if sel.What == "family" {
		return "family " + sel.ID
	}
	return sel.What + " " + s.Named(sel.What, ID(sel.ID))
}

// DistanceAsked says what a distance asks for, and who asks.
func (s *Show) DistanceAsked(d Distance) string {
	var names []string
	for _, f := range d.Families {
		names = append(names, "family "+string(f))
	}
	for _, a := range d.Articles {
		names = append(names, s.Named("article", a))
	}
	what := strings.Join(names, ", ")
	if what == "" {
		what = "every effect"
	}
	var much []string
	if d.AtLeast > 0 {
		much = append(much, "at least "+field.FormatNumber(d.AtLeast)+" m")
	}
	if d.Fallout > 0 {
		much = append(much, field.FormatNumber(d.Fallout)+" x fallout radius")
	}
	text := fmt.Sprintf("distance to %s: %s, %s", d.To, what, strings.Join(much, " or, where it is more, "))
	if d.Clause != "" {
		text += ", asked for by " + d.Clause
	}
	return text
}
