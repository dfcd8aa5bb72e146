package report

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
	"emberbeat/timeline/units"
)

// firstWords of the caution; trade practice, in our own words.
const firstWords = "Planning document, not permission to fire. Label, instructions, permit and authority come first"

// CautionLine stands where there is one line for it: below what is printed on a
// terminal, in the help of the verbs, in the window.
const CautionLine = firstWords + "."

// Caution stands on every sheet.
const Caution = firstWords + "; " +
	"only licensed and competent persons load, connect, arm and fire. Values marked C, M or J are unverified."

// CheckedLabel stands before how a plan stands with the rules. It does not count
// for whether a sheet in hand has changed: that is about what is on it.
const CheckedLabel = "checked"

// PlayedLabel stands before how a sheet stands to a show that is over. It does not
// count for whether a sheet in hand has changed, either.
const PlayedLabel = "plan"

// UnitsLabel stands before the units of a sheet that is not in metres.
const UnitsLabel = "units"

// Head is what every sheet says about itself.
type Head struct {
	Show     string `json:"show"`
	Artist   string `json:"artist,omitempty"`
	Set      string `json:"set,omitempty"`
	Night    string `json:"night,omitempty"`
	Date     string `json:"date,omitempty"`
	Venue    string `json:"venue,omitempty"`
	Place    string `json:"place,omitempty"`
	Revision string `json:"revision,omitempty"`
	Played   string `json:"played,omitempty"`   // of a night that is over: whether this is what was commanded
	RuleSet  string `json:"rule_set,omitempty"` // id
	Rate     string `json:"rate"`
	Marks    string `json:"marks,omitempty"` // how well the numbers of the articles used are known
	Shown    string `json:"shown,omitempty"` // what part of it is shown, and in which order; "" = all, as it is played
	Caution  string `json:"caution"`

	RuleSetSaid string       `json:"-"` // by its name, as it is printed
	Told        units.System `json:"-"` // in which figures are worded

	Checked *Standing `json:"checked,omitempty"` // nil where nobody asked the rules
}

// Stands notes in the head how the plan stands with the rules.
func (h *Head) Stands(s *Standing) { h.Checked = s }

// HeadOf gives the head of the sheets of a plan.
func HeadOf(p *timeline.Plan) Head {
	h := Head{Show: p.Show.Head.Title, Artist: p.Show.Head.Artist, Rate: p.Rate.String(), Marks: marksOf(p), Caution: Caution, Told: p.Show.Told()}
	if p.Set != nil {
		h.Set = p.Set.Name
	}
	if n := p.Night; n != nil {
		h.Night, h.Date, h.Revision = n.Name, n.Date, n.Revision
		h.Played = playedOf(p)
	}
	if v := p.Venue; v != nil {
		h.Venue, h.Place, h.RuleSet = v.Name, v.Place, v.RuleSet
		h.RuleSetSaid = ruleSetSaid(p)
	}
	return h
}

// ruleSetSaid names the rule set of a plan's venue; one that nobody knows by what
// the venue says.
func ruleSetSaid(p *timeline.Plan) string {
	if set := rule.RuleSetOf(p.Show, p.Venue); set != nil {
		return p.Called(set)
	}
	if p.Venue.RuleSet == "" {
		return ""
	}
	return fmt.Sprintf("%q, which is not known", p.Venue.RuleSet)
}

// playedOf says of the plan of a night that is over whether it is the one that was
// commanded; "" before its show.
func playedOf(p *timeline.Plan) string {
	switch {
	case p.AsPlayed && p.Night.Revision == "":
		return "as played, no revision given"
	case p.AsPlayed:
		return "as played, revision " + p.Night.Revision
	case p.Show.KeptFor(p.Night.ID) != nil:
		return "as the show is now, and not as the night was played"
	case p.Night.Entered():
		return "as the show is now; how the night was played was not kept"
	}
	return ""
}

// Showing says in the head what part of the plan a sheet shows.
func (h Head) Showing(p *timeline.Plan, f Filter) Head {
	h.Shown = f.Said(p)
	return h
}

// marksOf lists the marks of the articles a plan uses; one without a mark
// counts as common practice.
func marksOf(p *timeline.Plan) string {
	var marks []string
	for _, ps := range p.Songs {
		for i := range ps.Commands {
			m := string(ps.Commands[i].Article.Mark)
			if m == "" {
				m = string(timeline.CommonPractice)
			}
			if !slices.Contains(marks, m) {
				marks = append(marks, m)
			}
		}
	}
	slices.Sort(marks)
	return strings.Join(marks, ", ")
}

// Lines gives the head as pairs of label and text; what the night or venue
// does not give is said, not left out.
func (h Head) Lines() [][2]string {
	list := [][2]string{
		{"show", h.Show}, {"artist", wording.Given(h.Artist)}, {"revision", wording.Given(h.Revision)}, {"night", wording.Given(h.Night)},
		{"date", wording.Given(h.Date)}, {"venue", wording.Given(h.Venue)}, {"set", wording.Given(h.Set)}, {"rule set", wording.Given(h.RuleSetSaid)},
		{"timecode rate", h.Rate}, {"marks used", wording.Given(h.Marks)},
	}
	if h.Told != units.Metres {
		list = append(list, [2]string{UnitsLabel, h.Told.Said()})
	}
	if h.Played != "" {
		list = append(list, [2]string{PlayedLabel, h.Played})
	}
	if h.Shown != "" {
		list = append(list, [2]string{"shown", h.Shown})
	}
	if h.Checked != nil {
		list = append(list, [2]string{CheckedLabel, h.Checked.Text()})
	}
	return append(list, [2]string{"caution", h.Caution})
}

// Line gives the head in one line, for the foot of a picture: what is not given
// is left out.
func (h Head) Line() string {
	var parts []string
	for _, part := range []string{h.Show, h.Night, h.Date, h.Venue, wording.Prefixed("revision ", h.Revision), h.Played, "timecode " + h.Rate,
		"planning document, not permission to fire"} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, " · ")
}
