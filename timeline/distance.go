package timeline

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline/field"
	"emberbeat/timeline/units"
)

// DistanceTo says whom a distance keeps away.
type DistanceTo string

// Whom a distance keeps away. Persons are audience and performers alike.
const (
	ToAudience   DistanceTo = "audience"
	ToPerformers DistanceTo = "performers"
	ToPersons    DistanceTo = "persons"
)

// Distance is what a rule set, a permit or an officer asks for between an
// effect and people: the larger of a length and a multiple of the fallout
// radius. Without families and articles it holds for every effect.
type Distance struct {
	To       DistanceTo
	AtLeast  float64 // m
	Fallout  float64 // times the article's fallout radius
	Glowing  float64 // m from people that nothing glowing or flaming comes nearer to; 0 = not asked
	Families []Family
	Articles []ID
	Clause   string // where it is written, or who asked for it
}

// Covers reports whether the distance holds for an article and for those it
// must be kept from.
func (d Distance) Covers(a *Article, to DistanceTo) bool {
	if d.To != to && d.To != ToPersons {
		return false
	}
	return len(d.Families)+len(d.Articles) == 0 || slices.Contains(d.Families, a.Family) || slices.Contains(d.Articles, a.ID)
}

// Metres gives the distance for an article. A multiple of a fallout radius that
// is not given is left out: see Unknown.
func (d Distance) Metres(a *Article) float64 { return max(d.AtLeast, d.Fallout*a.Fallout) }

// Unknown says which part of the distance cannot be computed for an article: "2 x
// fallout"; "" = none.
func (d Distance) Unknown(a *Article) string {
	if d.Fallout == 0 || a.Fallout > 0 {
		return ""
	}
	return field.FormatNumber(d.Fallout) + " x fallout"
}

// Formula says how Metres comes about: "4.572 m or 2 x fallout of 3 m".
func (d Distance) Formula(told units.System, a *Article) string {
	if d.Fallout == 0 {
		return told.Say("m", d.AtLeast, -1)
	}
	fallout := field.FormatNumber(d.Fallout) + " x fallout of " + told.Say("m", a.Fallout, -1)
	if a.Fallout == 0 {
		fallout = field.FormatNumber(d.Fallout) + " x fallout, which is not given"
	}
	if d.AtLeast == 0 {
		return fallout
	}
	return told.Say("m", d.AtLeast, -1) + " or " + fallout
}

const distanceWords = "audience, performers or persons, then at-least= fallout-times= glowing= families=a,b articles=a,b clause="

// String writes the item form: `audience at-least=4.572 fallout-times=2
// families=comet,mine clause="FC 3309.12"`.
func (d Distance) String() string {
	var w itemWriter
	w.head(string(d.To))
	if d.AtLeast != 0 {
		w.pair("at-least", field.FormatNumber(d.AtLeast))
	}
	if d.Fallout != 0 {
		w.pair("fallout-times", field.FormatNumber(d.Fallout))
	}
	if d.Glowing != 0 {
		w.pair("glowing", field.FormatNumber(d.Glowing))
	}
	w.pair("families", joinIDs(d.Families))
	w.pair("articles", joinIDs(d.Articles))
	w.pair("clause", d.Clause)
	return w.String()
}

// ParseDistance reads the item form of a distance.
func ParseDistance(s string) (Distance, error) {
	r := readItem(s)
	d := Distance{To: take2(r, r.head("audience, performers or persons"), parseDistanceTo)}
	d.AtLeast, d.Fallout = take(r, "at-least", parseMetres), take(r, "fallout-times", parseTimes)
	d.Glowing = take(r, "glowing", parseMetres)
	d.Families, d.Articles = take(r, "families", parseFamilies), take(r, "articles", parseIDs)
	d.Clause = r.value("clause")
	if r.err == nil && d.AtLeast == 0 && d.Fallout == 0 && d.Glowing == 0 {
		r.err = fmt.Errorf("asks for no distance; write at-least= in metres, fallout-times= or both, or glowing= in metres")
	}
	return d, r.done(distanceWords)
}

func parseDistanceTo(s string) (DistanceTo, error) {
	all := []DistanceTo{ToAudience, ToPerformers, ToPersons}
	if slices.Contains(all, DistanceTo(s)) {
		return DistanceTo(s), nil
	}
	return "", fmt.Errorf("is not one of: %s", field.Listed(all))
}

func parseMetres(s string) (float64, error) { return parseTo10000("m", s) }

func parseTimes(s string) (float64, error) { return parseTo10000("", s) }

func parseTo10000(unit, s string) (float64, error) {
	x, err := units.Metres.Read(unit, s)
	if err != nil || !(x >= 0 && x <= 10000) {
		return 0, fmt.Errorf("must be a number from 0 to 10000")
	}
	return x + 0, nil
}

func parseFamilies(s string) ([]Family, error) {
	var list []Family
	for _, w := range strings.Split(s, ",") {
		if !slices.Contains(Families(), Family(w)) {
			return nil, fmt.Errorf("%q is not one of: %s", w, field.Listed(Families()))
		}
		list = append(list, Family(w))
	}
	return list, nil
}

func parseIDs(s string) ([]ID, error) {
	var list []ID
	for _, w := range strings.Split(s, ",") {
		id, err := parseID(w)
		if err != nil {
			return nil, fmt.Errorf("%q %w", w, err)
		}
		list = append(list, id)
	}
	return list, nil
}

func joinIDs[S ~string](list []S) string {
	words := make([]string, len(list))
	for i, w := range list {
		words[i] = string(w)
	}
	return strings.Join(words, ",")
}
