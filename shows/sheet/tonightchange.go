package sheet

import (
	"cmp"
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// NightChange is one thing that a night does otherwise than the tour. Those
// that change what is played are the cut list that somebody signs.
type NightChange struct {
	What   string `json:"what"` // "cut", "swap", "rig" or "shift"
	Text   string `json:"text"`
	Cues   int    `json:"cues"` // it touches by itself, all songs of the set together
	Reason string `json:"reason"`
}

// NewNightChanges gives what a night does otherwise than the tour that an older
// plan of it does not, or not for the same reason.
func NewNightChanges(was, is *timeline.Plan) []NightChange {
	old := changesOf(was)
	return slices.DeleteFunc(changesOf(is), func(c NightChange) bool {
		return slices.ContainsFunc(old, func(o NightChange) bool { return o.Text == c.Text && o.Reason == c.Reason })
	})
}

func changesOf(p *timeline.Plan) []NightChange {
	list := []NightChange{}
	for _, i := range operation.NightItems(p.Show, p.Night) {
		if i.Op.Plays {
			list = append(list, NightChange{whatOf(&i), i.Text, cuesTouched(p, &i), i.Why})
		}
	}
	return list
}

// whatOf says in a word what an item of a night is.
func whatOf(i *operation.Item) string {
	if i.List == "rig-changes" {
		return "rig"
	}
	return i.Op.Name
}

// cuesTouched counts the cues that an item of a night touches by itself. A song
// that is moved moves with all of its hits.
func cuesTouched(p *timeline.Plan, i *operation.Item) int {
	if m, ok := i.Args.(*operation.Moving); ok {
		return hitsOf(p, m.Song)
	}
	return touchedAlone(p, i.Alone(p.Night.Set))
}

// touchedAlone counts the cues of a night's set that play otherwise with its one
// change.
func touchedAlone(p *timeline.Plan, with *timeline.Night) int {
	return len(otherwise(timeline.Compile(p.Show, &timeline.Night{Set: with.Set}), timeline.Compile(p.Show, with)))
}

func hitsOf(p *timeline.Plan, song timeline.ID) int {
	for i := range p.Songs {
		if p.Songs[i].Song.ID == song {
			return len(p.Songs[i].Hits())
		}
	}
	return 0
}

// TonightSigner is a line for a signature. Who it is, the show does not know.
type TonightSigner struct {
	Role string `json:"role"`
	Name string `json:"name"` // "" = not given
	For  string `json:"for"`
}

// signersOf lists who signs: the operator, who answers for cuts and for the
// load, and everybody who has accepted a finding.
func signersOf(p *timeline.Plan) []TonightSigner {
	list := []TonightSigner{{Role: "operator", For: "load, arms and this plan"}, {Role: "assistant", For: "load counted"}}
	if p.Night != nil && len(p.Night.Cuts)+len(p.Night.Swaps)+len(p.Night.Rig) > 0 {
		list = append(list, TonightSigner{Role: "production", For: "cuts, swaps and rig changes"})
	}
	venue := TonightSigner{Role: "venue", For: "place and conditions"}
	if p.Venue != nil {
		venue.For = cmp.Or(p.Venue.Name, string(p.Venue.ID)) + ": place and conditions"
	}
	authority := TonightSigner{Role: "authority (AHJ)", For: "conditions and permit"}
	if n := p.Night; n != nil && len(n.Conditions)+len(n.Distances) > 0 {
		authority.For = counted(len(n.Conditions)+len(n.Distances), "condition") + " of the night, and permit"
	}
	list = append(list, venue, authority)
	if p.Night == nil {
		return list
	}
	count := map[string]int{}
	var names []string
	for _, a := range p.Night.Accepted {
		if count[a.By] == 0 {
			names = append(names, a.By)
		}
		count[a.By]++
	}
	for _, name := range names {
		list = append(list, TonightSigner{"accepted findings", name, counted(count[name], "acceptance")})
	}
	return list
}
