package night

import (
	"cmp"
	"io"
	"slices"

	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// ThinShare stands for the share of the rule thin-song: of a song's hits, what
// may be lost before it is called thin.
const ThinShare = -1

// Tonight is what a crew reads before it starts on a night: what is played and
// what is missing of it, what to load, what to swap and close by hand, and who
// signs. Its JSON keys are relied on: they only grow.
type Tonight struct {
	report.Head
	Conditions []report.Condition   `json:"conditions"`
	Songs      []Song               `json:"songs"`
	NotPlayed  []NotPlayed          `json:"not_played"`
	Changes    []report.NightChange `json:"changes"` // cuts, swaps, rig, starts: the list to sign
	Thin       float64              `json:"thin_share"`
	ThinFrom   string               `json:"thin_share_from"` // where it stands, or how well it is known
	Length     wording.Seconds      `json:"length"`          // of the set, of alternatives the longest
	Load       []Bank               `json:"load"`
	Unused     []Unit               `json:"unused"` // stands in the rig and is not commanded
	Used       report.Totals        `json:"totals"`
	Supplies   []load.SupplyLine    `json:"supplies"`
	Arms       []Arm                `json:"arms"`
	Idle       []Arm                `json:"arms_for_nothing"` // raised, and nothing of the device is played meanwhile
	ByHand     []Open               `json:"close_by_hand"`
	Sign       []report.Signer      `json:"sign"`
	Checked    report.Checked       `json:"checked"`
	Standing   *report.Standing     `json:"rules"` // how many were asked, which are off, by whom and why, and what had no data
	Rules      []RuleCount          `json:"findings_by_rule"`
	Prints     []report.PrintState  `json:"prints"`                   // sheets that were printed, and whether they have changed since
	Loaded     []Left               `json:"still_loaded,omitempty"`   // by earlier nights, unfired
	Misfires   []Left               `json:"open_misfires,omitempty"`  // of earlier nights
	Keys       []Key                `json:"operators_plan,omitempty"` // hand cues: paper, nothing drives anything
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
func NewTonight(p *timeline.Plan, found *report.Findings, thin float64, prints []report.PrintState) (*Tonight, error) {
	standing, err := load.NewPlan(p, report.Filter{})
	if err != nil {
		return nil, err
	}
	t := &Tonight{Head: report.HeadOf(p), Thin: thin, Used: standing.Used, Checked: found.Checked, Standing: found.Standing, Conditions: report.ConditionsOf(p), Changes: report.ChangesOf(p),
		Supplies: load.SuppliesOf(p), ByHand: byHand(p), Sign: report.SignersOf(p), Rules: countRules(found), Prints: append([]report.PrintState{}, prints...)}
	t.Loaded, t.Misfires = leftBefore(p)
	t.Keys = keysOf(p)
	t.Arms, t.Idle = armsOf(p)
	t.songs(p)
	t.load(p, standing)
	return t, nil
}

// NeedsAnEye reports whether there is something that somebody must look at.
func (t *Tonight) NeedsAnEye() bool {
	return t.Checked.Errors+t.Checked.Warnings+t.Checked.Notes > t.Checked.Accepted || slices.ContainsFunc(t.Songs, func(s Song) bool {
		return s.Lost > 0 || s.Partly > 0 || s.Thin
	})
}

func countRules(found *report.Findings) []RuleCount {
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

// wording.WriteJSON writes the sheet as one JSON object.
func (t *Tonight) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, t) }
