package sheet

import (
	"cmp"
	"io"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// ThinShare stands for the share of the rule thin-song: of a song's hits, what
// may be lost before it is called thin.
const ThinShare = -1

// Tonight is what a crew reads before it starts on a night: what is played and
// what is missing of it, what to load, what to swap and close by hand, and who
// signs. Its JSON keys are relied on: they only grow.
type Tonight struct {
	Head
	Conditions []Condition     `json:"conditions"`
	Songs      []TonightSong   `json:"songs"`
	NotPlayed  []NotPlayed     `json:"not_played"`
	Changes    []NightChange   `json:"changes"` // cuts, swaps, rig, starts: the list to sign
	Thin       float64         `json:"thin_share"`
	ThinFrom   string          `json:"thin_share_from"` // where it stands, or how well it is known
	Length     Seconds         `json:"length"`          // of the set, of alternatives the longest
	Load       []TonightBank   `json:"load"`
	Unused     []TonightUnit   `json:"unused"` // stands in the rig and is not commanded
	Used       Totals          `json:"totals"`
	Supplies   []TonightSupply `json:"supplies"`
	Arms       []TonightArm    `json:"arms"`
	Idle       []TonightArm    `json:"arms_for_nothing"` // raised, and nothing of the device is played meanwhile
	ByHand     []TonightOpen   `json:"close_by_hand"`
	Sign       []TonightSigner `json:"sign"`
	Checked    Checked         `json:"checked"`
	Rules      []RuleCount     `json:"findings_by_rule"`
	Prints     []PrintState    `json:"prints"`                   // sheets that were printed, and whether they have changed since
	Loaded     []TonightLeft   `json:"still_loaded,omitempty"`   // by earlier nights, unfired
	Misfires   []TonightLeft   `json:"open_misfires,omitempty"`  // of earlier nights
	Keys       []TonightKey    `json:"operators_plan,omitempty"` // hand cues: paper, nothing drives anything
}

// Condition is what somebody has demanded, and where it stands.
type Condition struct {
	From string `json:"from"` // "night" or "venue"
	Text string `json:"text"`
}

// NotPlayed is a song of the running order that is not played.
type NotPlayed struct {
	Song  string `json:"song"`
	Title string `json:"title"`
	Why   string `json:"why"`
}

// RuleCount is how often a rule has found something.
type RuleCount struct {
	Rule     string `json:"rule"`
	Found    int    `json:"found"`
	Accepted int    `json:"accepted"`
}

// NewTonight gives the sheet of a plan. The findings are those of the same plan,
// with no filter. A song is thin when more than the share thin of its hits is
// lost; ThinShare is what the rule thin-song has. Who can make pages says which
// sheets were printed and how they stand to that.
func NewTonight(p *timeline.Plan, found *Findings, thin float64, prints []PrintState) (*Tonight, error) {
	load, err := NewLoadPlan(p, Filter{})
	if err != nil {
		return nil, err
	}
	t := &Tonight{Head: HeadOf(p), Thin: thin, Used: load.Used, Checked: found.Checked, Conditions: conditionsOf(p), Changes: changesOf(p),
		Supplies: suppliesOf(p), ByHand: byHand(p), Sign: signersOf(p), Rules: countRules(found), Prints: append([]PrintState{}, prints...)}
	t.Loaded, t.Misfires = leftBefore(p)
	t.Keys = keysOf(p)
	t.Arms, t.Idle = armsOf(p)
	t.songs(p)
	t.load(p, load)
	return t, nil
}

// NeedsAnEye reports whether there is something that somebody must look at.
func (t *Tonight) NeedsAnEye() bool {
	return t.Checked.Errors+t.Checked.Warnings+t.Checked.Notes > t.Checked.Accepted || slices.ContainsFunc(t.Songs, func(s TonightSong) bool {
		return s.Lost > 0 || s.Partly > 0 || s.Thin
	})
}

func conditionsOf(p *timeline.Plan) []Condition {
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

func countRules(found *Findings) []RuleCount {
	list := []RuleCount{}
	for i := range found.List {
		f := &found.List[i]
		k := slices.IndexFunc(list, func(c RuleCount) bool { return c.Rule == f.Rule })
		if k < 0 {
			k = len(list)
			list = append(list, RuleCount{Rule: f.Rule})
		}
		list[k].Found++
		if f.Accepted != nil {
			list[k].Accepted++
		}
	}
	slices.SortFunc(list, func(a, b RuleCount) int { return cmp.Compare(a.Rule, b.Rule) })
	return list
}

// WriteJSON writes the sheet as one JSON object.
func (t *Tonight) WriteJSON(w io.Writer) error { return WriteJSON(w, t) }

func plainNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
