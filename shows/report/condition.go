package report

import (
	"strings"

	"emberbeat/timeline"
)

// Condition is what somebody has demanded, and where it stands.
type Condition struct {
	From string `json:"from"` // "night" or "venue"
	Text string `json:"text"`
}

// ConditionsOf gives what venue, night and authority demand of a plan, each
// with where it comes from.
func ConditionsOf(p *timeline.Plan) []Condition {
	list := []Condition{}
	if p.Night != nil {
		for _, c := range p.Night.Conditions {
			list = append(list, Condition{"night", c})
		}
		list = append(list, distancesAsked("night", p.Show, p.Night.Distances)...)
	}
	if p.Venue != nil {
		for _, c := range p.Venue.Conditions {
			list = append(list, Condition{"venue", c})
		}
		list = append(list, distancesAsked("venue", p.Show, p.Venue.Distances)...)
		for _, q := range p.Venue.Quiet {
			list = append(list, Condition{"venue", "quiet: " + q})
		}
		for _, q := range p.Venue.Windows {
			list = append(list, Condition{"venue", "quiet: " + quietText(p.Show, q)})
		}
	}
	return list
}

// quietText puts a window without effects into words.
func quietText(s *timeline.Show, q timeline.QuietWindow) string {
	when := q.From + " to " + q.To
	if q.Song != "" {
		when = "song " + s.Named("song", q.Song)
		if q.Section != "" {
			when += ", section " + q.Section
		}
	}
	what := "every effect"
	if len(q.Families) > 0 {
		names := make([]string, len(q.Families))
		for i, f := range q.Families {
			names[i] = string(f)
		}
		what = strings.Join(names, ", ")
	}
	return q.Name + ", " + when + ": " + what
}

// distancesAsked puts distances that somebody asks for into words.
func distancesAsked(from string, s *timeline.Show, distances []timeline.Distance) []Condition {
	var list []Condition
	for _, d := range distances {
		list = append(list, Condition{from, s.DistanceAsked(d)})
	}
	return list
}
