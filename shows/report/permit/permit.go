package permit

import (
	"cmp"
	"io"
	"slices"

	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Pack is what an authority is handed: who, where and when, what is on
// site, where it stands and how far from people, how it is controlled, what is
// done when something goes wrong, and what nobody has verified yet. What is not
// given leaves a line to write on. Its fields are those that published permit
// forms ask for (New Hampshire Saf-C 6903.04, Ohio's flame effect plan, New
// York State 405.10).
type Pack struct {
	report.Head
	Draft      []Unverified         `json:"draft"` // while there is one, the pack is a draft
	Fields     []Field              `json:"fields"`
	Used       report.Totals        `json:"totals"`
	Articles   []Article            `json:"articles"`
	Days       []Day                `json:"days"`
	Media      []load.Medium        `json:"media"`
	Transport  Transport            `json:"transport"`
	Points     []FiringPoint        `json:"firing_points"`
	Distances  []Distance           `json:"distances"`
	Heights    []Height             `json:"heights"`
	Compared   Compared             `json:"compared"`
	Songs      []Song               `json:"songs"`
	Control    []Control            `json:"control"`
	Heat       []Heat               `json:"heat"`
	HeatAt     []HeatPlace          `json:"heat_at"`
	Gas        *Gas                 `json:"gas"` // null where no CO2 is used
	RuleSource string               `json:"rule_set_source,omitempty"`
	LeftOut    []string             `json:"rule_set_left_out,omitempty"` // what the rule set says, and its numbers here do not
	Conditions []report.Condition   `json:"conditions"`
	Findings   []PermitFinding      `json:"findings"`
	Elsewhere  int                  `json:"findings_elsewhere"` // open ones of rules that are not about people and place
	Procedures Procedures           `json:"procedures"`
	Changes    []report.NightChange `json:"changes"` // of the night beside the tour
	Sign       []report.Signer      `json:"sign"`

	Plan *timeline.Plan `json:"-"`
}

// NewPack gives the permit pack of a plan. It asks every rule that needs
// no recording.
func NewPack(p *timeline.Plan) (*Pack, error) {
	if err := report.StartsRight(p, report.Filter{}); err != nil {
		return nil, err
	}
	site := p.OnSite()
	k := &Pack{Head: report.HeadOf(p), Used: report.TotalsOn(site), Conditions: report.ConditionsOf(p), Changes: report.ChangesOf(p), Sign: permitSigners(), Plan: p}
	k.Fields = permitFields(p)
	k.Articles, k.Days, k.Media = permitArticles(p, site), permitDays(p, site), load.Media(p)
	k.Transport = permitTransport(p)
	k.Procedures = proceduresOf(p)
	k.Points = firingPoints(p)
	k.Distances = permitDistances(rule.Clearances(p), k.Points)
	k.Heights = permitHeights(p, site)
	k.Compared = comparedIn(k.Distances, k.Heights)
	k.Songs, k.Control = permitSongs(p), permitControl(p, site)
	k.Heat, k.HeatAt, k.Gas = permitHeat(p), permitHeatPlaces(p), permitGas(p)
	if set := rule.RuleSetOf(p.Show, p.Venue); set != nil {
		k.RuleSource, k.LeftOut = ruleSetLine(set), set.LeftOut
	}
	k.Draft = unverified(p, site)
	k.findings(p)
	return k, nil
}

func permitSigners() []report.Signer {
	return []report.Signer{{Role: "operator", For: "this plan, as loaded and as fired"}, {Role: "assistant", For: "articles counted and stored as listed"},
		{Role: "sponsor", For: "event, insurance and times"}, {Role: "venue", For: "place, roof, exits, detectors and ventilation"},
		{Role: "fire watch", For: "posts and extinguishers"}, {Role: "authority (AHJ)", For: "reviewed; conditions as entered"}}
}

// Procedures are a production's own steps.
type Procedures struct {
	Hold      []string `json:"hold"`
	Emergency []string `json:"emergency"`
	Misfire   []string `json:"misfire"`
}

func proceduresOf(p *timeline.Plan) Procedures {
	h := p.Show.Head
	steps := Procedures{Hold: append([]string{}, h.HoldSteps...), Emergency: append([]string{}, h.Emergency...), Misfire: append([]string{}, h.Misfire...)}
	if p.Venue != nil {
		steps.Emergency = append(steps.Emergency, p.Venue.Emergency...)
	}
	return steps
}

// ruleSetLine names a rule set with where it comes from.
func ruleSetLine(set *timeline.RuleSet) string {
	text := rule.EditionOf(set)
	for _, part := range [][2]string{{"superseded by ", set.Newer}, {"mark ", string(set.Mark)}, {"source: ", set.Source}} {
		if part[1] != "" {
			text += ", " + part[0] + part[1]
		}
	}
	return text
}

// PermitFinding is a finding about people and place.
type PermitFinding struct {
	Severity string `json:"severity"`
	Rule     string `json:"rule"`
	Text     string `json:"text"`
	Song     int    `json:"song_number,omitempty"` // 0 = of none
	Accepted string `json:"accepted,omitempty"`    // by whom and why
}

// permitRules are those that an authority asks about: people, place, and what
// could not be looked at. All others stand in the findings.
var permitRules = map[string]bool{"banned": true, "roof": true, "separation": true, "performers": true, "reach": true, "paper-reach": true, "tilted-distance": true, "low-roof": true, "not-measured": true, "tilted-not-measured": true, "not-placed": true,
	"arm-in-clear-zone": true, "quiet": true, "wind": true, "expiry": true, "heat": true,
	"unit-reach": true, "cloth": true, "exit-reach": true, "extinguisher": true,
	"gas-in-room": true, "gas-mean": true, "gas-layer": true, "circuit": true, "not-checked": true, "unknown-rule-set": true, "over-stock": true, "transport-points": true}

func (k *Pack) findings(p *timeline.Plan) {
	k.Findings = []PermitFinding{}
	for _, f := range rule.Check(p, rule.Facts{}) {
		if !permitRules[f.Rule] {
			if f.Accepted == nil {
				k.Elsewhere++
			}
			continue
		}
		line := PermitFinding{Severity: string(f.Severity), Rule: f.Rule, Text: f.Text, Song: f.Number}
		if f.Accepted != nil {
			line.Accepted = f.Accepted.By + ": " + f.Accepted.Reason
		}
		k.Findings = append(k.Findings, line)
	}
	grave := []string{string(rule.Error), string(rule.Warning), string(rule.Note)}
	slices.SortStableFunc(k.Findings, func(a, b PermitFinding) int {
		return cmp.Compare(slices.Index(grave, a.Severity), slices.Index(grave, b.Severity))
	})
}

// Open counts the findings about people and place that nobody has accepted, but
// notes.
func (k *Pack) Open() (n int) {
	for _, f := range k.Findings {
		if f.Accepted == "" && f.Severity != string(rule.Note) {
			n++
		}
	}
	return n
}

// wording.WriteJSON writes the permit pack as one JSON object.
func (k *Pack) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, k) }
