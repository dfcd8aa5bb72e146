package sheet

import (
	"cmp"
	"fmt"
	"slices"

	"emberbeat/timeline"
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
	n := p.Night
	if n == nil {
		return list
	}
	alone := func(change func(*timeline.Night)) int { return touchedAlone(p, change) }
	for _, c := range n.Cuts {
		list = append(list, NightChange{"cut", "cut " + chosen(p.Show, c.Selector), alone(func(m *timeline.Night) { m.Cuts = []timeline.Cut{c} }), c.Reason})
	}
	for _, s := range n.Swaps {
		text := fmt.Sprintf("swap %s for %s, same hits", chosen(p.Show, s.Selector), named(p.Show, "article", s.To))
		list = append(list, NightChange{"swap", text, alone(func(m *timeline.Night) { m.Swaps = []timeline.Swap{s} }), s.Reason})
	}
	for _, r := range n.Rig {
		text := fmt.Sprintf("out of the rig: %s %s", r.Kind, named(p.Show, r.Kind, r.ID))
		if !r.Out {
			text = fmt.Sprintf("plugged into %s output %d: %s", driverName(p.Show, r.Unit), r.Output, plugged(p.Show, r))
		}
		list = append(list, NightChange{"rig", text, alone(func(m *timeline.Night) { m.Rig = []timeline.RigChange{r} }), r.Why})
	}
	for _, s := range n.Shifts {
		text := "song " + named(p.Show, "song", s.Song)
		if s.Start != nil {
			text += " starts at " + s.Start.String()
		}
		if s.By != 0 {
			text += fmt.Sprintf(" moved by %s s", s.By)
		}
		list = append(list, NightChange{"shift", text, hitsOf(p, s.Song), ""})
	}
	return list
}

// plugged names what a night plugs in elsewhere: a wire by its effect.
func plugged(s *timeline.Show, r timeline.RigChange) string {
	if r.Kind == "wire" {
		if w, ok := timeline.KindOf("wire").Find(s, "", r.ID).(*timeline.Wire); ok {
			return named(s, "placed", w.Placed)
		}
	}
	return named(s, r.Kind, r.ID)
}

func driverName(s *timeline.Show, id timeline.ID) string {
	if s.Rig.Bank(id) != nil {
		return named(s, "bank", id)
	}
	return named(s, "device", id)
}

// chosen says in words what a cut or swap chooses.
func chosen(s *timeline.Show, sel timeline.Selector) string {
	if sel.What == "family" {
		return "family " + sel.ID
	}
	return sel.What + " " + named(s, sel.What, timeline.ID(sel.ID))
}

// named gives what the crew calls a record: its name in quotes, else its id.
func named(s *timeline.Show, kind string, id timeline.ID) string {
	k := timeline.KindOf(kind)
	if k == nil {
		return string(id)
	}
	songs := []timeline.ID{""}
	if k.InSong {
		songs = songs[:0]
		for _, g := range s.Songs {
			songs = append(songs, g.ID)
		}
	}
	for _, song := range songs {
		if r := k.Find(s, song, id); r != nil {
			if name := k.NameOf(r); name != "" && song != "" {
				return fmt.Sprintf("%q of song %q", name, s.Song(song).FullTitle())
			} else if name != "" {
				return fmt.Sprintf("%q", name)
			}
			break
		}
	}
	return string(id)
}

// touchedAlone counts the cues of the night's set that would play otherwise if
// one change were the only one.
func touchedAlone(p *timeline.Plan, change func(*timeline.Night)) int {
	plain := &timeline.Night{Set: p.Night.Set}
	with := *plain
	change(&with)
	return len(otherwise(timeline.Compile(p.Show, plain), timeline.Compile(p.Show, &with)))
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
