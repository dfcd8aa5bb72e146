package timeline

import "fmt"

// PhraseOn gives the edit that runs a phrase on the lane, and over the group or
// placed effect, that a user names; "" leaves the phrase's own, or takes the
// lane's target. A lane that is missing is made, aimed at the group. newID
// hands in ids that no record of the kind has in the song.
func (p *Plan) PhraseOn(song ID, lane, group string, ph Phrase, newID func(kind string, song ID) ID) Edit {
	return func(d *Draft) error {
		g := d.show.Song(song)
		if g == nil {
			return fmt.Errorf("the show has no song %q", song)
		}
		target, _, err := p.placed(d, Placing{Target: group})
		if err != nil {
			return err
		}
		if lane != "" {
			l, err := laneFor(d, g, Placing{Lane: lane}, target, "", newID)
			if err != nil {
				return err
			}
			ph.Lane = l.ID
			if ph.Group == "" {
				ph.Group = l.Target
			}
		}
		if target != "" {
			ph.Group = target
		}
		return PutPhrase(song, &ph, func() ID { return newID("cue", song) })(d)
	}
}

// AddGroup gives the edit that makes a group of placed effects in an order.
func AddGroup(id ID, name string, placed []ID, order Order) Edit {
	return func(d *Draft) error {
		for i, one := range placed {
			if d.show.Rig.PlacedEffect(one) == nil {
				return &ValueError{Kind: "group", Field: "members", Value: string(one), Want: "names no placed of this show"}
			}
			for _, before := range placed[:i] {
				if before == one {
					return &ValueError{Kind: "group", Field: "members", Value: d.show.CalledBy(one, "placed"), Want: "is named twice; name it once"}
				}
			}
		}
		members, err := d.show.Rig.Arrange(placed, order)
		if err != nil {
			return err
		}
		if len(members) == 0 {
			return &ValueError{Kind: "group", Field: "members", Value: "", Want: "is empty; name more placed effects, or another order"}
		}
		d.Put("", &Group{Base: Base{ID: id}, Name: name, Members: members})
		return nil
	}
}

// OrderGroup puts the members of a group in an order.
func OrderGroup(id ID, order Order) Edit {
	return func(d *Draft) error {
		old := d.show.Rig.Group(id)
		if old == nil {
			return &ValueError{Kind: "group", Field: "id", Value: string(id), Want: "names no group of this show"}
		}
		g := *old
		var err error
		if g.Members, err = d.show.Rig.Arrange(old.Members, order); err != nil {
			return err
		}
		if len(g.Members) == 0 {
			return &ValueError{Kind: "group", Field: "members", Value: "", Want: "is empty; name another order"}
		}
		d.Put("", &g)
		return nil
	}
}

// RemovePhrases takes phrases out of their songs, with the cues that they made.
func RemovePhrases(phrases ...Ref) Edit {
	return func(d *Draft) error {
		for _, r := range phrases {
			if song := d.show.Song(r.Song); song != nil {
				for _, c := range song.Cues {
					if c.Group != r.ID {
						continue
					}
					if err := d.Remove(Ref{Kind: "cue", Song: r.Song, ID: c.ID}); err != nil {
						return err
					}
				}
			}
			if err := d.Remove(r); err != nil {
				return err
			}
		}
		return nil
	}
}
