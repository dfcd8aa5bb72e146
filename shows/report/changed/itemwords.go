package changed

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// itemWords say what stands in a list field, for people: what one of its items is, which
// one it is, and what it says besides its name. Of items of one name that stand in a list
// before and after it is said what they say now.
type itemWords struct {
	noun string
	of   func(s *timeline.Show, item string) (name, says string)
}

// inWords holds the lists that are told in words, by kind and field; what an item of
// another list says is told as edit would take it.
var inWords = map[string]itemWords{
	"night.crew": {"crew", func(s *timeline.Show, item string) (string, string) {
		return s.CalledBy(timeline.ID(item), "person"), ""
	}},
	"night.permits":       {"permit", permitWords},
	"venue.banned":        {"ban on", func(s *timeline.Show, item string) (string, string) { return banned(s, item), "" }},
	"venue.audience":      {"audience line", lineWords},
	"venue.performers":    {"performer's mark", markWords},
	"venue.clear-zones":   {"clear zone", markWords},
	"venue.cloths":        {"cloth", wallWords},
	"venue.exits":         {"exit", markWords},
	"venue.extinguishers": {"extinguisher", markWords},
	"venue.control":       {"operator's place", markWords},
	"venue.spotters":      {"spotter's place", markWords},
	"venue.quiet":         {"window without effects", plainWords},
	"venue.quiet-windows": {"window without effects", quietWords},
	"venue.conditions":    {"condition", plainWords},
	"venue.emergency":     {"emergency step", plainWords},
	"venue.distances":     {"", distanceWords},
	"venue.permits":       {"permit", permitWords},
	"show.emergency":      {"emergency step", plainWords},
}

func plainWords(_ *timeline.Show, item string) (string, string) { return `"` + item + `"`, "" }

// banned names a family or an article.
func banned(s *timeline.Show, item string) string {
	if s.Stock.Article(timeline.ID(item)) != nil {
		return s.Named("article", timeline.ID(item))
	}
	return item
}

func point(s *timeline.Show, p timeline.Point) string {
	return s.Told().Number("m", p.X, -1) + ", " + s.Told().Number("m", p.Y, -1)
}

func lineWords(s *timeline.Show, item string) (string, string) {
	l, err := timeline.ParsePlanLine(item)
	if err != nil {
		return item, ""
	}
	return fmt.Sprintf("%q", l.Name), "from " + point(s, l.From) + " to " + point(s, l.To)
}

func wallWords(s *timeline.Show, item string) (string, string) {
	l, err := timeline.ParsePlanWall(item)
	if err != nil {
		return item, ""
	}
	return fmt.Sprintf("%q", l.Name), "from " + point(s, l.From) + " to " + point(s, l.To) + ", from " + s.Told().Say("m", l.Foot, -1) + " up to " + s.Told().Say("m", l.Crown, -1)
}

func markWords(s *timeline.Show, item string) (string, string) {
	m, err := timeline.ParsePlanMark(item)
	if err != nil {
		return item, ""
	}
	says := "at " + point(s, m.At)
	if m.Radius > 0 {
		says += ", radius " + s.Told().Say("m", m.Radius, -1)
	}
	if m.Song != "" {
		says += " in " + s.Named("song", m.Song)
	}
	if m.From != 0 || m.To != 0 {
		says += " from " + m.From.Clock(1)
		if m.To != 0 {
			says += " to " + m.To.Clock(1)
		}
	}
	return fmt.Sprintf("%q", m.Name), says
}

func quietWords(s *timeline.Show, item string) (string, string) {
	q, err := timeline.ParseQuietWindow(item)
	if err != nil {
		return item, ""
	}
	var says []string
	if q.From != "" {
		says = append(says, q.From+" to "+q.To)
	}
	if q.Song != "" {
		in := "in " + s.Named("song", q.Song)
		if q.Section != "" {
			in += ", section " + q.Section
		}
		says = append(says, in)
	}
	for _, f := range q.Families {
		says = append(says, "no "+string(f))
	}
	return fmt.Sprintf("%q", q.Name), strings.Join(says, ", ")
}

func distanceWords(s *timeline.Show, item string) (string, string) {
	d, err := timeline.ParseDistance(item)
	if err != nil {
		return item, ""
	}
	return s.DistanceAsked(d), ""
}

func permitWords(_ *timeline.Show, item string) (string, string) {
	p, err := timeline.ParsePermit(item)
	if err != nil {
		return item, ""
	}
	most := ""
	if p.NEC > 0 {
		most = "at most " + field.FormatNumber(p.NEC) + " g NEC"
	}
	return fmt.Sprintf("%q", p.Name), wording.JoinGiven(", ", wording.Prefixed("number ", p.Number), wording.Prefixed("by ", p.By), wording.Prefixed("until ", p.Until), most)
}

// listSaid says which items a list has gained and lost, in words where there are some.
func listSaid(a, b *timeline.Show, kind, name string, before, after []string) string {
	w, known := inWords[kind+"."+name]
	if !known {
		return name + listWords(before, after)
	}
	type told struct{ name, says string }
	tell := func(s *timeline.Show, items []string) (list []told) {
		for _, i := range items {
			t := told{}
			t.name, t.says = w.of(s, i)
			list = append(list, t)
		}
		return list
	}
	was, is := tell(a, before), tell(b, after)
	noun := ""
	if w.noun != "" {
		noun = w.noun + " "
	}
	var words []string
	for _, t := range was {
		if slices.Contains(is, t) {
			continue
		}
		if i := slices.IndexFunc(is, func(o told) bool { return o.name == t.name && !slices.Contains(was, o) }); i >= 0 {
			words = append(words, noun+t.name+" now "+cmp.Or(is[i].says, "as its name alone")+" (was "+cmp.Or(t.says, "its name alone")+")")
			continue
		}
		words = append(words, noun+t.name+" gone")
	}
	for _, t := range is {
		if !slices.Contains(was, t) && !slices.ContainsFunc(was, func(o told) bool { return o.name == t.name && !slices.Contains(is, o) }) {
			words = append(words, strings.TrimSpace(noun+t.name+" added "+t.says))
		}
	}
	if len(words) == 0 {
		return name + listWords(before, after) // in another order, or twice
	}
	return strings.Join(words, ", ")
}
