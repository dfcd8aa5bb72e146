package timeline

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline/field"
)

// EditVenue gives the edit that changes one venue. The change is made in a copy
// of its own, and may write into its lists.
func EditVenue(id ID, change func(s *Show, v *Venue) error) Edit {
	return func(d *Draft) error {
		old := d.show.Venue(id)
		if old == nil {
			return fmt.Errorf("venue:%s: there is no such record", id)
		}
		v := *old
		ownLists(&v)
		if err := change(d.show, &v); err != nil {
			return err
		}
		return d.putRead(&v)
	}
}

// NewVenue gives a venue of which nothing is known but its name.
func NewVenue(id ID, name string) Venue {
	v := Venue{Base: Base{ID: id}, Name: name}
	v.defaults()
	return v
}

// Like gives a venue that is like this one in all but its name and the name of
// its file.
func (v *Venue) Like(id ID, name string) Venue {
	c := *KindOf("venue").Clone(v).(*Venue)
	c.ID, c.Name, c.Slug, c.Kept = id, name, "", nil
	return c
}

// AddVenue adds a venue. Its file's name is made of its name where none is
// given.
func AddVenue(v Venue) Edit {
	return func(d *Draft) error {
		switch {
		case d.show.Venue(v.ID) != nil:
			return fmt.Errorf("venue:%s is there already; choose another id, or change that record", v.ID)
		case strings.TrimSpace(v.Name) == "":
			return &ValueError{Kind: "venue", Field: "name", Value: v.Name, Want: "is empty; a new venue needs a name"}
		}
		if v.Slug == "" {
			v.Slug = d.show.FreeSlug(KindOf("venue"), v.Name)
		}
		return d.putRead(&v)
	}
}

// LineInVenue draws an audience line or barrier, in place of one of that name.
func LineInVenue(venue ID, l PlanLine) Edit {
	return EditVenue(venue, func(_ *Show, v *Venue) error {
		switch {
		case strings.TrimSpace(l.Name) == "":
			return &ValueError{Kind: "venue", Field: "audience", Value: l.String(), Want: "has no name; findings and the stage plan call it by one"}
		case l.From == l.To:
			return &ValueError{Kind: "venue", Field: "audience", Value: l.String(), Want: "begins where it ends; a line has two ends"}
		}
		v.Audience = replace(v.Audience, l, func(x PlanLine) bool { return strings.EqualFold(x.Name, l.Name) })
		return nil
	})
}

// PerformerInVenue sets a performer's mark, in place of one of that name in the
// same song.
func PerformerInVenue(venue ID, m PlanMark) Edit {
	return markInVenue(venue, "performers", m, func(v *Venue) *[]PlanMark { return &v.Performers })
}

// ClearInVenue sets a zone that stays clear, in place of one of that name in
// the same song.
func ClearInVenue(venue ID, m PlanMark) Edit {
	return markInVenue(venue, "clear-zones", m, func(v *Venue) *[]PlanMark { return &v.Clear })
}

func markInVenue(venue ID, field string, m PlanMark, list func(*Venue) *[]PlanMark) Edit {
	return EditVenue(venue, func(s *Show, v *Venue) error {
		wrong := func(want string) error {
			return &ValueError{Kind: "venue", Field: field, Value: m.String(), Want: want}
		}
		switch {
		case strings.TrimSpace(m.Name) == "":
			return wrong("has no name; findings and the stage plan call it by one")
		case m.Song != "" && s.Song(m.Song) == nil:
			return wrong("names no song of this show")
		}
		at := list(v)
		*at = replace(*at, m, func(x PlanMark) bool { return strings.EqualFold(x.Name, m.Name) && x.Song == m.Song })
		return nil
	})
}

// BanInVenue bans families, by their names, and articles, by their ids.
func BanInVenue(venue ID, what ...string) Edit {
	return EditVenue(venue, func(s *Show, v *Venue) error {
		for _, w := range what {
			if !slices.Contains(Families(), Family(w)) && s.Stock.Article(ID(w)) == nil {
				return &ValueError{Kind: "venue", Field: "banned", Value: w, Want: "is no article of this show and no family; families: " + field.Listed(Families())}
			}
			v.Banned = replace(v.Banned, w, func(x string) bool { return x == w })
		}
		return nil
	})
}

// AllowInVenue takes families and articles off the ban.
func AllowInVenue(venue ID, what ...string) Edit {
	return EditVenue(venue, func(_ *Show, v *Venue) error {
		for _, w := range what {
			i := slices.Index(v.Banned, w)
			if i < 0 {
				return &ValueError{Kind: "venue", Field: "banned", Value: w, Want: "is not banned here; banned are: " + field.Listed(v.Banned)}
			}
			v.Banned = slices.Delete(v.Banned, i, i+1)
		}
		return nil
	})
}

// QuietInVenue enters a window without effects beside those that are there, for
// what was demanded of other families is not taken back by it; the very same one
// is entered once.
func QuietInVenue(venue ID, q QuietWindow) Edit {
	return EditVenue(venue, func(s *Show, v *Venue) error {
		wrong := func(want string) error {
			return &ValueError{Kind: "venue", Field: "quiet-windows", Value: q.String(), Want: want}
		}
		switch {
		case strings.TrimSpace(q.Name) == "":
			return wrong("has no name; findings and sheets call it by one")
		case q.Song != "" && s.Song(q.Song) == nil:
			return wrong("names no song of this show")
		}
		v.Windows = replace(v.Windows, q, func(x QuietWindow) bool { return x.String() == q.String() })
		return nil
	})
}

// ConditionInVenue enters a condition of the permit, once.
func ConditionInVenue(venue ID, text string) Edit {
	return EditVenue(venue, func(_ *Show, v *Venue) error {
		if text = strings.TrimSpace(text); text == "" {
			return &ValueError{Kind: "venue", Field: "conditions", Value: text, Want: "says nothing; write what was demanded"}
		}
		v.Conditions = replace(v.Conditions, text, func(x string) bool { return x == text })
		return nil
	})
}

// DistanceInVenue enters a distance that the permit asks for, in place of one
// to the same people from the same effects.
func DistanceInVenue(venue ID, asked Distance) Edit {
	return EditVenue(venue, func(s *Show, v *Venue) error {
		if err := asked.fits(s); err != nil {
			return err
		}
		v.Distances = replace(v.Distances, asked, asked.sameScope)
		return nil
	})
}
