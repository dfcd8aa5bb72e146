package timeline

import (
	"fmt"
	"strconv"
	"strings"

	"emberbeat/timeline/field"
)

// Named gives what the crew calls a record of a kind, see Called: a name that it
// was given in quotes, of what lives in a song with the song's title. A record
// that is not there is said to be gone.
func (s *Show) Named(kind string, id ID) string {
	return s.Names().named(Ref{Kind: kind, ID: id})
}

// VersionNamed names a song with its version in brackets, in quotes; one that is not
// there is said to be gone.
func (s *Show) VersionNamed(song ID) string {
	if g := s.Song(song); g != nil {
		return fmt.Sprintf("%q", g.FullTitle())
	}
	return string(song) + " (gone)"
}

func (n *Names) named(r Ref) string {
	s, k := n.show, KindOf(r.Kind)
	if k == nil {
		return string(r.ID)
	}
	if !k.InSong {
		if rec := k.Find(s, "", r.ID); rec != nil {
			return n.quotedIn("", k, rec)
		}
		if r.Kind == "setting" { // without a record it is as its rule has it, and is called as the rule is
			return string(r.ID)
		}
		return string(r.ID) + " (gone)"
	}
	for _, g := range s.Songs {
		if rec := k.Find(s, g.ID, r.ID); rec != nil && (r.Song == "" || r.Song == g.ID) {
			return fmt.Sprintf("%s of song %q", n.quotedIn(g.ID, k, rec), n.called("", &g.SongHead))
		}
	}
	return string(r.ID) + " (gone)"
}

// quotedIn puts what was typed in quotes, and leaves what is made up as it is.
func (n *Names) quotedIn(song ID, k *Kind, r Record) string {
	if k.NameOf(r) == "" {
		return n.called(song, r)
	}
	return fmt.Sprintf("%q", n.called(song, r))
}

// NamedRef names a record with its kind: `supply "CO2 left"`.
func (s *Show) NamedRef(r Ref) string { return s.Names().NamedRef(r) }

// NamedRef is Show.NamedRef.
func (n *Names) NamedRef(r Ref) string {
	if r.Kind == "show" {
		return "the show"
	}
	name := n.named(r)
	if said := kindWord(r.Kind); !strings.Contains(name, said) || strings.HasPrefix(name, `"`) {
		return said + " " + name
	}
	return name // "section at 17.1" says what it is
}

// NamedRefs names several records with their kinds, and counts those past the
// third.
func (n *Names) NamedRefs(refs []Ref) string { return someOf(refs, n.NamedRef) }

// someOf writes the first three of a list, and how many there are more.
func someOf(refs []Ref, said func(Ref) string) string {
	var list []string
	for i, r := range refs {
		if i == 3 {
			list = append(list, fmt.Sprintf("and %d more", len(refs)-i))
			break
		}
		list = append(list, said(r))
	}
	return strings.Join(list, ", ")
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
		much = append(much, "at least "+s.Told().Say("m", d.AtLeast, -1))
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

// Counted writes how many there are of something, which takes an s where it is not
// one: "1 cue", "3 cues", "1,234 cues".
func Counted(n int, noun string) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	if n == 1 {
		return s + " " + noun
	}
	return s + " " + noun + "s"
}
