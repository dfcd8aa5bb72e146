package report

import (
	"maps"
	"slices"
	"strconv"

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
	old := ChangesOf(was)
	return slices.DeleteFunc(ChangesOf(is), func(c NightChange) bool {
		return slices.ContainsFunc(old, func(o NightChange) bool { return o.Text == c.Text && o.Reason == c.Reason })
	})
}

// ChangesOf gives what a plan's night changes beside the tour; of the tour
// nothing.
func ChangesOf(p *timeline.Plan) []NightChange {
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
// that is moved moves with all of its hits, and another version is all of it another.
func cuesTouched(p *timeline.Plan, i *operation.Item) int {
	if m, ok := i.Args.(*operation.Moving); ok {
		return hitsOf(p, m.Song)
	}
	if v, ok := i.Args.(*timeline.TonightsVersion); ok {
		return hitsOf(p, v.Version)
	}
	return touchedAlone(p, i.Alone(p.Night.Set))
}

// touchedAlone counts the cues of a night's set that play otherwise with its one
// change.
func touchedAlone(p *timeline.Plan, with *timeline.Night) int {
	return len(Otherwise(timeline.Compile(p.Show, &timeline.Night{Set: with.Set}), timeline.Compile(p.Show, with)))
}

func hitsOf(p *timeline.Plan, song timeline.ID) int {
	for i := range p.Songs {
		if p.Songs[i].Song.ID == song {
			return len(p.Songs[i].Hits())
		}
	}
	return 0
}

// Signer is a line for a signature. Who it is, the show does not know.
type Signer struct {
	Role string `json:"role"`
	Name string `json:"name"` // "" = not given
	For  string `json:"for"`
}

// SignersOf lists who signs: the operator, who answers for cuts and for the
// load, and everybody who has accepted a finding.
func SignersOf(p *timeline.Plan) []Signer {
	list := []Signer{{Role: "operator", For: "load, arms and this plan"}, {Role: "assistant", For: "load counted"}}
	if p.Night != nil && len(p.Night.Cuts)+len(p.Night.Swaps)+len(p.Night.Rig) > 0 {
		list = append(list, Signer{Role: "production", For: "cuts, swaps and rig changes"})
	}
	venue := Signer{Role: "venue", For: "place and conditions"}
	if p.Venue != nil {
		venue.For = p.Called(p.Venue) + ": place and conditions"
	}
	authority := Signer{Role: "authority (AHJ)", For: "conditions and permit"}
	if n := p.Night; n != nil && len(n.Conditions)+len(n.Distances) > 0 {
		authority.For = timeline.Counted(len(n.Conditions)+len(n.Distances), "condition") + " of the night, and permit"
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
		list = append(list, Signer{"accepted findings", name, timeline.Counted(count[name], "acceptance")})
	}
	return list
}

// cueKey is a cue of a song that a set plays.
type cueKey struct{ song, cue timeline.ID }

// Otherwise gives the cues that two plans do not play alike: on other effects,
// with another article, by other outputs or devices in service, or not at all.
func Otherwise(was, is *timeline.Plan) map[cueKey]bool {
	before, after := played(was), played(is)
	cues := map[cueKey]bool{}
	for key, deeds := range before {
		if !slices.Equal(after[key], deeds) {
			cues[key] = true
		}
	}
	for key := range after {
		if _, ok := before[key]; !ok {
			cues[key] = true
		}
	}
	return cues
}

// played gives, by song whichever version of it is played, what each cue plays: effect, article and the outputs in service
// that drive it, by effect; of an arm window, its devices in service.
func played(p *timeline.Plan) map[cueKey][]string {
	m := map[cueKey][]string{}
	live := LiveOutputs(p.Units)
	for i := range p.Songs {
		ps := &p.Songs[i]
		song, version := p.Show.Versions(ps.Song.ID)[0].ID, ""
		if song != ps.Song.ID {
			version = string(ps.Song.ID) + " "
		}
		for k := range ps.Commands {
			c := &ps.Commands[k]
			key := cueKey{song, c.Cue.ID}
			m[key] = append(m[key], version+string(c.Unit.Placed.ID)+" "+string(c.Article.ID)+live[c.Unit])
		}
		for k := range ps.Asked {
			w := &ps.Asked[k]
			key := cueKey{song, w.Cue.ID}
			m[key] = append(m[key], version+WindowDevice(p.Night, w))
		}
	}
	for list := range maps.Values(m) {
		slices.Sort(list)
	}
	return m
}

// LiveOutputs gives of each effect the outputs in service that drive it, each
// after a space.
func LiveOutputs(units *timeline.Units) map[*timeline.Unit]string {
	all := make(map[*timeline.Unit]string, len(units.All))
	for _, u := range units.All {
		text := ""
		for _, d := range u.Drives {
			if !d.Dead {
				text += " " + string(d.Wire.Driver) + "." + strconv.Itoa(d.Wire.Output)
			}
		}
		all[u] = text
	}
	return all
}

// WindowDevice names the device of an arm window; "" where it is out of service
// or out of the night's rig.
func WindowDevice(night *timeline.Night, w *timeline.Window) string {
	if w.Device.Dead || night.TakesOut("device", w.Device.ID) {
		return ""
	}
	return string(w.Device.ID)
}
