package timeline

import "slices"

// Touched is what of a plan rests on certain records of the stock: the cues
// that play them and the loads that are made of them.
type Touched struct {
	Cues  []Ref // by song in running order, then by command
	Loads []Ref // placed effects
	Keys  []Ref // hand cues, by key
}

// Touches says what rests on the named articles, device types and bank types:
// cues and placed effects that use an article, or that are driven through a
// device or bank of a type. Other records touch nothing here.
func (p *Plan) Touches(refs []Ref) Touched {
	named := make(map[Ref]bool, len(refs))
	for _, r := range refs {
		named[r] = true
	}
	var t Touched
	units := map[*Unit]bool{}
	for _, u := range p.Units.All {
		if named[Ref{Kind: "article", ID: u.Placed.Article}] || u.Article != nil && named[Ref{Kind: "article", ID: u.Article.ID}] || drivenBy(u, named) {
			t.Loads = append(t.Loads, Ref{Kind: "placed", ID: u.Placed.ID})
		}
		units[u] = drivenBy(u, named)
	}
	for i := range p.Songs {
		seen := map[*Cue]bool{}
		for j := range p.Songs[i].Commands {
			c := &p.Songs[i].Commands[j]
			if !seen[c.Cue] && (units[c.Unit] || named[Ref{Kind: "article", ID: c.Article.ID}]) {
				seen[c.Cue] = true
				t.Cues = append(t.Cues, p.Songs[i].Song.RefOf("cue", c.Cue.ID))
			}
		}
	}
	for i := range p.Keys {
		k := &p.Keys[i]
		if slices.ContainsFunc(k.Uses, func(u HandUse) bool { return units[u.Unit] || named[Ref{Kind: "article", ID: u.Article.ID}] }) {
			t.Keys = append(t.Keys, Ref{Kind: "handcue", ID: k.Cue.ID})
		}
	}
	return t
}

func drivenBy(u *Unit, types map[Ref]bool) bool {
	for _, d := range u.Drives {
		if d.BankType != nil && types[Ref{Kind: "banktype", ID: d.BankType.ID}] || d.DeviceType != nil && types[Ref{Kind: "devicetype", ID: d.DeviceType.ID}] {
			return true
		}
	}
	return false
}
