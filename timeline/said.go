package timeline

import (
	"fmt"
	"strings"

	"emberbeat/timeline/field"
)

// Named gives what the crew calls a record of a kind, see Called: a name that it
// was given in quotes, of what lives in a song with the song's title. A record
// that is not there is said to be gone.
func (s *Show) Named(kind string, id ID) string {
	return s.named(Ref{Kind: kind, ID: id})
}

// VersionNamed names a song with its version in brackets, in quotes; one that is not
// there is said to be gone.
func (s *Show) VersionNamed(song ID) string {
	if g := s.Song(song); g != nil {
		return fmt.Sprintf("%q", g.FullTitle())
	}
	return string(song) + " (gone)"
}

func (s *Show) named(r Ref) string {
	k := KindOf(r.Kind)
	if k == nil {
		return string(r.ID)
	}
	if !k.InSong {
		if rec := k.Find(s, "", r.ID); rec != nil {
			return s.quotedIn("", k, rec)
		}
		return string(r.ID) + " (gone)"
	}
	for _, g := range s.Songs {
		if rec := k.Find(s, g.ID, r.ID); rec != nil && (r.Song == "" || r.Song == g.ID) {
			return fmt.Sprintf("%s of song %q", s.quotedIn(g.ID, k, rec), s.Called(&g.SongHead))
		}
	}
	return string(r.ID) + " (gone)"
}

// quotedIn puts what was typed in quotes, and leaves what is made up as it is.
func (s *Show) quotedIn(song ID, k *Kind, r Record) string {
	if k.NameOf(r) == "" {
		return s.CalledIn(song, r)
	}
	return fmt.Sprintf("%q", s.CalledIn(song, r))
}

// NamedRef names a record with its kind: `supply "CO2 left"`.
func (s *Show) NamedRef(r Ref) string {
	if r.Kind == "show" {
		return "the show"
	}
	name := s.named(r)
	if said := kindWord(r.Kind); !strings.Contains(name, said) || strings.HasPrefix(name, `"`) {
		return said + " " + name
	}
	return name // "section at 17.1" says what it is
}

// kindWord is the word for a record of a kind in a sentence.
func kindWord(kind string) string {
	switch kind {
	case "ruleset":
		return "rule set"
	case "handcue":
		return "hand cue"
	case "devicetype":
		return "device type"
	case "banktype":
		return "bank type"
	}
	return kind
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
